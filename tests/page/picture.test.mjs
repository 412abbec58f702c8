// How the piece is looked at, which part is lit, and which drawing is shown when replies come late.

import assert from "node:assert/strict";
import { test } from "node:test";
import { Lit } from "../../www/state/lit.js";
import { Drawn, LookedAt } from "../../www/state/look.js";

test("four steps lead round the piece, either way", () => {
  const looked = new LookedAt();
  const round = (way) => [1, 2, 3, 4].map(() => {
    looked.walk(way);
    return looked.look.corner;
  });
  assert.deepEqual(round(1), [1, 2, 3, 0]);
  assert.deepEqual(round(-1), [3, 2, 1, 0]);
});

test("a way of looking that is taken twice is left again, and the corner is kept", () => {
  const looked = new LookedAt();
  looked.walk(1);
  looked.take("apart");
  assert.deepEqual(looked.look, { how: "apart", corner: 1 });
  looked.take("views");
  assert.deepEqual(looked.look, { how: "views" });
  looked.take("views");
  assert.deepEqual(looked.look, { how: "whole", corner: 1 });
});

test("one part is lit, in its own piece alone", () => {
  const lit = new Lit();
  const [gate, shelf] = [{ id: "1" }, { id: "2" }];
  lit.touch(gate, "0/0");
  assert.deepEqual([lit.of(gate), lit.of(shelf)], ["0/0", null]);
  lit.touch(gate, "0/1");
  assert.equal(lit.of(gate), "0/1");
  lit.touch(gate, "0/1");
  assert.equal(lit.of(gate), null);
  lit.touch(gate, "0/1");
  lit.touch(shelf, "0/1");
  assert.deepEqual([lit.of(gate), lit.of(shelf)], [null, "0/1"]);
});

// An engine whose replies are let go one by one. A job is whole where it says so.
function slow() {
  const asked = [];
  const ask = (request) => new Promise((resolve) => asked.push({ request, answer: () => resolve({ looks: [request.job.name], complete: request.job.whole }) }));
  return { asked, ask };
}

const settled = () => new Promise((resolve) => setTimeout(resolve));

test("of all that is typed while a drawing is made only the last is drawn", async () => {
  const { asked, ask } = slow();
  const heard = [];
  const drawn = new Drawn(ask, (now) => heard.push(now.looks[0]));
  for (const name of ["one", "two", "two", "three"]) drawn.want({ id: "1" }, { name, whole: true }, []);
  assert.equal(asked.length, 1);
  asked[0].answer();
  await settled();
  assert.deepEqual(heard, []);
  assert.deepEqual(asked.map((one) => one.request.job.name), ["one", "three"]);
  asked[1].answer();
  await settled();
  assert.deepEqual(heard, ["three"]);
});

test("a job that cannot be drawn in full is drawn as it was before, but never as another piece", async () => {
  const { asked, ask } = slow();
  const heard = [];
  const drawn = new Drawn(ask, ({ looks, held }) => heard.push([looks[0], held]));
  const answer = async () => {
    asked.at(-1).answer();
    await settled();
  };
  drawn.want({ id: "1" }, { name: "good", whole: true }, []);
  await answer();
  drawn.want({ id: "1" }, { name: "faulty", whole: false }, []);
  await answer();
  await answer();
  drawn.want({ id: "2" }, { name: "other", whole: false }, []);
  await answer();
  assert.deepEqual(heard, [["good", false], ["good", true], ["other", false]]);
});
