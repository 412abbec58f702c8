// What is typed outside a piece gets its unit once its field is left.

import assert from "node:assert/strict";
import { test } from "node:test";
import { Units } from "../../www/units.js";

test("a board of the shed is let be while one of its fields is in use", async () => {
  const board = { id: "a", row: { mark: "1T", section: "rail", length: "900", bad: "600-7" }, typed: { unit: "mm", decimal: "point" } };
  const store = { shed: [board], pieces: [] };
  let asked = 0;
  const call = async (_, { boards }) => {
    asked += 1;
    return { rows: boards.map(({ row }) => ({ ...row, length: "900 mm" })) };
  };
  const units = new Units({ store, piece: () => ({ job: {} }), call, arrange: (act) => act(store) });
  const focus = (inShed) => (globalThis.document = { activeElement: { closest: () => (inShed ? {} : null) } });
  focus(true);
  await units.settleShed();
  assert.deepEqual([asked, board.row.bad], [0, "600-7"]);
  focus(false);
  await units.settleShed();
  assert.equal(asked, 1);
});
