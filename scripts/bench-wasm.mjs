// Prints how long the page's wasm takes for a full report, in Node, a figure a line.
//
//     node scripts/bench-wasm.mjs GLUE     the folder with clothyard.js and clothyard_bg.wasm

import { copyFileSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const glue = process.argv[2];
const folder = mkdtempSync(join(tmpdir(), "clothyard-"));
const module = join(folder, "clothyard.mjs"); // the name tells Node that it is a module
copyFileSync(join(glue, "clothyard.js"), module);
const { default: init, evaluate } = await import(pathToFileURL(module));
await init({ module_or_path: readFileSync(join(glue, "clothyard_bg.wasm")) });
rmSync(folder, { recursive: true });

const build = {
  schemaVersion: 1,
  name: "bench",
  inputs: { peakDrawWeightLb: 62, drawLengthIn: 29, pointGr: 125, letOffPercent: 85, ratedSpeedFps: 325, purpose: "threeD" },
};

let least = Infinity;
for (let round = 0; round < 7; round += 1) {
  let calls = 0;
  const start = performance.now();
  while (performance.now() - start < 60) {
    evaluate(build);
    calls += 1;
  }
  least = Math.min(least, ((performance.now() - start) * 1000) / calls);
}
console.log(`wasm full report as plain objects, us ${least.toFixed(1)}`);
