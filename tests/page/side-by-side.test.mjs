// Choices side by side: what they depend on, and which of them a piece has.

import assert from "node:assert/strict";
import { test } from "node:test";
import { aimsOf, choicesOf, chosenIn, comesTo } from "../../www/state/side-by-side.js";

const job = { aim: "fewest", sections: [{ name: "post" }, { name: "rail", allowed: "5", allowed_timber: "9 m" }] };

test("choices depend on all of a job but what may be bought", () => {
  const without = { aim: "fewest", sections: [{ name: "post", allowed: "2" }, { name: "rail" }] };
  assert.equal(choicesOf(job), choicesOf(without));
  assert.notEqual(choicesOf(job), choicesOf({ ...job, aim: "cheapest" }));
  assert.notEqual(choicesOf(job), choicesOf({ ...job, sections: [{ name: "post" }, { name: "rails" }] }));
  assert.equal(job.sections[1].allowed, "5");
});

test("a piece has the choice whose fields are all as it writes them, whatever rows were not planned", () => {
  const edits = (lengths, timber) => [["allowed", lengths], ["allowed_timber", timber]].map(([field, text]) => ({ list: "sections", row: 1, field, text }));
  const found = [{ edits: edits("", "") }, { edits: edits("5", "") }, { edits: edits("5", "9 m") }];
  assert.equal(chosenIn(found, job), 2);
  assert.equal(chosenIn(found.slice(0, 2), job), -1);
  assert.equal(chosenIn(found, { sections: [{}, ...job.sections] }, { sections: [1, 2] }), 2);
  assert.equal(chosenIn(found, { sections: [{}, {}, {}] }, { sections: [1, 2] }), 0);
});

test("what an aim comes to is said in figures, or why it is not known", () => {
  const report = { buying: { totals: { count: 1, cost: "5.00", total_length: "2.4 m" } }, scrap: { length: "90 mm" } };
  const text = (...asked) => comesTo(...asked).text;
  assert.deepEqual(comesTo(report, "offcuts"), { text: "1 length, 5.00, 2.4 m", known: true });
  assert.equal(comesTo({}, "offcuts").known, false);
  assert.equal(text(report, "scrap"), "1 length, 5.00, 2.4 m, 90 mm of scrap");
  const unpriced = { ...report, buying: { totals: { count: 2, cost: "", total_length: "4.8 m" } } };
  assert.equal(text(unpriced, "fewest"), "2 lengths, 4.8 m");
  assert.equal(text(unpriced, "cheapest"), "not known: a price is missing");
  assert.equal(text({ faults: [{ message: "no packs" }] }, "scrap"), "not known: no packs");
  assert.equal(text({ faults: [{ message: "fill it in" }] }, "cheapest"), "not known: a price is missing");
  assert.equal(text({}, "scrap"), "not known: no plan in the time given");
  assert.equal(aimsOf(job), aimsOf({ ...job, aim: "scrap" }));
});
