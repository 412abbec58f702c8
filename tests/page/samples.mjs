// What a device holds after some work: three pieces of which one is half cut and one finished, a shed, steps to undo.

import { withCode } from "../../www/state/codes.js";
import { Device } from "../../www/state/device.js";
import { addPiece, archivePiece } from "../../www/state/pieces.js";
import { Store } from "../../www/state/store.js";
import { jobToSend } from "../../www/state/job.js";
import * as work from "../../www/state/work.js";
import { Storage } from "./device.mjs";

export const gate = () => ({
  format: "lengthwise-job", version: 1, piece: "Field gate", unit: "mm", decimal: "point", aim: "fewest",
  saw: { kerf: "2.4", keep: "300" }, quantities: { coats: "2" },
  sections: [{ name: "rail 38 x 100", thickness: "38", width: "100", treated: "yes" }],
  yard: [{ section: "rail 38 x 100", length: "3 m", price: "9.80" }, { section: "rail 38 x 100", length: "3600", count: "4" }],
  parts: [{ label: "stile", section: "rail 38 x 100", length: "1250", quantity: "2" }, { label: "brace", section: "rail 38 x 100", length: "2140", quantity: "1", ends: "45; square" }],
  set_outs: [{ name: "Panel", kind: "frame", section: "rail 38 x 100", width: "2700", height: "1100" }],
  shed: [{ mark: "A", section: "rail 38 x 100", length: "1830", bad: "760..840" }, { mark: "B", section: "rail 38 x 100", length: "900", trim: [10, 20] }],
});

const plan = () => ({ boards: [{ yard: 0, parts: [0, 0] }, { shed: 0, parts: [1] }], groups: [{ certificate: { tree: [[1, 2], [3]] } }] });

export function workedOn() {
  const storage = new Storage();
  const store = new Store(new Device(storage));
  store.arrange((all) => addPiece(all, gate()));
  store.change("parts/0/length", ({ job }) => (job.parts[0].length = "1260"));
  store.change(null, (piece) => {
    const { job, rows } = jobToSend(store, piece);
    work.beginWork(piece, { job, plan: plan(), rows });
    const { progress } = work.currentLeg(piece);
    work.setSteps(progress, 0, { steps: [{}, { part_length: "1260" }] }, 2, "K");
    work.bought(progress, 0, "", "3 m of rail", "K");
    work.bought(progress, 0, "3012 mm", "3 m of rail", "L", "400..460");
    piece.says = [
      { id: "s1", kind: "missing", line: { section: "rail 38 x 100", length: "3600" }, count: "4", text: "no more 3600" },
      { id: "s2", kind: "has", line: { section: "rail 38 x 100", length: "3300 mm" }, text: "has 3300 mm" },
      { id: "s3", kind: "measured", mark: "L", text: "L measured 3012 mm" },
    ];
    work.beginWork(piece, { job: structuredClone(job), plan: null, rows: {} });
  });
  store.arrange((all) => addPiece(all, { ...gate(), piece: "Log store", shed: [] }));
  store.change(null, (piece) => (piece.finished = Date.now()));
  store.arrange((all) => addPiece(all, { ...gate(), piece: "Cold frame", shed: [] }));
  store.arrange((all) => (all.piece.uses = [all.shed[1].id]));
  store.arrange((all) => (all.prices = [{ name: "Mill", decimal: "point", terms: { trip: "6" }, rows: [{ section: "rail 38 x 100", length: "3600 mm", price: "4.20 per m" }] }]));
  store.arrange((all) => archivePiece(all, all.pieces[1].id, true));
  store.keepCodes((codes) => withCode(codes, { number: 2, of: 3, whole: "0011aabb" }, "part2=7A-B", 1_700_000_000_000));
  store.change("piece", ({ job }) => (job.piece = "Cold frame, low"));
  store.arrange((all) => all.pieces.forEach((piece, index) => (piece.changed = 1_700_000_000_000 + index)));
  return storage.all();
}
