// Every part of the page, made once. Each gets the page's acts and hands back a function that shows a scene, or nothing.
// The scene of the start may be shown soon, which is in part: the rest of it follows as soon as the engine is there.

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

// What is seen first on a phone, and the rest.
const FIRST = [jobFaults, pieceFields, setOutList, partList, workBanner, exampleBanner, places];
const REST = [
  cuttingList, quantities, ruleFields, sectionList, shedList, sawFields, outcome, staleLines, planDrawing, buyingList, sawPlace,
  menu, kindsDialog, sizesDialog, csvDialog, shareDialog, piecesDialog, printing, wrongDialog,
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
  const made = (makers) => makers.map((make) => make(actions)).filter(Boolean);
  const [first, rest] = [made(FIRST), made(REST)];
  return (scene, soon = false) => {
    for (const view of soon && scene.place === "piece" ? first : [...first, ...rest]) view(scene);
  };
}
