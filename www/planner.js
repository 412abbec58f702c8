// Plans a job: each group of sections in a Worker of its own, joined into one report by the engine.
//
//   const run = planner.start({ job, groups }, onProgress);   // onProgress({ group, levels, part, report })
//   const report = await run.promise;                         // or Cancelled
//   run.stop();                                               // ends it with the best plan so far
//   run.cancel();                                             // ends it with nothing
//
// Nothing is passed on whose cuts the engine's check refused. Refused progress is passed on as { group, refused }; a refused plan rejects
// the promise with `Refused`.

import { Cancelled } from "./engine.js";

// The planner made a plan that the check refused; `findings` holds the reasons.
export class Refused extends Error {
  name = "Refused";

  constructor({ error, findings = [] }) {
    super(error);
    this.findings = findings;
  }
}

export class Planner {
  #engine;

  constructor(engine) {
    this.#engine = engine;
  }

  start({ job, groups }, onProgress) {
    const runs = groups.map((_, group) => this.#group(job, group, onProgress));
    let called = null; // how it was ended from outside
    const end = (how) => {
      called = how;
      for (const run of runs) run.cancel();
    };
    return { promise: this.#joined(job, runs, () => called), stop: () => end("stop"), cancel: () => end("cancel") };
  }

  async #joined(job, runs, called) {
    const parts = await Promise.all(runs.map(async (run) => {
      try {
        return await run.promise;
      } catch (error) {
        if (!(error instanceof Cancelled) || called() !== "stop" || run.best() === null) throw error;
        return run.best();
      }
    }));
    const refused = parts.find((part) => part.error !== undefined) ?? parts.find((part) => part.part === undefined);
    const reply = refused ?? (await this.#engine.call("report", { job, plans: parts.map((part) => part.part), exact: parts.map((part) => part.exact ?? null), spent: parts.map((part) => part.spent) }));
    if (reply.error !== undefined) throw reply.findings === undefined ? new Error(reply.error) : new Refused(reply);
    return reply;
  }

  #group(job, group, onProgress) {
    let best = null;
    const { promise, cancel } = this.#engine.plan({ job, group }, ({ report: news }) => {
      if (news.error !== undefined) return onProgress({ group, refused: new Refused(news) });
      best = { group, part: news.part, spent: news.spent };
      onProgress(news);
    });
    return { promise, cancel, best: () => best };
  }
}
