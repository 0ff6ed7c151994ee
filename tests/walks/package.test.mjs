// The calculator as a package: imported in Node, it gives the report that scripts/evaluate prints.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { pathToFileURL } from "node:url";
import { project } from "./support.mjs";

const folder = join(project, "dist/npm");
const described = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));

async function load() {
  const calculator = await import(pathToFileURL(join(folder, described.main)));
  await calculator.default({ module_or_path: readFileSync(join(folder, "clothyard_npm_bg.wasm")) });
  return calculator;
}

test("what the package says is in it is in it", () => {
  for (const name of [...described.files, described.main, described.types]) assert.ok(readdirSync(folder).includes(name), name);
  const cargo = readFileSync(join(project, "Cargo.toml"), "utf8");
  assert.ok(cargo.includes(`version = "${described.version}"`));
});

test("every golden build gives the report that scripts/evaluate prints, bit for bit", async () => {
  const { evaluate } = await load();
  const golden = join(project, "tests/golden");
  for (const name of readdirSync(golden).filter((each) => !each.endsWith(".report.json"))) {
    const printed = JSON.parse(execFileSync(join(project, "scripts/evaluate"), [join(golden, name)], { encoding: "utf8" }));
    assert.deepEqual(evaluate(JSON.parse(readFileSync(join(golden, name), "utf8"))), printed, name);
  }
});

test("what cannot be read is refused with the field and what is allowed", async () => {
  const { evaluate } = await load();
  assert.throws(
    () => evaluate({ schemaVersion: 1, inputs: { pointGr: -5 } }),
    (refusal) => refusal.field === "pointGr" && refusal.minimum === 10 && refusal.maximum === 600 && /Point weight/.test(refusal.message),
  );
});

test("its types name what it gives", () => {
  const types = readFileSync(join(folder, described.types), "utf8");
  assert.match(types, /export function evaluate\(build: Build\): Report/);
  const report = readFileSync(join(project, "tests/golden/nothing.report.json"), "utf8");
  const [, body] = types.match(/export interface Report \{([^]*?)\n\}/);
  for (const [, key] of body.matchAll(/^ {2}(\w+):/gm)) assert.ok(Object.hasOwn(JSON.parse(report), key), key);
});
