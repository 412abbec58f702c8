// Parts from a table, with a preview that says which column is taken for what.

import { find, make, table } from "./dom.js";

export function csvDialog(actions) {
  const dialog = find("#csv-dialog");
  const text = find("#csv-text");
  const preview = find("#csv-preview");
  let rows = [];
  let asked = 0;
  find("#open-csv").addEventListener("click", () => dialog.showModal());
  find("#csv-file").addEventListener("change", async ({ target }) => {
    const [file] = target.files;
    if (!file) return;
    text.value = await file.text();
    target.value = "";
    read();
  });
  text.addEventListener("input", read);
  find("#csv-take").addEventListener("click", () => {
    actions.change(null, ({ job }) => job.parts.push(...rows.map(bare)));
    actions.tell(`${rows.length} ${rows.length === 1 ? "part" : "parts"} added.`);
    text.value = "";
    read();
    dialog.close();
  });

  async function read() {
    const now = (asked += 1);
    const reply = text.value.trim() === "" ? { columns: [], rows: [], faults: [] } : await actions.call("read_csv", { text: text.value, what: "parts", job: actions.sent().job });
    if (now !== asked) return;
    rows = reply.faults.length === 0 ? reply.rows : [];
    preview.replaceChildren(...faultLines(reply.faults), ...(reply.columns.length ? [columnTable(reply), rowTable(reply.rows)] : []));
    find("#csv-take").disabled = rows.length === 0;
    find("#csv-take").textContent = rows.length > 0 ? `Add these ${rows.length} parts` : "Add these parts";
  }
}

const bare = (row) => Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null));
const faultLines = (faults) => faults.map((fault) => make("p", fault.text ?? fault.message, "fault"));

function columnTable({ columns }) {
  return grid("Columns", ["Heading", "Taken for"], columns.map((column) => [column.heading, column.taken_for ?? "left out"]));
}

function rowTable(rows) {
  const names = ["label", "section", "length", "quantity", "ends"];
  return grid("Rows", ["Part", "Section", "Length", "Quantity", "Ends"], rows.slice(0, 8).map((row) => names.map((name) => row[name])));
}

function grid(title, heads, rows) {
  const element = make("table");
  element.append(make("caption", title));
  const head = element.appendChild(make("thead")).appendChild(make("tr"));
  for (const text of heads) {
    const cell = head.appendChild(make("th", text));
    cell.scope = "col";
  }
  table(element.appendChild(make("tbody")), rows);
  return element;
}
