// While a plan is being carried out, Piece and Timber say that changes there do not affect it by themselves.

import { find, make, show } from "./dom.js";
import { isUnreadable } from "../state/work.js";

export function workBanner(actions) {
  const left = button("Plan what is left with this timber", () => actions.worksite.planLeft());
  const banners = ["piece", "timber"].map((place) => {
    const banner = make("div", "", "banner");
    banner.append(make("p", "This piece is being bought and cut. A change here reaches the plan when you ask for it."));
    if (place === "timber") banner.append(left);
    banner.append(button("Forget the ticks and plan afresh", () => actions.acts.planAfresh()));
    find(`#place-${place} h1`).after(banner);
    return banner;
  });
  return (scene) => {
    const { piece } = scene;
    show(left, !isUnreadable(scene));
    for (const banner of banners) show(banner, Boolean(piece.work) && !piece.finished);
  };
}

function button(text, act) {
  const element = make("button", text);
  element.type = "button";
  element.addEventListener("click", act);
  return element;
}
