// The job, every view, the single file and the page without its server, in three engines. What only one engine has (its
// own log of requests, axe, printing) is walked in Chromium alone, in the other files.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { ENGINES, LISTEN, openTool, visit } from "./engines.mjs";
import { serve, singleFile } from "./support.mjs";

/** What each view shows once it is opened on the first setup. */
const SHOWS = {
  distances: ["distances-words", /\d/],
  side: ["side-words", /\d/],
  marks: ["marks-words", /\d/],
  reach: ["reach-words", /\d/],
  plan: ["plan-words", /\d/],
  slow: ["slow-now", /ms after the release/],
  sweep: ["sweep-words", /\d/],
  "bench-force": ["bench-force-words", /No readings/],
  sheet: ["sheet", /Cut \d/],
};

let server;
before(async () => {
  server = await serve();
});
after(() => server.stop());

/** The job as a new user does it: three numbers, another unit, one step back. */
async function job(engine) {
  await engine.type("peakDrawWeightLb", "60");
  await engine.type("drawLengthIn", "28,5");
  await engine.type("pointGr", "125");
  await engine.waitFor("part-point", /125/);
  const sentence = await engine.waitFor("match-sentence", /Matches about .*lb\. Your bow: 60\slb\./);
  await new Promise((settled) => setTimeout(settled, 300));
  const before = await engine.text("total-weight");
  const units = (which) =>
    engine.run("const s = document.getElementById('all-units'); s.value = arguments[0]; s.dispatchEvent(new Event('change', { bubbles: true }));", which);
  await units("metric");
  const grams = parseFloat(await engine.waitFor("total-weight", /\sg$/));
  assert.ok(Math.abs(grams / 0.06479891 - parseFloat(before)) < 1, `${grams} g, ${before}`);
  await units("archery");
  assert.equal(await engine.waitFor("match-sentence", /lb\. Your bow/), sentence, "and back exactly");
  await engine.type("pointGr", "abc");
  await engine.waitFor("pointGr-said", /10 to 600/);
  assert.equal(await engine.text("total-weight"), before, "what cannot be read moves nothing");
  await engine.type("pointGr", "150");
  await engine.waitFor("pointGr-said", /^$/);
  assert.notEqual(await engine.text("total-weight"), before);
  await engine.press("undo", "Enter");
  await engine.waitFor("total-weight", new RegExp(`^${before}$`));
}

/** Opens every view, one at a time, and closes it again. */
async function everyView(engine) {
  const ids = await engine.run("return [...document.querySelectorAll('#all-tools dd a')].map((link) => link.hash.slice(1));");
  assert.ok(ids.length > 6);
  for (const id of ids) {
    await openTool(engine, id);
    const [element, pattern] = SHOWS[id] ?? [id, /\S/];
    await engine.waitFor(element, pattern, 30_000);
    await new Promise((settled) => setTimeout(settled, 250));
    await engine.run("document.getElementById(arguments[0]).open = false;", id);
  }
}

async function jobAndViews(engine) {
  await job(engine);
  await everyView(engine);
}

for (const name of Object.keys(ENGINES)) {
  test(`${name}: the job and every view, served`, () => visit(name, server.url, jobAndViews));

  test(`${name}: one visit is enough; with the server stopped the page comes back whole`, async () => {
    await visit(name, server.url, async (engine) => {
      await engine.waitFor("offline-state", /^Ready to work offline$/, 60_000);
      await engine.type("pointGr", "137");
      const weight = await engine.waitFor("total-weight", /\d/);
      await engine.waitFor("save-state", /Saved in this browser/);
      await server.stop();
      try {
        await engine.goTo(server.url);
        await engine.waitFor("pointGr", /^137$/, 30_000);
        assert.equal(await engine.waitFor("total-weight", /\d/), weight);
        await engine.run(LISTEN);
        await everyView(engine);
      } finally {
        await server.start();
      }
    });
  });

  test(`${name}: the single file does the same from the disk`, () => visit(name, singleFile, jobAndViews));
}
