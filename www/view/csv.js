// Parts from a table, with a preview: what each column is read as, how its numbers are read, and the part that each row becomes. A person
// may correct each of these.

import { find, make, patch, say, show, table } from "./dom.js";
import { makeField } from "./field.js";
import { commonRows, sectionNames } from "./choices.js";
import { fieldsOf } from "./fields.js";
import { readingOf } from "../state/reading.js";
import { addSize, isImperial, makes, sizeFor } from "../state/sizes.js";
import { textOf } from "../state/texts.js";

const SHOWN = 5; // rows that are shown as examples
const FAULTS = 12; // most rows with faults that are listed

const TAKEN_FOR = [
  { value: "", label: "left out" },
  { value: "label", label: "part" },
  { value: "section", label: "section" },
  { value: "length", label: "length" },
  { value: "quantity", label: "quantity" },
  { value: "spares", label: "spares" },
  { value: "ends", label: "ends" },
  { value: "leans", label: "ends lean" },
  { value: "over", label: "left long by" },
  { value: "goes", label: "goes" },
  { value: "from", label: "made from" },
  { value: "face", label: "face" },
  { value: "hand", label: "hand" },
  { value: "ripped", label: "ripped to" },
  { value: "keeps", label: "edge that stays" },
  { value: "bevel", label: "long edges bevelled" },
];
const UNITS = [["mm", "millimetres"], ["cm", "centimetres"], ["m", "metres"], ["in", "inches"], ["ft", "feet"]].map(([value, label]) => ({ value, label }));
const DECIMALS = [{ value: "point", label: "a point: 1.5" }, { value: "comma", label: "a comma: 1,5" }];
const NO_LENGTH = "No column is taken for the length yet: choose it above.";
const MAKE = "… make";
// The fields of the examples, under their labels; those after the first four are shown where a row has something there.
const EXAMPLES = ["label", "quantity", "length", "section", "ends", "leans", "spares", "over", "goes", "from", "face", "hand", "ripped", "keeps", "bevel"]
  .map((field) => fieldsOf("parts").find(({ name }) => name === field));
const ALWAYS = 4;

export function csvDialog(actions) {
  const dialog = find("#csv-dialog");
  const text = find("#csv-text");
  const headed = find("#csv-headed");
  const take = find("#csv-take");
  let said = {}; // what the person says about the table
  let made = new Map(); // sizes that are to be made with the parts, by the names in the table
  let lacked = []; // the sections that the piece lacks: { name, count }
  let reply = null;
  let asked = 0;
  const reads = choiceList(find("#csv-reads"), (name, value) => tell({ [name]: value }));
  const columns = choiceList(find("#csv-columns"), (name, value) => chosen(Number(name), value));
  const sections = choiceList(find("#csv-sections"), (name, given) => placed(lacked[Number(name)].name, given));
  const makeAll = find("#csv-make-all");
  makeAll.addEventListener("click", () => {
    for (const { name, size } of toMake()) made.set(name, size);
    read();
  });
  const openTable = () => {
    dialog.showModal();
    read();
  };
  find("#open-csv").addEventListener("click", openTable);
  find("#csv-file").addEventListener("change", async ({ target }) => {
    const [file] = target.files;
    if (!file) return;
    text.value = await textOf(file);
    target.value = "";
    begin();
  });
  text.addEventListener("input", begin);
  headed.addEventListener("change", () => tell({ headed: headed.checked, columns: undefined }));
  take.addEventListener("click", () => {
    const rows = reply.rows.map(({ part }) => bare(part));
    actions.change(null, ({ job }) => {
      for (const size of made.values()) addSize(job, size);
      job.parts.push(...rows);
    });
    const faulty = reply.rows.some((row) => row.faults.length > 0);
    text.value = "";
    begin();
    dialog.close();
    actions.tell(`${counted(rows.length, "part")} added${faulty ? "; what is wrong is marked at each" : ""}.`, { act: { label: "Undo", do: () => actions.store.undo() } });
  });

  // Another table: corrections of the one before no longer apply.
  function begin() {
    const { sections: led, unit, decimal } = said;
    said = { sections: led, unit, decimal };
    made = new Map();
    read();
  }

  function tell(more) {
    said = { ...said, ...more };
    read();
  }

  // A section that the piece lacks is left as it is, led to one that it has, or made.
  function placed(name, given) {
    made.delete(name);
    if (given === MAKE || given.make) made.set(name, sizeOf(name));
    const { [name]: _, ...others } = said.sections ?? {};
    tell({ sections: made.has(name) || given === "" ? others : { ...others, [name]: given } });
  }

  // The sections that are left as they are and could be made.
  const toMake = () => lacked.filter(({ name, size }) => size !== null && !made.has(name) && !said.sections?.[name]);

  const sizeOf = (name) => sizeFor(commonRows(), name, isImperial(actions.piece().job));

  // A field that two columns are assigned to goes to the one that was chosen last.
  function chosen(index, field) {
    const fields = reply.columns.map((column) => column.taken_for);
    tell({ columns: fields.map((other, at) => (at === index ? field || null : other === field ? null : other)) });
  }

  async function read() {
    const now = (asked += 1);
    const job = structuredClone(actions.sent().job);
    for (const size of made.values()) addSize(job, size);
    const answer = text.value.trim() === "" ? null : await actions.call("read_csv", { text: text.value, job, ...said });
    if (now !== asked) return;
    reply = answer;
    draw(job);
  }

  function draw(job) {
    const rows = reply?.rows ?? [];
    show(find("#csv-preview"), reply !== null);
    show(take, reply !== null);
    take.disabled = rows.length === 0;
    say(take, rows.length === 1 ? "Add this part" : rows.length > 1 ? `Add these ${rows.length} parts` : "Nothing to add yet");
    if (reply === null) return;
    const { unit, decimal } = { ...readingOf(job), ...Object.fromEntries(Object.entries(said).filter(([, value]) => value !== undefined)) };
    headed.checked = reply.headed;
    reads([{ name: "unit", label: "Bare lengths are", choices: UNITS, value: unit }, { name: "decimal", label: "Decimals are written with", choices: DECIMALS, value: decimal }]);
    columns(reply.columns.map((column, index) => ({
      name: String(index), label: column.heading || `Column ${index + 1}`, choices: TAKEN_FOR, value: column.taken_for ?? "", hint: column.sample && `such as ${column.sample}`,
    })));
    show(find("#csv-columns"), reply.columns.length > 0);
    const names = sectionNames(actions.piece().job);
    const counts = new Map(reply.unknown_sections.map(({ name, count }) => [name, count]));
    // Each stays in its place while others are made.
    const before = lacked.map(({ name }) => name).filter((name) => made.has(name) || counts.has(name));
    lacked = [...new Set([...before, ...made.keys(), ...counts.keys()])].map((name) => ({ name, size: sizeOf(name) })).filter(({ size }) => size !== null || names.length > 0);
    show(find("#csv-unknown"), lacked.length > 0);
    const open = toMake().length;
    say(makeAll, `Make ${open === lacked.length ? "all" : "the other"} ${open} sections, in the lengths usually sold`);
    show(makeAll, open > 1);
    sections(lacked.map(({ name, size }, index) => ({
      name: String(index), label: name || "no section", hint: counts.has(name) ? counted(counts.get(name), "part") : "", value: made.has(name) ? MAKE : said.sections?.[name] ?? "",
      choices: [{ value: "", label: "left as it is" }, ...(size ? [{ value: MAKE, label: makes(size) }] : []), ...names.map((value) => ({ value, label: value }))],
      offer: (value) => (size && value === "" ? { make: size, label: makes(size) } : null),
    })));
    const faulty = rows.filter((row) => row.faults.length > 0);
    const missing = reply.columns.length > 0 && reply.columns.every((column) => column.taken_for !== "length");
    linesOf(find("#csv-told"), missing ? [NO_LENGTH] : told(reply, faulty));
    linesOf(find("#csv-faults"), [...(missing ? [] : reply.faults).map((fault) => fault.text ?? fault.message), ...faulty.slice(0, FAULTS).flatMap(faultsOf), ...(faulty.length > FAULTS ? ["…"] : [])]);
    show(find("#csv-rows"), rows.length > 0);
    say(find("#csv-rows caption"), rows.length > SHOWN ? `The first ${SHOWN} of ${rows.length} parts` : "The parts");
    const examples = rows.slice(0, SHOWN).map(({ part }) => part);
    const shown = EXAMPLES.filter(({ name }, at) => at < ALWAYS || examples.some((part) => part[name]));
    const heads = shown.map(({ label }) => label);
    patch(find("#csv-rows thead tr"), heads, (head) => head, columnHead);
    table(find("#csv-rows tbody"), examples.map((part) => shown.map(({ name }) => part[name])), heads);
  }

  return { acts: { openTable } };
}

function columnHead(head) {
  const element = make("th", head);
  element.scope = "col";
  element.setAttribute("role", "columnheader");
  return { element, update: () => {} };
}

const counted = (number, what) => `${number} ${number === 1 ? what : `${what}s`}`;
const bare = (row) => Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null));
const faultsOf = ({ line, faults }) => faults.map(({ field, message }) => `Line ${line}${field && `, ${field}`}: ${message}`);

// What was read from the table as a whole, in words.
function told({ above, without_length: without, rows }, faulty) {
  return [
    above > 0 && (above === 1 ? "The row above the headings is left out." : `The ${above} rows above the headings are left out.`),
    without.length > 0 && `No length, so left out: line ${without.slice(0, FAULTS).join(", ")}${without.length > FAULTS ? " …" : ""}.`,
    faulty.length > 0 && (faulty.length === 1 ? "One part needs mending, here or after it is added:" : `${faulty.length} of ${rows.length} parts need mending, here or after they are added:`),
  ].filter(Boolean);
}

function linesOf(list, texts) {
  patch(list, texts, (_, index) => index, () => {
    const element = make("li");
    return { element, update: (text) => say(element, text) };
  });
  show(list, texts.length > 0);
}

// A block of choices that stay in place while their contents change: [{ name, label, choices, value, hint? }].
function choiceList(container, choose) {
  const keyOf = ({ name, label, hint = "" }) => JSON.stringify([name, label, hint]);
  return (specs) => patch(container, specs, keyOf, (key) => {
    const [name, label, hint] = JSON.parse(key);
    const { offer } = specs.find((spec) => keyOf(spec) === key);
    return makeField({ name, label, hint, choices: [], offer }, (value) => choose(name, value));
  });
}
