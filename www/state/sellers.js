// The yards of a piece and their terms. Lines of the yard refer to a yard by its name; where there is one or none they need not.

export const yardsOf = (job) => job.yards ?? [];

// Adds a yard; lines without one are of the first.
export function addYard(job) {
  job.yards = [...yardsOf(job), { name: "" }];
  return job.yards.length - 1;
}

// Writes the name of a yard, and with it in all that refers to it.
export function nameYard(job, row, name) {
  const was = job.yards[row].name ?? "";
  job.yards[row].name = name;
  // What names no yard is of the first.
  for (const line of job.yard) if ((line.yard ?? "") === was && (was !== "" || row === 0)) line.yard = name;
  if (job.buy_at) job.buy_at = job.buy_at.split(";").map((one) => (one.trim() === was.trim() ? name : one.trim())).join("; ");
}

// Removes a yard with the lines that it sells, unless it is the only one.
export function dropYard(job, row) {
  const [gone] = job.yards.splice(row, 1);
  if (job.yards.length === 0) {
    delete job.yards;
    for (const line of job.yard) delete line.yard;
  }
  if (job.buy_at?.split(";").some((one) => one.trim() === gone.name?.trim())) job.buy_at = "";
  return gone;
}

// Whether some lengths are sold in packs.
export const hasPacks = (job) => job.yard.some((line) => String(line.pack ?? "").trim() !== "");
