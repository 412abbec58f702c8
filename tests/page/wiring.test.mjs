// How the page is wired: views call each other only by the acts that they offer by name, and press no button of another view.

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";

const root = new URL("../../www/", import.meta.url);
const scripts = (folder) => readdirSync(new URL(folder, root)).filter((name) => name.endsWith(".js")).map((name) => [`${folder}${name}`, readFileSync(new URL(folder + name, root), "utf8")]);
const all = [...scripts(""), ...scripts("view/"), ...scripts("state/")];

test("nothing is hung on the page from outside", () => {
  for (const [name, text] of all) assert.deepEqual(text.match(/\b(?:actions|page)\.\w+ = /g) ?? [], [], name);
});

test("no view presses a button of another", () => {
  // A link made to be followed once; the enter key in a dialog of one's own; what was held until the page was there.
  const own = { "view/download.js": "link.click()", "view/ask.js": 'find("#ask-yes").click()', "first.js": "target.click()" };
  for (const [name, text] of all) assert.deepEqual(text.replace(own[name] ?? "", "").match(/\S*\.click\(\)/g) ?? [], [], name);
});

test("what a view asks of another is offered by one", () => {
  const offered = all.flatMap(([, text]) => [...text.matchAll(/acts: \{ ([^}]*) \}/g)].flatMap(([, names]) => names.split(", ").map((name) => name.split(":")[0])));
  assert.equal(new Set(offered).size, offered.length);
  const asked = all.flatMap(([, text]) => [...text.matchAll(/actions\.acts\.(\w+)/g)].map(([, name]) => name));
  assert.ok(asked.length > 0);
  for (const name of asked) assert.ok(offered.includes(name), name);
});

test("the state knows no document", () => {
  for (const [name, text] of scripts("state/")) assert.deepEqual(text.match(/\bdocument\./g) ?? [], [], name);
});
