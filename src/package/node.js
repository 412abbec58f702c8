// In Node.js: the engine is read from beside this file.

import { readFileSync } from "node:fs";
import * as engine from "./engine.js";
import { LengthwiseError, offered } from "./lengthwise.js";

engine.initSync({ module: readFileSync(new URL("engine.wasm", import.meta.url)) });

export const { version, plan, check, sheet, schema } = offered(engine);
export { LengthwiseError };
