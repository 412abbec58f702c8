// The dialog that adds a set-out: the kinds there are, each with what it is for.

import { find, patch, say, stamp } from "./dom.js";
import { sectionNames } from "./choices.js";
import { freeName, isSection } from "./set-outs.js";

export function kindsDialog(actions) {
  const dialog = find("#kinds-dialog");
  const openKinds = () => {
    patch(find("#kinds"), actions.kinds(), (kind) => kind.kind, (key) => kindButton(() => add(key)));
    dialog.showModal();
  };

  function add(key) {
    const kind = actions.kinds().find((one) => one.kind === key);
    let row = 0;
    actions.change(null, ({ job }) => {
      const setOut = { name: freeName(job, kind.name), kind: key };
      for (const field of kind.fields.filter((one) => one.needed && isSection(one))) setOut[field.field] = sectionNames(job)[0] ?? "";
      row = job.set_outs.push(setOut) - 1;
    });
    dialog.close();
    actions.acts.showSetOut(row);
  }

  return { acts: { openKinds } };
}

function kindButton(act) {
  const element = stamp("t-kind");
  element.querySelector("button").addEventListener("click", act);
  return {
    element,
    update: (kind) => {
      say(element.querySelector("b"), kind.title);
      say(element.querySelector("span"), kind.about);
    },
  };
}
