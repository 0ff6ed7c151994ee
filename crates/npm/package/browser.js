// Entry for browsers and bundlers: fetches the wasm from beside this file.

import init, { evaluate } from "./clothyard_npm.js";

await init();

export { evaluate };
