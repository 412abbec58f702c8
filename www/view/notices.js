// Short messages that may carry one act, such as undoing what was just done.

import { find, patch, say, show, stamp } from "./dom.js";

const STAYS = 8000; // milliseconds; a notice with an act stays until it is dismissed

export function notices() {
  const container = find("#notices");
  let shown = [];
  let next = 0;
  const redraw = () => patch(container, shown, (notice) => notice.key, noticeView);
  const drop = (key) => {
    shown = shown.filter((notice) => notice.key !== key);
    redraw();
  };

  function noticeView(key) {
    const element = stamp("t-notice");
    const act = element.querySelector(".act");
    const notice = shown.find((one) => one.key === key);
    act.addEventListener("click", () => {
      drop(key);
      notice.act.do();
    });
    element.querySelector(".dismiss").addEventListener("click", () => drop(key));
    return {
      element,
      update: () => {
        say(element.querySelector("p"), notice.text);
        show(act, Boolean(notice.act));
        say(act, notice.act?.label ?? "");
      },
    };
  }

  // `id` lets a later notice of the same kind take the place of an earlier one.
  function tell(text, { act = null, id = null } = {}) {
    next += 1;
    const key = next;
    shown = [...shown.filter((notice) => id === null || notice.id !== id), { key, text, act, id }];
    redraw();
    if (act === null) setTimeout(() => drop(key), STAYS);
  }

  // What was said of an act is past once the next one is done.
  tell.drop = (id) => {
    shown = shown.filter((notice) => notice.id !== id);
    redraw();
  };

  // Elsewhere a notice would only lie in the way.
  tell.clear = () => {
    shown = [];
    redraw();
  };
  return tell;
}
