// Boards drawn as rods: all of the shed at one scale, and the one that is open across its row, to be touched where it is bad.
//
// The engine gives every place on a board in ten thousandths and reads every touch; what is reckoned here are pixels.

import { make, patch, say, show } from "./dom.js";

const SPOTS = 10_000;
const DRAG = 6; // pixels; what moves less is a touch

const percent = (share) => `${share / 100}%`;

// A board of the list: as long as it is of the longest one, as thick as it is wide, with a sliver of its end.
export function rodOf() {
  const element = make("span", "", "rod-room");
  element.setAttribute("aria-hidden", "true");
  const rod = element.appendChild(make("span", "", "shed-rod"));
  const stretches = rod.appendChild(make("span", "", "stretches"));
  const end = rod.appendChild(make("span", "", "rod-end"));
  return {
    element,
    update(drawn, size) {
      show(rod, Boolean(drawn));
      if (!drawn) return;
      Object.assign(rod.style, { width: percent(drawn.long), aspectRatio: `${drawn.long} / ${size?.wide ?? 0}` });
      end.style.width = `max(3px, ${percent(SPOTS * (size?.thick ?? 0) / drawn.long)})`;
      patch(stretches, drawn.bad ?? [], (_, index) => index, badOf);
    },
  };
}

function badOf() {
  const element = make("span", "", "bad");
  return { element, update: ([at, wide]) => Object.assign(element.style, { left: percent(at), width: percent(wide) }) };
}

// The board that is open. `touched(request)` asks the engine and gives its reply, `take(text)` writes the stretches.
export function touchRod(touched, take) {
  const element = make("div", "", "touch-rod");
  const says = make("p", "", "about");
  const rod = make("div", "", "shed-rod");
  const stretches = rod.appendChild(make("div", "", "stretches"));
  const now = rod.appendChild(make("span", "", "bad now"));
  const add = make("button", "Mark a bad stretch");
  element.setAttribute("role", "group");
  says.setAttribute("role", "status");
  add.type = "button";
  const removes = make("div", "", "buttons");
  element.append(rod, says, add, removes);
  show(now, false);

  let begun = null; // the spot of the first of two touches
  let drag = null; // { from, moved } while a finger or the mouse is down
  let asked = 0;
  let bad = null;

  const spotOf = (event) => {
    const box = rod.getBoundingClientRect();
    return Math.round(Math.max(0, Math.min(1, (event.clientX - box.left) / box.width)) * SPOTS);
  };
  const mark = (from, to) => {
    show(now, true);
    Object.assign(now.style, { left: percent(Math.min(from, to)), width: percent(Math.abs(to - from)) });
  };
  const ask = async (request, tell) => {
    const mine = (asked += 1);
    const reply = await touched(request);
    if (mine === asked && reply.bad !== undefined) tell(reply);
  };
  const settle = async (request) => {
    asked += 1;
    begun = null;
    show(now, false);
    const reply = await touched(request);
    if (reply.bad !== undefined) take(reply.bad);
    tellUsual();
    return reply;
  };
  function tellUsual() {
    say(says, bad === null ? "Its length and its bad stretches are to be read before it can be marked." : "Draw along what is bad, or touch where it begins and where it ends.");
  }

  rod.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || bad === null || event.target.closest(".thumb")) return;
    rod.setPointerCapture(event.pointerId);
    drag = { from: spotOf(event), x: event.clientX, moved: false };
  });
  rod.addEventListener("pointermove", (event) => {
    if (drag === null || (!drag.moved && Math.abs(event.clientX - drag.x) < DRAG)) return;
    drag.moved = true;
    const to = spotOf(event);
    mark(drag.from, to);
    ask({ ends: [drag.from, to] }, ({ stretch }) => say(says, `Bad: ${stretch}`));
  });
  rod.addEventListener("pointercancel", () => {
    drag = null;
    show(now, false);
  });
  rod.addEventListener("pointerup", (event) => {
    if (drag === null) return;
    const { from, moved } = drag;
    drag = null;
    const to = spotOf(event);
    if (moved || begun !== null) return void settle({ ends: [moved ? from : begun, to] });
    begun = to;
    mark(to, to);
    ask({ ends: [to, to] }, (reply) => say(says, `Bad from ${reply.from}: now touch where it ends.`));
  });
  // By the keyboard it is marked in the middle, and its ends are moved from there.
  add.addEventListener("click", async () => {
    const before = bad?.length ?? 0;
    await settle({ ends: [SPOTS * 0.48, SPOTS * 0.52] });
    const middle = Math.min(before, stretches.children.length - 1);
    stretches.children[middle]?.querySelector(".thumb")?.focus();
  });

  const stretch = (nth) => {
    const one = make("div", "", "bad");
    const thumbs = [0, 1].map((end) => {
      const thumb = one.appendChild(make("span", "", `thumb thumb-${end}`));
      Object.assign(thumb, { tabIndex: 0, role: "slider" });
      thumb.setAttribute("aria-valuemin", "0");
      thumb.setAttribute("aria-valuemax", String(SPOTS));
      thumb.setAttribute("aria-label", `Bad stretch ${nth + 1} ${end === 0 ? "begins at" : "ends at"}`);
      thumb.addEventListener("keydown", (event) => {
        const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
        const gone = ["Delete", "Backspace"].includes(event.key);
        if (!by && !gone) return;
        event.preventDefault();
        settle({ nth, gone, by: end === 0 ? [by ?? 0, 0] : [0, by ?? 0] }).then(() => gone && add.focus());
      });
      let held = false;
      const ends = (event) => (end === 0 ? [spotOf(event), null] : [null, spotOf(event)]);
      thumb.addEventListener("pointerdown", (event) => {
        thumb.setPointerCapture(event.pointerId);
        held = true;
      });
      thumb.addEventListener("pointermove", (event) => {
        if (held) ask({ nth, ends: ends(event) }, (reply) => say(says, `Bad: ${reply.stretch}`));
      });
      thumb.addEventListener("pointerup", (event) => {
        if (held) settle({ nth, ends: ends(event) });
        held = false;
      });
      return thumb;
    });
    return {
      element: one,
      update: ([at, wide, from, to]) => {
        Object.assign(one.style, { left: percent(at), width: percent(wide) });
        [[at, from], [at + wide, to]].forEach(([spot, text], end) => {
          thumbs[end].setAttribute("aria-valuenow", String(spot));
          thumbs[end].setAttribute("aria-valuetext", text);
        });
      },
    };
  };

  const removeOf = (nth) => {
    const button = make("button", "", "quiet");
    button.type = "button";
    button.addEventListener("click", () => settle({ nth, gone: true, by: [0, 0] }).then(() => add.focus()));
    return { element: button, update: ([, , from, to]) => say(button, `Remove ${from} to ${to}`) };
  };

  return {
    element,
    update(drawn, name) {
      element.setAttribute("aria-label", `Bad stretches of ${name}`);
      bad = drawn?.bad ?? null;
      add.disabled = bad === null;
      patch(stretches, bad ?? [], (_, index) => index, stretch);
      patch(removes, bad ?? [], (_, index) => index, removeOf);
      if (begun === null && drag === null) tellUsual();
    },
  };
}
