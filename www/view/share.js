// A link whose fragment is the whole piece, and its QR code to be photographed. Nothing is sent anywhere.

import { drawingOf, find, make, say, show } from "./dom.js";
import { reachOf } from "../state/share.js";

export function shareDialog(actions) {
  const dialog = find("#share-dialog");
  const link = find("#share-link");
  const withShed = find("#share-shed");
  let asked = 0;
  show(find("#share-send"), "share" in navigator);
  find("#menu-share").addEventListener("click", () => {
    find("#menu-dialog").close();
    const reach = reachOf(location.href);
    show(find("#share-all"), reach !== "file");
    show(find("#share-file"), reach === "file");
    show(find("#share-here"), reach === "computer");
    show(find("#share-ticks"), Boolean(actions.piece().work));
    const boards = actions.sent().job.shed.length;
    show(withShed.parentElement, boards > 0);
    say(find("#share-shed-label"), boards === 1 ? "With the shed board it may use" : `With the ${boards} shed boards it may use`);
    withShed.checked = true;
    dialog.showModal();
    if (reach !== "file") write();
  });
  withShed.addEventListener("change", write);
  find("#share-save").addEventListener("click", () => {
    dialog.close();
    actions.acts.save("piece");
  });
  find("#share-copy").addEventListener("click", async () => {
    link.select();
    try {
      await navigator.clipboard.writeText(link.value);
      actions.tell("The link is copied.");
      dialog.close();
    } catch {
      say(find("#share-told"), "This browser does not let the page copy. The link is marked: copy it by hand.");
    }
  });
  find("#share-send").addEventListener("click", () => navigator.share({ title: actions.piece().job.piece, url: link.value }).catch(() => {}));

  async function write() {
    const now = (asked += 1);
    say(find("#share-told"), "");
    find("#share-copy").disabled = true;
    const { shed, ...rest } = actions.sent().job;
    const job = withShed.checked && shed.length > 0 ? { ...rest, shed } : rest;
    const { link: text, svg, why } = await actions.call("link", { job, address: location.href.split("#")[0] });
    if (now !== asked) return;
    link.value = text;
    find("#share-copy").disabled = false;
    const remedy = job.shed ? " Leave the shed boards out, or send the link or the job file." : " Send the link, or the job file.";
    find("#share-code").replaceChildren(svg ? drawingOf(svg) : make("p", why + remedy, "about"));
  }
}
