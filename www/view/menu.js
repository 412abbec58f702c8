// Undo and redo, the menu, saving and opening files.

import { find } from "./dom.js";
import { download, fileName } from "./download.js";
import { notices } from "../engine-source.js";
import { everythingFile, jobFile, shedFile, takeFile } from "../state/files.js";
import { textOf } from "../state/texts.js";

export function menu(actions) {
  const dialog = find("#menu-dialog");
  const { store } = actions;
  find("#open-menu").addEventListener("click", () => dialog.showModal());
  // A notice that offers to undo what is undone already would be in the way.
  const back = (act) => {
    for (const id of ["saving", "choice", "work"]) actions.tell.drop(id);
    act();
  };
  const [undo, redo] = [() => back(() => store.undo()), () => back(() => store.redo())];
  find("#undo").addEventListener("click", undo);
  find("#redo").addEventListener("click", redo);
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || document.querySelector("dialog[open]")) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) take(event, undo);
    else if (key === "y" || (key === "z" && event.shiftKey)) take(event, redo);
  });
  const saveTold = async (what) => {
    try {
      await save(what);
    } catch (error) {
      actions.tell(error.message);
    }
  };
  dialog.addEventListener("click", ({ target }) => {
    const what = target.dataset.save;
    if (what === undefined) return;
    dialog.close();
    saveTold(what);
  });
  find("#open-file").addEventListener("change", async ({ target }) => {
    const [file] = target.files;
    if (!file) return;
    const text = await textOf(file);
    target.value = "";
    dialog.close();
    try {
      let told = "";
      actions.arrange(() => (told = takeFile(store, text)));
      actions.tell(`From ${file.name}: ${told}.`);
    } catch (error) {
      actions.tell(`${file.name} was not taken: ${error.message}.`);
    }
  });

  async function save(what) {
    const name = fileName(actions.piece().job.piece);
    if (what === "piece") return download(`${name}.json`, "application/json", jobFile(actions.piece().job, actions.offeredBoards()));
    if (what === "shed") return download("shed.json", "application/json", shedFile(store));
    if (what === "everything") return download("lengthwise.json", "application/json", everythingFile(store));
    if (what === "notices") return download("lengthwise-notices.txt", "text/plain", await notices());
    const table = what.replace("-csv", "");
    const good = actions.desk.good;
    if (good === null && (table === "buying" || table === "saw")) throw new Error("There is no plan to write yet.");
    const job = table === "buying" || table === "saw" ? good.job : actions.sent().job;
    const { text } = await actions.call("write_csv", { job, plan: good?.report.plan, what: table });
    return download(`${name}-${table}.csv`, "text/csv", `\uFEFF${text}`); // the byte-order mark tells spreadsheets that it is UTF-8
  }

  const show = () => {
    find("#undo").disabled = !store.canUndo;
    find("#redo").disabled = !store.canRedo;
  };
  return { show, acts: { save: saveTold } };
}

function take(event, act) {
  event.preventDefault();
  act();
}
