// Short messages that may carry an act, such as undoing what was just done. A standing one says how things are: it stays, wherever one
// goes, until they are otherwise.

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

  // `id` lets a later notice of the same kind take the place of an earlier one.
  function tell(text, { act = null, id = null } = {}) {
    next += 1;
    const key = next;
    shown = [...shown.filter((notice) => id === null || notice.id !== id), { key, text, acts: act === null ? [] : [act], id }];
    redraw();
    if (act === null) setTimeout(() => drop(key), STAYS);
  }

  // One that stands until it is dropped by its `id`, or dismissed where `dismiss` hears of that. A further text of the same `id` takes its place.
  tell.stand = (id, text, { acts = [], dismiss = null } = {}) => {
    const known = shown.find((notice) => notice.id === id && notice.standing);
    if (known) known.text = text;
    else {
      next += 1;
      shown = [{ key: next, text, acts, id, dismiss, standing: true }, ...shown];
    }
    redraw();
  };

  // What was said of an act is past once the next one is done.
  tell.drop = (id) => keep((notice) => notice.id !== id);

  // Elsewhere a notice would only lie in the way.
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
