// Every view of the page that is not seen first, made once. Each gets the page's acts and returns a function that shows a scene, or
// nothing.

import { awake } from "./awake.js";
import { buyingList } from "./buying.js";
import { csvDialog } from "./csv.js";
import { made } from "./dom.js";
import { planDrawing } from "./drawing.js";
import { staleLines } from "./faults.js";
import { keptNotices } from "./kept.js";
import { kindsDialog } from "./kinds.js";
import { cuttingList, quantities } from "./lists.js";
import { leadLines } from "./leads.js";
import { menu } from "./menu.js";
import { outcome } from "./outcome.js";
import { piecesDialog } from "./pieces.js";
import { printing } from "./print.js";
import { ruleFields } from "./rules.js";
import { sawFields } from "./saw-fields.js";
import { sawPlace } from "./saw.js";
import { savingsList } from "./savings.js";
import { choiceStrip } from "./side-by-side.js";
import { sectionList } from "./sections.js";
import { yardList } from "./yards.js";
import { priceLists } from "./price-lists.js";
import { shareDialog } from "./share.js";
import { shedList } from "./shed.js";
import { sizesDialog } from "./sizes.js";
import { wrongDialog } from "./wrong.js";

const REST = {
  "": [outcome, awake, menu, keptNotices, kindsDialog, sizesDialog, csvDialog, shareDialog, piecesDialog, printing, wrongDialog],
  piece: [cuttingList, quantities, ruleFields],
  timber: [sectionList, yardList, priceLists, shedList, sawFields],
  plan: [buyingList, choiceStrip, savingsList, planDrawing, leadLines],
  "plan saw": [staleLines],
  saw: [sawPlace],
};

export function otherViews(actions) {
  for (const button of document.querySelectorAll("dialog [data-close]")) button.addEventListener("click", () => button.closest("dialog").close());
  document.addEventListener("newversion", () => actions.tell("A newer version is ready; it comes with the next start.", { id: "version", act: { label: "Start now", do: () => location.reload() } }));
  return made(REST, actions);
}
