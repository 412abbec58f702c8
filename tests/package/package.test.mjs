// The package for other programs, installed from its packed file as anyone would: its functions against the command line, the examples of its README,
// its types. `cargo verify` says where it is installed (LENGTHWISE_PACKAGE) and which command line it is compared with (LENGTHWISE_PROGRAM).

import assert from "node:assert/strict";
import { execFileSync, spawnSync } from "node:child_process";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { pathToFileURL } from "node:url";

const folder = process.env.LENGTHWISE_PACKAGE;
const program = process.env.LENGTHWISE_PROGRAM;
const installed = join(folder, "node_modules/lengthwise");
const { version, plan, check, sheet, schema, LengthwiseError } = await import(pathToFileURL(join(installed, "node.js")));

const LOOKS = 2000;
const LEGS = {
  format: "lengthwise-job", version: 1, piece: "Legs", sections: [{ name: "batten" }],
  yard: [{ length: "2.4 m", price: "5" }], parts: [{ label: "leg", length: 560, quantity: 8 }],
};

const jobs = ["jobs", "pieces"].flatMap((name) => {
  const files = readdirSync(join("fixtures", name)).filter((file) => file.endsWith(".json"));
  return files.map((file) => [file, JSON.parse(readFileSync(join("fixtures", name, file), "utf8"))]);
});

test("every job of the fixtures has the same answer as on the command line", () => {
  const input = jobs.map(([, job]) => JSON.stringify(job)).join("\n");
  const told = execFileSync(program, ["plan", "--stream", "--looks", String(LOOKS)], { input, maxBuffer: 1 << 28 });
  const lines = told.toString().trimEnd().split("\n");
  assert.equal(lines.length, jobs.length);
  assert.ok(jobs.length > 10);
  for (const [index, [file, job]] of jobs.entries()) {
    const answer = plan(job, { looks: LOOKS });
    assert.deepEqual(answer, JSON.parse(lines[index]), file);
    assert.ok(["proven", "found"].includes(answer.outcome), file);
    const checked = check(job, answer.plan);
    assert.equal(checked.ok, true, file);
  }
});

test("a plan that was changed is found out, and has no sheet", () => {
  const { outcome, bought, plan: made } = plan(LEGS, { looks: LOOKS });
  assert.deepEqual([outcome, bought], ["proven", { lengths: 2, timber: 2 * 2400 * 3200, cost: 1000, to_pay: null }]);
  const { text, drawing, picture, saw } = sheet(LEGS, made);
  assert.match(text, /Buy 2 lengths/);
  assert.match(drawing, /<svg /);
  assert.match(picture, /<svg /);
  assert.equal(saw.trimEnd().split("\n").length > 8, true);
  made.boards[0].runs[0].cuts[0].start += 3200;
  const checked = check(LEGS, made);
  assert.equal(checked.ok, false);
  assert.ok(checked.findings.length > 0);
  assert.throws(() => sheet(LEGS, made), LengthwiseError);
});

test("a plan with sizes chosen within their ranges holds with the job that has the ranges", () => {
  const job = structuredClone(LEGS);
  job.parts[0].length = "600, may be 585 to 620";
  const answer = plan(job, { looks: LOOKS });
  assert.ok(answer.plan.sizes.length === 1);
  assert.equal(check(job, answer.plan).ok, true);
  assert.match(sheet(job, answer.plan).headline, /Buy/);
});

test("what is wrong with a job is in the answer, and what cannot be asked is thrown", () => {
  const job = structuredClone(LEGS);
  job.parts[0].quantity = "eight";
  const answer = plan(job);
  assert.equal(answer.outcome, "faults");
  assert.deepEqual([answer.faults[0].list, answer.faults[0].row, answer.faults[0].field], ["parts", 0, "quantity"]);
  assert.equal(check(job, plan(LEGS).plan).outcome, "faults");
  assert.throws(() => plan(undefined), LengthwiseError);
  assert.throws(() => check(LEGS, {}), LengthwiseError);
  const long = structuredClone(LEGS);
  long.parts[0].length = 5600;
  assert.equal(plan(long).outcome, "impossible");
});

test("its schema and version are those of the command line", () => {
  const told = execFileSync(program, ["schema"], { maxBuffer: 1 << 28 }).toString();
  assert.deepEqual(schema(), JSON.parse(told));
  assert.equal(execFileSync(program, ["--version"]).toString().trim(), `lengthwise ${version}`);
  const about = JSON.parse(readFileSync(join(installed, "package.json"), "utf8"));
  assert.equal(about.version, version);
});

test("the examples of its README print what they say", () => {
  const blocks = [...readFileSync(join(installed, "README.md"), "utf8").matchAll(/```js\n(.*?)```/gs)].map((found) => found[1]);
  assert.equal(blocks.length, 3);
  for (const [index, block] of blocks.entries()) {
    const said = [...block.matchAll(/console\.log\(.*\); \/\/ (.*)$/gm)].map((found) => found[1]);
    assert.ok(said.length > 0);
    const file = join(folder, `example-${index}.js`);
    writeFileSync(file, block);
    const printed = execFileSync(process.execPath, [file], { cwd: folder }).toString().trimEnd().split("\n");
    assert.deepEqual(printed, said);
  }
});

// One run of the compiler, which takes long: where an error is expected and none is found, that is an error.
const TYPED = `import { check, plan, sheet, type Answer, type Job, type Part } from "lengthwise";
const part: Part = { label: "leg", length: "560 mm", quantity: 8 };
const job: Job = { format: "lengthwise-job", version: 1, sections: [{ name: "batten" }], yard: [{ length: 2400 }], parts: [part],
  set_outs: [{ kind: "frame", width: 600, height: 400 }] };
const answer: Answer = plan(job, { looks: 100 });
if (answer.outcome === "proven" || answer.outcome === "found") {
  const lengths: number = answer.bought.lengths;
  const told: string = sheet(job, answer.plan).text + lengths;
  const found = check(job, answer.plan);
  if ("ok" in found) found.findings.push(told);
  // @ts-expect-error: lengths are a number
  answer.bought.lengths.trim();
} else if (answer.outcome === "faults") {
  const field: string = answer.faults[0].field;
  field.trim();
  // @ts-expect-error: a job with faults has no plan
  answer.plan;
}
// @ts-expect-error: a field that a part does not have
export const misspelt: Part = { label: "leg", quantty: 8 };
// @ts-expect-error: a set-out of no kind there is
job.set_outs = [{ kind: "frme", width: 600 }];
// @ts-expect-error: a number is asked for
plan(job, { looks: "many" });
// @ts-expect-error: a job says its format
export const unsaid: Job = { version: 1 };
`;

test("its types hold for a good program and refuse what is wrong", () => {
  writeFileSync(join(folder, "typed.ts"), TYPED);
  const words = ["--noEmit", "--strict", "--module", "nodenext", "--target", "es2022", "--lib", "es2022", "typed.ts"];
  const ended = spawnSync(process.execPath, [join(folder, "node_modules/typescript/bin/tsc"), ...words], { cwd: folder });
  assert.equal(ended.stdout.toString() + ended.stderr.toString(), "");
  assert.equal(ended.status, 0);
});

test("nothing of it names a place of the machine that built it", () => {
  const engine = readFileSync(join(installed, "engine.wasm")).toString("latin1");
  assert.doesNotMatch(engine, /\/home\/|\/root\/|\/tmp\//);
});
