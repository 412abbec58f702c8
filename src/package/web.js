// In a browser, or whatever else has `fetch`: the engine is fetched from beside this file.

import * as engine from "./engine.js";
import { LengthwiseError, offered } from "./lengthwise.js";

await engine.default({ module_or_path: new URL("engine.wasm", import.meta.url) });

export const { version, plan, check, sheet, schema } = offered(engine);
export { LengthwiseError };
