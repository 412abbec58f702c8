// Faults that are mended elsewhere on the page, each a link to its field.

import { find, make, patch, say, show } from "./dom.js";
import { toGive } from "../state/fault-places.js";

// A list of faults, each a link to its field.
export function faultList(container, kind = "faults") {
  const list = container.appendChild(make("ul", "", `lines to-fields ${kind}`));
  return (told) => {
    patch(list, told, (_, index) => index, () => faultLine());
    show(list, told.length > 0);
  };
}

function faultLine() {
  const element = make("li");
  const link = element.appendChild(make("a"));
  const rest = element.appendChild(make("span"));
  let fault = null;
  link.addEventListener("click", (event) => {
    event.preventDefault();
    showField(fault);
  });
  return {
    element,
    update: (now) => {
      fault = now;
      link.href = `#${fault.goes}`;
      say(link, fault.where || "This piece");
      say(rest, fault.message);
    },
  };
}

// Unfolds what hides a field, and focuses the field.
export async function showField({ place, goes }) {
  if (document.body.dataset.place !== goes) {
    const come = new Promise((resolve) => addEventListener("hashchange", resolve, { once: true }));
    location.hash = goes;
    await come;
  }
  const there = () => [...document.querySelectorAll("[data-place]")].find((one) => one.dataset.place === place);
  // The fields of a folded row are made when it is opened. A field that is only empty has no place of its own.
  const row = there() ?? [...document.querySelectorAll("[data-row]")].find((one) => place.startsWith(`${one.dataset.row}/`));
  row?.unfold?.();
  const field = there() ?? row?.querySelector(`[name="${place.split("/").at(-1)}"]`);
  if (!field) return;
  for (let box = field.closest("details"); box; box = box.parentElement.closest("details")) box.open = true;
  field.closest(".folds")?.unfold?.();
  field.focus();
  field.scrollIntoView({ block: "center" });
}

// On the Piece: faults in the timber, or of the piece as a whole. Faults of fields on the Piece show at the fields themselves.
export function jobFaults() {
  const list = faultList(find("#job-faults"));
  return ({ told }) => list(told.filter((fault) => fault.goes !== "piece" || fault.where === "").slice(0, 5));
}

// On Saw and over the buying list: the notice that the plan is older than what is typed.
export function staleLines() {
  const lists = ["#buying-stale", "#saw-stale"].map((place) => {
    const box = find(place);
    const says = box.appendChild(make("p"));
    return { box, says, list: faultList(box) };
  });
  return ({ stale, told, lacking, report }) => {
    const [give] = lacking;
    const until = told.length > 0 || !give ? "this is put right:" : `you give ${toGive(give)}.`;
    for (const { box, says, list } of lists) {
      show(box, stale && report !== null);
      say(says, `This is the plan from before. What was typed since is not in it until ${until}`);
      list(stale ? told.slice(0, 3) : []);
    }
  };
}
