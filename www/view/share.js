// A link whose fragment is the whole piece, and its QR codes to be photographed: one, or several one after another. Nothing is sent anywhere.

import { drawingOf, find, make, say, show } from "./dom.js";
import { boardsOf, doneIn, toCarry } from "../state/carried.js";
import { reachOf } from "../state/share.js";

export function shareDialog(actions) {
  const dialog = find("#share-dialog");
  const link = find("#share-link");
  const withShed = find("#share-shed");
  const withWork = find("#share-work");
  let asked = 0;
  let codes = [];
  let at = 0; // the code that is shown
  show(find("#share-send"), "share" in navigator);
  find("#menu-share").addEventListener("click", () => {
    find("#menu-dialog").close();
    const reach = reachOf(location.href);
    show(find("#share-all"), reach !== "file");
    show(find("#share-file"), reach === "file");
    show(find("#share-here"), reach === "computer");
    const piece = actions.piece();
    show(withWork.parentElement, Boolean(piece.work));
    say(find("#share-work-label"), `With its progress: ${doneIn(piece)}. The work goes on there at the same cut of the same plan; without it, the piece is planned there from the start.`);
    const boards = boardsFor(piece).length;
    show(withShed.parentElement, boards > 0);
    say(find("#share-shed-label"), `With ${boards === 1 ? "the shed board" : `the ${boards} shed boards`} it may use. Whoever opens it is asked whether to put ${boards === 1 ? "it" : "them"} into the shed there.`);
    withShed.checked = true;
    withWork.checked = true;
    dialog.showModal();
    if (reach !== "file") write();
  });
  withShed.addEventListener("change", write);
  withWork.addEventListener("change", write);
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
  find("#code-before").addEventListener("click", () => showCode(at - 1));
  find("#code-after").addEventListener("click", () => showCode(at + 1));

  const boardsFor = (piece) => boardsOf(actions.store, piece, actions.sent().rows.shed);

  function carried() {
    const piece = actions.piece();
    if (piece.work && withWork.checked) return toCarry(piece, withShed.checked ? boardsFor(piece) : []);
    const { shed, ...rest } = actions.sent().job;
    return withShed.checked && shed.length > 0 ? { ...rest, shed } : rest;
  }

  async function write() {
    const now = (asked += 1);
    say(find("#share-told"), "");
    find("#share-copy").disabled = true;
    find("#share-send").disabled = true;
    find("#share-code").replaceChildren(); // a code that is out of date is photographed by nobody
    show(find("#share-codes"), false);
    const { link: text = "", codes: drawn = [], why } = await actions.call("link", { job: carried(), address: location.href.split("#")[0] });
    if (now !== asked) return;
    link.value = text;
    for (const button of ["#share-copy", "#share-send"]) find(button).disabled = text === "";
    codes = drawn;
    show(find("#share-codes"), codes.length > 1);
    say(find("#share-codes-told"), `This takes ${codes.length} codes. Photograph them in any order; the other device says which are still missing.`);
    if (codes.length > 0) showCode(0);
    else find("#share-code").replaceChildren(make("p", `There is no code: ${why}.${withShed.checked && boardsFor(actions.piece()).length > 0 ? " Or leave the shed boards out." : ""}`, "about"));
  }

  function showCode(which) {
    at = Math.min(Math.max(which, 0), codes.length - 1);
    find("#share-code").replaceChildren(drawingOf(codes[at]));
    say(find("#code-nth"), `Code ${at + 1} of ${codes.length}`);
    find("#code-before").disabled = at === 0;
    find("#code-after").disabled = at === codes.length - 1;
  }
}
