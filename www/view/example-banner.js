// The banner on the example of the first start: what this is, and a button to begin a piece of one's own.

import { find, make, show } from "./dom.js";
import { putExampleAway } from "../state/pieces.js";

export function exampleBanner(actions) {
  const banner = make("div", "", "banner");
  const away = button("Put the example away", async () => {
    const text = "The invented piece and its shed boards are taken off this device.";
    if ((await actions.ask({ title: "Put the example away?", text, yes: "Put it away" })) === null) return;
    const { job } = await actions.call("new");
    actions.arrange((store) => putExampleAway(store, job));
  });
  banner.append(
    make("p", "Lengthwise turns the sizes of a piece into the fewest lengths to buy and a tape reading for every cut. This piece is an invented example: look around in it."),
    button("Start my own piece", () => actions.acts.newPiece()),
    button("Start from a ready one", () => actions.acts.openPieces()),
    away,
  );
  find("#place-piece h1").after(banner);
  return ({ piece }) => show(banner, Boolean(piece.example));
}

function button(text, act) {
  const element = make("button", text);
  element.type = "button";
  element.addEventListener("click", act);
  return element;
}
