// Entry for Node: reads the wasm from this folder.

import { readFileSync } from "node:fs";
import { evaluate, initSync } from "./clothyard_npm.js";

initSync({ module: readFileSync(new URL("./clothyard_npm_bg.wasm", import.meta.url)) });

export { evaluate };
