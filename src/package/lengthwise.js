// What the package offers: objects in, objects out. `engine` is the WebAssembly module, started by node.js or web.js.

export function offered(engine) {
  const ask = (action, request) => {
    const reply = JSON.parse(engine.call(action, JSON.stringify(request)));
    if (typeof reply.error === "string") throw new LengthwiseError(reply.error);
    return reply;
  };
  return {
    version: engine.version(),
    plan: (job, limits = {}) => ask("answer", { job, looks: limits.looks, seconds: limits.seconds }),
    check: (job, plan) => ask("check", { job, plan }),
    sheet: (job, plan) => ask("sheet", { job, plan }),
    schema: () => ask("schema", {}).schema,
  };
}

// What was asked cannot be answered, such as a sheet of a plan that does not hold. What is wrong with a job is no error: it is in the answer.
export class LengthwiseError extends Error {
  name = "LengthwiseError";
}
