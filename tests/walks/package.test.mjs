// The npm package: imported in Node by its name, it gives the report that scripts/evaluate prints, and its types
// describe that report key by key.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, test } from "node:test";
import { pathToFileURL } from "node:url";
import { project } from "./support.mjs";

const built = join(project, "dist/npm");
const described = JSON.parse(readFileSync(join(built, "package.json"), "utf8"));
const golden = join(project, "tests/golden");

// A project that has installed the package.
const home = mkdtempSync(join(tmpdir(), "clothyard-package-"));
cpSync(built, join(home, "node_modules/clothyard"), { recursive: true });
writeFileSync(join(home, "package.json"), '{ "type": "module" }');
after(() => rmSync(home, { recursive: true }));

writeFileSync(join(home, "entry.js"), 'export * from "clothyard";\n');
const { evaluate } = await import(pathToFileURL(join(home, "entry.js")));

const setups = Object.fromEntries(
  readdirSync(golden)
    .filter((name) => !name.endsWith(".report.json"))
    .map((name) => [name, JSON.parse(readFileSync(join(golden, name), "utf8"))]),
);

/** Setups for the parts of a report that no golden one has. */
const rare = [
  { inputs: { ruleSpeedFps: 280, ruleGrPerLb: 5 } },
  { inputs: { outerDiameterIn: 0.2, boreIn: 0.3 } },
  { inputs: { peakDrawWeightLb: 60, staticSpineThousandths: 400 } },
  { inputs: { pointKind: "fixedBlade" }, lists: { drawForce: [[7, 0], [8, 20]], speeds: [[300, 250], [500, 280]] } },
  { inputs: { bowKind: "recurve", launch: "fingersCentreCut", peakDrawWeightLb: 40, drawLengthIn: 28 } },
  // Too light with this point: a heavier one is recommended.
  { inputs: { bowKind: "longbow", peakDrawWeightLb: 55, drawLengthIn: 28, pointGr: 75 }, shafts: [{ name: "", staticSpineThousandths: 610, shaftGrPerIn: 6.2, outerDiameterIn: 0.26, boreIn: 0.204 }] },
  { inputs: { peakDrawWeightLb: 5, drawLengthIn: 20 }, lists: { distances: [[20], [150]] } },
].map((setup) => ({ schemaVersion: 1, ...setup }));

/** Runs the TypeScript compiler on a program that imports the package; gives its messages. */
function typeErrors(name, text) {
  writeFileSync(join(home, name), text);
  const options = ["--noEmit", "--strict", "--target", "es2022", "--module", "nodenext", "--types", "", join(home, name)];
  try {
    execFileSync(join(project, "tests/node_modules/.bin/tsc"), options, { cwd: home, encoding: "utf8" });
    return "";
  } catch (error) {
    return error.stdout || String(error);
  }
}

const literal = (type, values) => values.map((value, place) => `export const a${place}: ${type} = ${JSON.stringify(value)};\n`);
const program = (type, values) => `import type { ${type} } from "clothyard";\n${literal(type, values).join("")}`;

test("the package holds the files that it names", () => {
  const entries = Object.values(described.exports["."]);
  for (const name of [...described.files, ...entries]) assert.ok(readdirSync(built).includes(name.replace("./", "")), name);
  assert.deepEqual([...described.files, "package.json"].sort(), readdirSync(built).sort());
  const cargo = readFileSync(join(project, "Cargo.toml"), "utf8");
  assert.ok(cargo.includes(`version = "${described.version}"`));
});

test("every golden setup gives the report that scripts/evaluate prints, bit for bit", () => {
  for (const [name, setup] of Object.entries(setups)) {
    const printed = JSON.parse(execFileSync(join(project, "scripts/evaluate"), [join(golden, name)], { encoding: "utf8" }));
    assert.deepEqual(evaluate(setup), printed, name);
  }
});

test("a setup that cannot be read is refused with the field and what is allowed", () => {
  assert.throws(
    () => evaluate({ schemaVersion: 1, inputs: { pointGr: -5 } }),
    (error) => error.field === "pointGr" && error.minimum === 10 && error.maximum === 600 && /Point weight/.test(error.message),
  );
});

test("the example of its README runs and has correct types", () => {
  const [, example] = readFileSync(join(built, "README.md"), "utf8").match(/```js\n([^]*?)```/);
  writeFileSync(join(home, "example.mjs"), example);
  assert.match(execFileSync(process.execPath, [join(home, "example.mjs")], { encoding: "utf8" }), /\d{3}/);
  assert.equal(typeErrors("example.mts", `declare const console: { log(...values: unknown[]): void };\n${example}`), "");
});

test("its types accept every saved setup, every report and an error", () => {
  const all = [...Object.values(setups), ...rare];
  assert.equal(typeErrors("setups.mts", program("Setup", all)), "");
  assert.equal(typeErrors("reports.mts", program("Report", all.map(evaluate))), "");
  const refused = { schemaVersion: 1, inputs: { pointGr: -5 } };
  assert.throws(() => evaluate(refused), (error) => typeErrors("error.mts", program("SetupError", [error])) === "");
});

test("its types reject a key too many, a key too few and a wrong value, at any depth", () => {
  const report = () => evaluate(setups["everything.json"]);
  const changes = {
    "a key too many": (made) => (made.extra = 1),
    "a result too many": (made) => (made.results.extra = 1),
    "a key too many in flight": (made) => (made.inFlight.distances[0].at.extra = 1),
    "a key too few": (made) => delete made.mendSentence,
    "a result too few": (made) => delete made.results.totalWeightGr,
    "a key too few in a part": (made) => delete made.parts[0].massGr,
    "a wrong value": (made) => (made.verdict = "fine"),
    "a wrong input": (made) => (made.inputs.bowKind.value = "crossbow"),
  };
  for (const [name, change] of Object.entries(changes)) {
    const made = report();
    change(made);
    assert.notEqual(typeErrors("changed.mts", program("Report", [made])), "", name);
  }
});

test("every key of the report is seen with a value, so that no type goes unchecked", () => {
  const seen = new Map(); // path -> whether a value was seen there
  const visit = (path, value) => {
    const empty = value === null || (Array.isArray(value) && value.length === 0);
    seen.set(path, seen.get(path) || !empty);
    if (Array.isArray(value)) for (const each of value) visit(`${path}[]`, each);
    else if (value && typeof value === "object") for (const [key, each] of Object.entries(value)) visit(`${path}.${key}`, each);
  };
  for (const setup of [...Object.values(setups), ...rare]) visit("report", evaluate(setup));
  assert.deepEqual([...seen].filter(([, value]) => !value).map(([path]) => path), []);
});
