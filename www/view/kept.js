// Notices about what the device does not keep, and about kept texts that cannot be read. Both stay until that is mended, with a way to save
// to a file.

import { find, make, patch, say, show, stamp } from "./dom.js";
import { download, fileName } from "./download.js";

export function keptNotices(actions) {
  const { store } = actions;
  const dialog = find("#aside-dialog");
  let looked = false; // at what is put aside, since the page was opened
  const look = () => {
    find("#menu-dialog").close();
    fill();
    dialog.showModal();
  };
  const saves = [{ label: "Save this piece", do: () => actions.acts.save("piece") }, { label: "Save all", do: () => actions.acts.save("everything") }];
  const asides = { acts: [{ label: "Look at it", do: look }], dismiss: () => (looked = true) };
  find("#menu-aside").addEventListener("click", look);
  dialog.addEventListener("close", () => {
    looked = true;
    actions.redraw();
  });

  function fill() {
    patch(find("#aside-list"), store.aside, (one) => one.name, (name) => asideCard(name));
    show(find("#aside-none"), store.aside.length === 0);
  }

  function asideCard(name) {
    const element = stamp("t-aside");
    const part = (selector) => element.querySelector(selector);
    let one = null;
    part(".save").addEventListener("click", () => download(`put-aside-${fileName(one.of)}.txt`, "text/plain", one.text));
    part(".throw").addEventListener("click", async () => {
      const text = "It is gone for good then, unless it was saved to a file.";
      if ((await actions.ask({ title: `Throw away ${calledOf(one)}?`, text, yes: "Throw it away" })) === null) return;
      store.throwAway(name);
      fill();
    });
    return {
      element,
      update: (now) => {
        one = now;
        say(part(".title"), calledOf(one));
        say(part(".beginning"), one.text.trim().slice(0, BEGINNING) || "nothing but spaces");
      },
    };
  }

  return () => {
    const { troubled, aside } = store;
    if (troubled.length === 0) actions.tell.drop("storage");
    else actions.tell.stand("storage", `Not kept on this device: ${troubled.join(", ")} (${store.trouble}). Save it to a file before this page is closed.`, { acts: saves });
    show(find("#menu-aside"), aside.length > 0);
    say(find("#menu-aside"), `What could not be read (${aside.length}) …`);
    if (aside.length === 0 || looked) actions.tell.drop("aside");
    else actions.tell.stand("aside", `What could not be read here is put aside as it was: ${aside.map(calledOf).join(", ")}. All else is shown.`, asides);
  };
}

const BEGINNING = 160; // letters of a text that are shown

const CALLED = { __proto__: null, index: "the list of pieces", shed: "the shed", history: "the steps to undo", codes: "codes of a piece that came" };

// What a text that is set aside was, in the person's words: a piece by its name, where the name can be found.
function calledOf({ of, text }) {
  const what = CALLED[of.split("/")[0]];
  if (what) return what;
  const name = /"piece":"((?:[^"\\]|\\.){1,60})"/.exec(text)?.[1];
  return name ? `the piece “${name}”` : "a piece";
}
