// Short messages that may offer an act, such as undoing what was just done. A standing notice describes a state: it stays on every place of
// the page until that state ends.

import { find, make, patch, say, stamp } from "./dom.js";

const STAYS = 8000; // milliseconds; a notice with an act stays until it is dismissed

export function notices() {
  const container = find("#notices");
  let shown = [];
  let next = 0;
  const redraw = () => patch(container, shown, (notice) => notice.key, noticeView);
  const keep = (wanted) => {
    shown = shown.filter(wanted);
    redraw();
  };
  const drop = (key) => keep((notice) => notice.key !== key);

  function noticeView(key) {
    const element = stamp("t-notice");
    const notice = shown.find((one) => one.key === key);
    const dismiss = element.querySelector(".dismiss");
    for (const act of notice.acts) dismiss.before(actButton(act, () => notice.standing || drop(key)));
    if (notice.standing && !notice.dismiss) dismiss.remove();
    dismiss.addEventListener("click", () => {
      drop(key);
      notice.dismiss?.();
    });
    return { element, update: (now) => say(element.querySelector("p"), now.text) };
  }

  // `id` lets a later notice of the same kind replace an earlier one.
  function tell(text, { act = null, id = null } = {}) {
    next += 1;
    const key = next;
    shown = [...shown.filter((notice) => id === null || notice.id !== id), { key, text, acts: act === null ? [] : [act], id }];
    redraw();
    if (act === null) setTimeout(() => drop(key), STAYS);
  }

  // A notice that stands until it is dropped by its `id`, or dismissed, which calls `dismiss` where there is one. A further text with the
  // same `id` replaces it.
  tell.stand = (id, text, { acts = [], dismiss = null } = {}) => {
    const known = shown.find((notice) => notice.id === id && notice.standing);
    if (known) known.text = text;
    else {
      next += 1;
      shown = [{ key: next, text, acts, id, dismiss, standing: true }, ...shown];
    }
    redraw();
  };

  // A notice about an act is out of date once the next act is done.
  tell.drop = (id) => keep((notice) => notice.id !== id);

  // On another place of the page, a notice would only be in the way.
  tell.clear = () => keep((notice) => notice.standing);
  return tell;
}

function actButton({ label, do: act }, before) {
  const button = make("button", label, "act");
  button.type = "button";
  button.addEventListener("click", () => {
    before();
    act();
  });
  return button;
}
