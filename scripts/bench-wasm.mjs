// Prints the running time of the shipped wasm in Node: a full report, and 10,000 combinations. One figure a line.
//
//     node scripts/bench-wasm.mjs GLUE     folder with the wasm and its glue

import { copyFileSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const glue = process.argv[2];
const folder = mkdtempSync(join(tmpdir(), "clothyard-"));

async function load(name) {
  const module = join(folder, `${name}.mjs`); // Node takes .mjs for a module
  copyFileSync(join(glue, `${name}.js`), module);
  const part = await import(pathToFileURL(module));
  await part.default({ module_or_path: readFileSync(join(glue, `${name}_bg.wasm`)) });
  return part;
}

const { combine_piece } = await load("clothyard_views");
const { evaluate } = await load("clothyard_npm");
rmSync(folder, { recursive: true });

/** Microseconds of one call: the shortest of seven rounds. */
function microseconds(call) {
  let least = Infinity;
  for (let round = 0; round < 7; round += 1) {
    let calls = 0;
    const start = performance.now();
    while (performance.now() - start < 60) {
      call();
      calls += 1;
    }
    least = Math.min(least, ((performance.now() - start) * 1000) / calls);
  }
  return least;
}

const build = {
  schemaVersion: 1,
  name: "bench",
  inputs: { peakDrawWeightLb: 62, drawLengthIn: 29, pointGr: 125, letOffPercent: 85, purpose: "threeD" },
};
console.log(`full report as plain objects, us: the page's wasm ${microseconds(() => evaluate(build)).toFixed(0)}`);

// The page holds shaft and cut while it varies the rest, so they are given here too. Fifty points (the third kind of
// axis) along the second, twenty draw weights (the first kind) along the first.
const values = (count, from, step) => Array.from({ length: count }, (_, place) => from + step * place);
const shaft = { staticSpineThousandths: 350, shaftGrPerIn: 9.4, outerDiameterIn: 0.242, boreIn: 0.166, cutLengthIn: 28.375 };
const held = { ...build, inputs: { ...build.inputs, ...shaft } };
const axes = Float64Array.from([0, 20, ...values(20, 50, 1), 2, 50, ...values(50, 80, 2)]);
if (combine_piece(held, axes, 0, 1000).length === 0) throw new Error("the axes are not read");
const piece = microseconds(() => combine_piece(held, axes, 0, 1000));
console.log(`10,000 combinations, us: the page's wasm ${(10 * piece).toFixed(0)}`);
