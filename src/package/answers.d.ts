/** How long a job may take: `looks` counts how often the search of each group looks up, and the answer is then the same on every machine. */
export interface Limits {
  looks?: number;
  /** Seconds for the whole job, the check of its plan included; 30 where nothing is said. */
  seconds?: number;
}

/** A field of the job that needs mending. */
export interface Fault {
  /** The list in the job, such as `parts`; empty for the job itself. */
  list: string;
  /** The row in the list, from zero. */
  row: number | null;
  /** The field, empty for the whole row. */
  field: string;
  /** What is wrong, and the way out. */
  message: string;
}

/** What a plan buys. */
export interface Bought {
  lengths: number;
  /** In ticks of 1/3200 mm. */
  timber: number;
  /** By the prices alone, in hundredths; null where a price is missing. */
  cost: number | null;
  /** By the terms of the yards, in hundredths; null where none are given. */
  to_pay: number | null;
}

/** A plan file. Lengths are whole ticks of 1/3200 mm; parts, lines of the yard and boards of the shed are indices in the job, from zero. */
export interface Plan {
  format: "lengthwise-plan";
  version: number;
  boards: Board[];
  /** What is claimed of the plan, with the certificates. */
  proofs: unknown[];
}

/** A board that is cut. One of `yard` and `shed` is there. */
export interface Board {
  yard?: number;
  shed?: number;
  runs: Run[];
  [more: string]: unknown;
}

/** A clear stretch of a board. */
export interface Run {
  from: number;
  to: number;
  cuts: Cut[];
}

/** A part as it lies on a board. */
export interface Cut {
  part: number;
  start: number;
  end: number;
  [more: string]: unknown;
}

/**
 * The answer to a job. `proven`: no plan does better, as the checker has shown again; `found`: a plan, not proven in time; `impossible`: there is
 * none; `nothing`: none was found in time; `faults`: the job needs mending; `error`: our error.
 */
export type Answer = { piece: string; headline: string } & (
  | { outcome: "proven" | "found"; bought: Bought; plan: Plan }
  | { outcome: "impossible" | "nothing" | "error"; why: string[] }
  | { outcome: "faults"; faults: Fault[] }
);

/** What the checker finds: `ok`, and what it has shown of the proof; else what does not hold, or what is wrong with the job. */
export type Findings =
  | { ok: boolean; findings: string[]; proof?: string }
  | { outcome: "faults"; headline: string; faults: Fault[] };

/** A plan for people. */
export interface Sheet {
  headline: string;
  /** Buying list, saw sheet and proof. */
  text: string;
  /** The boards, an SVG. */
  drawing: string;
  /** The piece as it stands, an SVG. */
  picture: string;
  /** Every cut with its tape reading, as CSV. */
  saw: string;
}

/** Plans a job. What is wrong with it is told in the answer. It returns when it is done: in a page, call it in a Worker. */
export function plan(job: Job, limits?: Limits): Answer;

/** Works a plan out again from its job alone, and proves its bounds again. */
export function check(job: Job, plan: Plan): Findings;

/** A plan as people read it. Throws a LengthwiseError where the plan does not hold. */
export function sheet(job: Job, plan: Plan): Sheet;

/** The JSON Schema of a job. */
export function schema(): object;

/** The version of the engine. */
export const version: string;

/** What was asked cannot be answered. */
export class LengthwiseError extends Error {}
