// Runs a program built for wasm32-wasip1.
//
//     node scripts/bench-wasi.mjs COMMAND.wasm

import { readFileSync } from "node:fs";
import { WASI } from "node:wasi";

const wasi = new WASI({ version: "preview1", returnOnExit: true });
const module = new WebAssembly.Module(readFileSync(process.argv[2]));
process.exitCode = wasi.start(new WebAssembly.Instance(module, wasi.getImportObject()));
