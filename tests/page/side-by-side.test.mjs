// Choices side by side: what they depend on, and which of them a piece has.

import assert from "node:assert/strict";
import { test } from "node:test";
import { choicesOf, chosenIn } from "../../www/state/side-by-side.js";

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
