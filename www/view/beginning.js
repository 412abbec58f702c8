// The first minute: while the example is open, it is shown small as the piece, its boards and what is bought for it, with the ways to begin one's own.

import { draw, drawingOf, find, make, patch, say, show } from "./dom.js";
import { Drawn } from "../state/look.js";
import { putExampleAway } from "../state/pieces.js";

const BOARDS = 16; // most boards that are shown small
const LINES = 7; // most lines of the buying list

// Strokes of the three signs, in a field of 28 by 28.
const SIGNS = {
  sizes: "M5 9H23V25H5ZM5 17H23M5 4H23M5 2V6M23 2V6",
  list: "M10 6H25M10 14H25M10 22H25M4 6H6M4 14H6M4 22H6",
  table: "M3 5H25V23H3ZM3 11H25M3 17H25M11 5V23",
};

export function beginning(actions) {
  const panel = make("section", "", "beginning");
  panel.setAttribute("aria-label", "An example, and how to begin");
  panel.append(make("p", "From the sizes of a piece to the fewest lengths to buy, and a tape reading for every cut. This one is an invented example: look around in it."));
  const trio = panel.appendChild(make("div", "", "trio"));
  const [piece, boards, slip] = [["piece", "The piece"], ["boards", "Its boards"], ["slip", "To buy"]].map(([name, text]) => {
    const tile = trio.appendChild(make("a", "", `tile tile-${name}`));
    tile.href = name === "piece" ? "#piece" : "#plan";
    const small = tile.appendChild(make("div", "", name === "slip" ? "" : "small-drawing drawing"));
    small.setAttribute("aria-hidden", "true");
    tile.append(make("b", text));
    const figure = tile.appendChild(make("small"));
    return { tile, small, figure };
  });
  piece.tile.addEventListener("click", (event) => {
    event.preventDefault();
    find("#whole").scrollIntoView();
  });
  const ways = panel.appendChild(make("div", "", "ways"));
  ways.append(
    way("sizes", "From sizes", "a ready piece, made yours", () => actions.acts.openPieces()),
    way("list", "From a list", "type the parts", async () => {
      await actions.acts.newPiece();
      actions.acts.addPart();
    }),
    way("table", "From a table", "paste it in", async () => {
      await actions.acts.newPiece();
      actions.acts.openTable();
    }),
  );
  const away = panel.appendChild(make("button", "Put the example away", "quiet"));
  away.type = "button";
  away.addEventListener("click", async () => {
    const text = "The invented piece and its shed boards are taken off this device.";
    if ((await actions.ask({ title: "Put the example away?", text, yes: "Put it away" })) === null) return;
    const { job } = await actions.call("new");
    actions.arrange((store) => putExampleAway(store, job));
  });
  find("#place-piece h1").after(panel);

  const drawn = new Drawn((request) => actions.call("picture", request), ({ looks: [[whole]] }) => draw(piece.small, whole?.svg ?? ""));
  let shown = null; // the drawings whose boards are shown

  return (scene) => {
    const { report } = scene;
    show(panel, Boolean(scene.piece.example));
    if (!scene.piece.example || scene.place !== "piece" || !scene.ready) return;
    drawn.want(scene.piece, actions.shown(), [{ how: "whole", corner: 0 }])?.catch(() => {});
    const parts = scene.reading.parts.reduce((sum, part) => sum + Number(part.quantity), 0);
    say(piece.figure, parts > 0 ? `${parts} parts` : "");
    say(boards.figure, report ? `${report.boards.length}` : "");
    say(slip.figure, report ? `${report.buying.totals.count} lengths` : "");
    if (report && shown !== report.drawings) {
      shown = report.drawings;
      boards.small.replaceChildren(...shown.slice(0, BOARDS).map(smallBoard));
    }
    const rows = report?.buying.rows.slice(0, LINES) ?? [];
    patch(slip.small, rows, (row) => row.line, () => {
      const element = make("p");
      return { element, update: (row) => say(element, `${row.count} × ${row.length}`) };
    });
  };
}

function way(sign, title, about, act) {
  const button = make("button");
  button.type = "button";
  const text = make("span");
  text.append(make("b", title), make("small", about));
  button.append(drawingOf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 28 28" aria-hidden="true"><path d="${SIGNS[sign]}" fill="none" stroke="currentColor" stroke-width="2"/></svg>`), text);
  button.addEventListener("click", act);
  return button;
}

// The bar of a board without its tape and its words, a few pixels high.
function smallBoard(svg) {
  const whole = drawingOf(svg);
  const bar = whole.querySelector(".lw-bar");
  const [, , length] = bar.getAttribute("viewBox").split(" ");
  const high = bar.querySelector(".lw-lost").getAttribute("height");
  bar.setAttribute("viewBox", `0 0 ${length} ${high}`);
  for (const [name, value] of [["y", "0"], ["height", "7"]]) bar.setAttribute(name, value);
  whole.setAttribute("height", "9");
  whole.removeAttribute("role");
  whole.replaceChildren(whole.querySelector("style"), bar);
  return whole;
}
