// Every part of the page, made once. Each gets the page's acts and hands back a function that shows a scene, or nothing.

import { askDialog } from "./ask.js";
import { awake } from "./awake.js";
import { buyingList } from "./buying.js";
import { csvDialog } from "./csv.js";
import { planDrawing } from "./drawing.js";
import { exampleBanner } from "./example-banner.js";
import { jobFaults, staleLines } from "./faults.js";
import { kindsDialog } from "./kinds.js";
import { cuttingList, quantities } from "./lists.js";
import { menu } from "./menu.js";
import { notices } from "./notices.js";
import { outcome } from "./outcome.js";
import { partList } from "./parts.js";
import { pieceFields } from "./piece-fields.js";
import { piecesDialog } from "./pieces.js";
import { places } from "./places.js";
import { printing } from "./print.js";
import { ruleFields } from "./rules.js";
import { sawFields } from "./saw-fields.js";
import { sawPlace } from "./saw.js";
import { sectionList } from "./sections.js";
import { setOutList } from "./set-outs.js";
import { shareDialog } from "./share.js";
import { shedList } from "./shed.js";
import { sizesDialog } from "./sizes.js";
import { workBanner } from "./work-banner.js";
import { wrongDialog } from "./wrong.js";

const MAKERS = [
  jobFaults, pieceFields, setOutList, partList, cuttingList, quantities, ruleFields, sectionList, shedList, sawFields,
  outcome, staleLines, planDrawing, buyingList, sawPlace, places, menu, kindsDialog, sizesDialog, csvDialog, shareDialog,
  piecesDialog, printing, wrongDialog, workBanner, exampleBanner,
];

export function allViews(actions) {
  actions.ask = askDialog();
  actions.tell = notices();
  actions.placeChanged = () => {};
  const hold = awake(actions);
  actions.placeChanged = () => {
    actions.tell.clear();
    hold();
    actions.redraw();
  };
  for (const button of document.querySelectorAll("dialog [data-close]")) button.addEventListener("click", () => button.closest("dialog").close());
  document.addEventListener("newversion", () => actions.tell("A newer version is ready; it comes with the next start.", { id: "version", act: { label: "Start now", do: () => location.reload() } }));
  const views = MAKERS.map((make) => make(actions)).filter(Boolean);
  return (scene) => {
    for (const view of views) view(scene);
  };
}
