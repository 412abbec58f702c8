// A link whose fragment is the whole job, and its code to be photographed. Nothing is sent anywhere.

import { drawingOf, find, make, show } from "./dom.js";
import { MARK, packed } from "../state/share.js";

export function shareDialog(actions) {
  const dialog = find("#share-dialog");
  const link = find("#share-link");
  show(find("#share-send"), "share" in navigator);
  find("#menu-share").addEventListener("click", async () => {
    find("#menu-dialog").close();
    const { job } = actions.sent();
    link.value = `${location.href.split("#")[0]}#${MARK}${await packed(job)}`;
    find("#share-code").replaceChildren(make("p", "Making the code …", "about"));
    dialog.showModal();
    find("#share-code").replaceChildren(await code(link.value));
  });
  find("#share-copy").addEventListener("click", async () => {
    link.select();
    try {
      await navigator.clipboard.writeText(link.value);
      actions.tell("The link is copied.");
      dialog.close();
    } catch {
      actions.tell("This browser does not let the page copy; the link is marked, copy it by hand.");
    }
  });
  find("#share-send").addEventListener("click", () => navigator.share({ title: actions.piece().job.piece, url: link.value }).catch(() => {}));

  async function code(text) {
    try {
      return drawingOf((await actions.call("qr", { text })).svg);
    } catch (error) {
      return make("p", error.message, "about");
    }
  }
}
