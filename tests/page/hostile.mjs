// Stored states that no page would write, made from a sound one.

const MANY = 40_000;
const nested = (depth) => "[".repeat(depth) + "]".repeat(depth);

// What may stand in the place of any value.
const WRONG = [
  null, true, false, 0, -1, 0.5, 1e308, "", "0", "__proto__", "constructor", "\u0000", "\uffff", "x".repeat(20_000), [], [null], [[]], [[[[1]]]], ["a", "a"],
  {}, { length: 5 }, { toString: null, valueOf: null }, { constructor: 1 }, { id: "a" }, JSON.parse('{"__proto__":{"job":1}}'), JSON.parse(nested(50)),
];

// What may stand in the place of a whole text.
const TEXTS = ["", " ", "null", "true", "0", '"x"', "[]", "{}", "[null]", "{", "undefined", "\uFEFF{}", nested(MANY), `{"pieces":${nested(MANY)}}`, `{"job":${nested(MANY)}}`, "\u0000"];

const NAMES = ["__proto__", "constructor", "toString", "id", "job", "work", "rows", "extra", ""];

// Every place in a value that is not too deep in it, as { owner, key }.
function places(value, found = [], depth = 100) {
  if (typeof value !== "object" || value === null || depth === 0) return found;
  for (const key of Object.keys(value)) {
    found.push({ owner: value, key });
    places(value[key], found, depth - 1);
  }
  return found;
}

const put = (owner, key, value) => Object.defineProperty(owner, key, { value, enumerable: true, configurable: true, writable: true });

const INSIDE = {
  wrong: (chance, { owner, key }) => put(owner, key, structuredClone(chance.of(WRONG))),
  missing: (_, { owner, key }) => (Array.isArray(owner) ? owner.splice(key, 1) : delete owner[key]),
  swapped: (chance, { owner, key }) => {
    const other = chance.of(Object.keys(owner));
    [owner[key], owner[other]] = [owner[other], owner[key]];
  },
  named: (chance, { owner, key }) => put(owner, Array.isArray(owner) ? key : chance.of(NAMES), structuredClone(chance.of(WRONG))),
  doubled: (chance, { owner }) => Array.isArray(owner) && owner.push(structuredClone(chance.of(owner))),
  version: (chance, _, root) => put(root.job ?? root, "version", chance.of([2, 99, "2", "new", -1, [], {}, null])),
};

const OUTSIDE = {
  cut: (chance, texts, name) => (texts[name] = texts[name].slice(0, chance.below(texts[name].length))),
  other: (chance, texts, name) => (texts[name] = chance.of(TEXTS)),
  gone: (_, texts, name) => delete texts[name],
  moved: (chance, texts, name) => {
    const other = chance.of(Object.keys(texts));
    [texts[name], texts[other]] = [texts[other], texts[name]];
  },
  copied: (chance, texts, name) => (texts[`piece/${chance.of(["copy", "__proto__", "", "a/b", "index"])}`] = texts[name]),
  letter: (chance, texts, name) => {
    const at = chance.below(texts[name].length + 1);
    texts[name] = texts[name].slice(0, at) + chance.of(['"', "{", "]", ",", "9", "\\", "\ud800"]) + texts[name].slice(at + 1);
  },
};

// The sound state with one to three things done to it.
export function spoil(chance, sound) {
  const texts = { ...sound };
  for (let times = 1 + chance.below(3); times > 0; times -= 1) {
    const name = chance.of(Object.keys(texts));
    if (name === undefined) break;
    if (chance.below(4) === 0) chance.of(Object.values(OUTSIDE))(chance, texts, name);
    else within(chance, texts, name);
  }
  return texts;
}

function within(chance, texts, name) {
  try {
    const value = JSON.parse(texts[name]);
    const all = places(value);
    if (all.length === 0) return;
    chance.of(Object.values(INSIDE))(chance, chance.of(all), value);
    texts[name] = JSON.stringify(value);
  } catch {
    // It is no value any more, or one too deep to be written; so it stays.
  }
}
