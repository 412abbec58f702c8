// What is seen first on a phone: the Piece. It is shown before the rest of the page is loaded.

import { beginning } from "./beginning.js";
import { jobFaults } from "./faults.js";
import { made } from "./dom.js";
import { partList } from "./parts.js";
import { pieceFields } from "./piece-fields.js";
import { places } from "./places.js";
import { setOutList } from "./set-outs.js";
import { wholePicture } from "./whole.js";
import { workBanner } from "./work-banner.js";

const FIRST = {
  piece: [jobFaults, pieceFields, setOutList, partList],
  "piece plan": [wholePicture],
  "": [workBanner, beginning, places],
};

export const firstViews = (actions) => made(FIRST, actions);
