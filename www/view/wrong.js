// What may go wrong at the saw: a part is spoiled, the board is bad from one reading on, or from one to another, or it is shorter than planned. Readings are taken
// on the piece in hand, from the end that it has now.

import { find, make, say, show } from "./dom.js";
import { makeField } from "./field.js";
import { makesPart } from "../state/work.js";
import { leftToBuy } from "../state/yard.js";

export function wrongDialog(actions) {
  const dialog = find("#wrong-dialog");
  let at = 0;
  const field = (name, label, hint) => makeField({ name, label, hint, keys: "decimal" }, () => {});
  const bad = { from: field("bad_from", "Tape reading where the bad stretch begins"), to: field("bad_to", "Where it ends (empty: at the far end)") };
  const real = { from: field("real_length", "Its length by the tape", "a longer one is cut as planned") };
  const sound = field("sound", "How much of it is sound", "between square ends, for a shorter part; empty for nothing");
  find("#wrong-sound").append(sound.element);
  find("#wrong-bad").append(bad.from.element, bad.to.element);
  find("#wrong-length").append(real.from.element);
  find("#wrong-bad-take").addEventListener("click", () => take(bad, "read the tape where the good part ends"));
  find("#wrong-length-take").addEventListener("click", () => take(real, "read the tape at the far end"));

  async function take(fields, ask) {
    const typed = { from: "", to: "", ...Object.fromEntries(Object.entries(fields).map(([name, one]) => [name, one.input.value.trim()])) };
    const shown = (fault) => Object.entries(fields).forEach(([name, one]) => one.update({ value: typed[name], fault: name === "from" ? fault : "" }));
    if (typed.from === "") return shown(ask);
    try {
      const { fault } = await actions.worksite.inHand(at, typed, fields === real);
      if (fault) return shown(fault);
      await actions.worksite.badFrom(at, typed, fields === real);
      return dialog.close();
    } catch (error) {
      return shown(error.message);
    }
  }

  find("#wrong-bought-all").addEventListener("click", async () => {
    await actions.worksite.buyAll();
    show(find("#wrong-bought"), false);
  });

  async function spoiled(step) {
    const value = sound.input.value.trim();
    if (value !== "") {
      const fault = await actions.worksite.wrongSound(at, step, value).catch((error) => error.message);
      if (fault) return sound.update({ value, fault });
      // Of two touches the first has been taken.
      if (!dialog.open) return undefined;
    }
    dialog.close();
    return actions.worksite.spoiled(at, step, value);
  }

  const openWrong = (board, place, { report, leg }) => {
    at = place;
    show(find("#wrong-bought"), leftToBuy(report, leg) > 0);
    for (const one of [sound, bad.from, bad.to, real.from]) one.update({ value: "", fault: "" });
    const hand = find("#wrong-hand");
    say(hand, "");
    actions.worksite.inHand(at).then(({ piece, length, hooked }) => say(hand, `The ${piece} is ${length} long. Hook the tape on ${hooked}, and read it there.`), (error) => say(hand, error.message));
    find("#wrong-parts").replaceChildren(...board.steps.map((step, index) => ({ step, index })).filter(({ step }) => makesPart(step)).map(({ step, index }) => {
      const button = make("button", `${step.letter ?? ""} ${step.label} at ${step.reading}`.trim());
      button.type = "button";
      button.addEventListener("click", () => spoiled(index));
      return button;
    }));
    dialog.showModal();
  };
  return { acts: { openWrong } };
}
