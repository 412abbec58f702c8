// What may go wrong at the saw: a part is spoiled, or the board is bad from a certain reading on.

import { find, make, show } from "./dom.js";
import { makeField } from "./field.js";
import { makesPart } from "../state/work.js";
import { leftToBuy } from "../state/yard.js";

export function wrongDialog(actions) {
  const dialog = find("#wrong-dialog");
  let at = 0;
  const bad = makeField({ name: "bad_from", label: "Tape reading where the bad stretch begins", keys: "decimal" }, () => {});
  find("#wrong-bad").append(bad.element);
  find("#wrong-bad-take").addEventListener("click", () => {
    const text = bad.input.value.trim();
    if (text === "") return bad.update({ value: "", fault: "read the tape where the good part ends" });
    return actions.worksite.badFrom(at, text).then(() => dialog.close(), (error) => bad.update({ value: text, fault: error.message }));
  });

  find("#wrong-bought-all").addEventListener("click", async () => {
    await actions.worksite.buyAll();
    show(find("#wrong-bought"), false);
  });

  const openWrong = (board, place, { report, leg }) => {
    at = place;
    show(find("#wrong-bought"), leftToBuy(report, leg) > 0);
    bad.update({ value: "", fault: "" });
    find("#wrong-parts").replaceChildren(...board.steps.map((step, index) => ({ step, index })).filter(({ step }) => makesPart(step)).map(({ step, index }) => {
      const button = make("button", `${step.letter ?? ""} ${step.label} at ${step.reading}`.trim());
      button.type = "button";
      button.addEventListener("click", () => {
        dialog.close();
        actions.worksite.spoiled(at, index);
      });
      return button;
    }));
    dialog.showModal();
  };
  return { acts: { openWrong } };
}
