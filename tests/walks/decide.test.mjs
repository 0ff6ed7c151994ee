// Solving for one value, the effect of each change, and the chart.

import assert from "node:assert/strict";
import { test } from "node:test";
import { audit, number, open, openTool, press, read, rows, singleFile, stage, tooWide } from "./support.mjs";
import { type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

async function fresh(view, url = here.server.url) {
  const page = await open(await here.chromium.browser.createBrowserContext(), url);
  await waitForAnswers(page);
  await openTool(page, view);
  return page;
}

const VIEWS = { solve: "solve-answer", effects: "effects-sure", sweep: "sweep-words" };

for (const [view, sign] of Object.entries(VIEWS)) {
  for (const width of [1280, 320]) {
    test(`axe-core finds nothing with ${view} open at ${width} px`, async () => {
      const prepare = async (page) => {
        await page.setViewport({ width, height: 800 });
        await openTool(page, view);
        await waitFor(page, sign, /\S/);
        assert.deepEqual(await tooWide(page), []);
      };
      assert.deepEqual(await audit(await here.chromium.browser.createBrowserContext(), here.server.url, prepare), []);
    });
  }
}

test("the views are not loaded before one is opened", async () => {
  const asked = here.server.requests.length;
  const page = await open(await here.chromium.browser.createBrowserContext(), here.server.url, (each) => each.setBypassServiceWorker(true));
  await waitForAnswers(page);
  const own = () => page.evaluate(() => performance.getEntriesByType("resource").map((entry) => entry.name));
  assert.ok(!(await own()).some((name) => /views|tools/.test(name)));
  const elements = await page.evaluate(() => document.querySelectorAll("*").length);
  assert.ok(elements <= 1700, `${elements} elements before a tool is opened`);
  await openTool(page, "solve");
  await waitFor(page, "solve-answer", /\S/);
  assert.ok((await own()).some((name) => name.endsWith("clothyard_views_bg.wasm")));
  assert.ok(here.server.requests.length > asked);
});

test("a result is locked, an input moved, the answer put on the arrow and taken back", async () => {
  const page = await fresh("solve");
  await waitFor(page, "solve-answer", /^Point weight \d+\sgr gives an exact match\.$/);
  await page.select("#solve-result", "frontOfCentrePercent");
  await waitFor(page, "solve-said", /^Enter FOC/);
  await type(page, "solve-target", "12");
  await waitFor(page, "solve-answer", /^Point weight \d+\sgr gives 12\.0%\.$/);
  const before = await read(page, "foc");
  await page.click("#solve-load");
  await waitFor(page, "foc", /^12\.0/);
  await page.$eval("#undo", (button) => button.click());
  await waitFor(page, "foc", new RegExp(before));
  await type(page, "solve-target", "80");
  await waitFor(page, "solve-answer", /cannot be reached with point weight\. Closest: [\d.]+%, at 600\sgr\.$/);
  await type(page, "solve-target", "x");
  await waitFor(page, "solve-said", /^FOC: enter a number of %/);
  await page.select("#solve-result", "launchSpeedFps");
  await page.select("#all-units", "metric");
  await type(page, "solve-target", "80,5");
  await waitFor(page, "solve-answer", /gives 80\.5\sm\/s\.$/);
});

test("one step of every input is ranked, and a step can be changed", async () => {
  const page = await fresh("effects");
  await page.waitForFunction(() => document.querySelectorAll("#effects-table tbody tr").length > 8);
  const size = (row, column) => Math.abs(number(row[column]));
  const ranked = await rows(page, "effects-table");
  assert.ok(ranked.every((row, place) => place === 0 || size(row, 2) <= size(ranked[place - 1], 2) + 0.051));
  await page.select("#effects-by", "launchSpeedFps");
  assert.notDeepEqual(await rows(page, "effects-table"), ranked);
  const point = (list) => list.find((row) => row[0] === "Point weight");
  const small = size(point(await rows(page, "effects-table")), 4);
  await page.$eval('[data-step-of="pointGr"]', (input) => {
    input.value = "50";
    input.dispatchEvent(new Event("change", { bubbles: true }));
  });
  assert.equal(size(point(await rows(page, "effects-table")), 4), 50);
  assert.notEqual(small, 50);
  await page.$eval('[data-step-of="pointGr"]', (input) => {
    input.value = "-1";
    input.dispatchEvent(new Event("change", { bubbles: true }));
  });
  assert.match(await read(page, "effects-said"), /^One step of Point weight: enter more than 0, up to 590\sgr\.$/);
  assert.match(await read(page, "effects-sure"), /Launch speed\s*267\sfps\s*±/);
});

test("one value along a range: line, cursor, table, file, and the coach's question", async () => {
  const page = await fresh("sweep");
  await waitFor(page, "sweep-words", /^From 50\sgr to 250\sgr it rises from [\d.]+% to [\d.]+%\.$/);
  await page.$eval("#sweep-chart", (chart) => chart.focus());
  await press(page, "Home");
  await waitFor(page, "sweep-at", /^At 50\sgr: /);
  await press(page, "ArrowRight", "ArrowRight");
  await waitFor(page, "sweep-at", /^At 54\sgr: /);
  await page.select("#sweep-field", "cutLengthIn");
  await waitFor(page, "sweep-title", /against cut length\.$/);
  await type(page, "sweep-from", "20");
  await type(page, "sweep-to", "19");
  await waitFor(page, "sweep-said", /^To must be greater than From\.$/);
  await page.$eval("#sweep-fifty", (button) => button.click());
  await waitFor(page, "sweep-fifty-answer", /^With 50 gr more point weight: FOC .*energy/);
  await page.select("#sweep-field", "pointGr");
  assert.equal(await page.$$eval("#sweep-table tbody tr", (rows) => rows.length), 21);
  const file = await page.evaluate(
    () =>
      new Promise((resolve) => {
        const create = URL.createObjectURL;
        URL.createObjectURL = (blob) => {
          blob.text().then((text) => resolve([blob.type, text]));
          return create(blob);
        };
        document.getElementById("sweep-csv").click();
      }),
  );
  assert.equal(file[0], "text/csv");
  assert.match(file[1], /Point weight.*\r\n50,/);
});

test("a held setup is drawn beside the one on the page, solid against dashed", async () => {
  const page = await fresh("sweep");
  await waitFor(page, "sweep-words", /^From 50/);
  assert.equal(await page.$$eval("#sweep-marks polyline", (lines) => lines.length), 1);
  await openTool(page, "beside");
  await page.evaluate(() => [...document.querySelectorAll("#beside button")].find((button) => button.textContent === "Compare with this setup").click());
  await openTool(page, "sweep");
  await type(page, "cutLengthIn", "29");
  await page.waitForFunction(() => document.querySelectorAll("#sweep-marks polyline").length === 2);
  const dashes = await page.$$eval("#sweep-marks polyline", (lines) => lines.map((line) => getComputedStyle(line).strokeDasharray));
  assert.deepEqual(dashes.map((dash) => dash === "none"), [false, true]);
  assert.match(await page.$eval("#sweep-table thead", (head) => head.textContent), /B: FOC.*A, (saved|held): FOC/);
  assert.ok((await page.$$eval("#sweep-field option", (options) => options.length)) > 40, "any input can be chosen");
});

test("what is held is drawn at once, and no longer once it is let go", async () => {
  const page = await fresh("sweep");
  await waitFor(page, "sweep-words", /^From 50/);
  const lines = (count) => page.waitForFunction((wanted) => document.querySelectorAll("#sweep-marks polyline").length === wanted, {}, count);
  await lines(1);
  await openTool(page, "beside");
  await page.waitForSelector("#beside-hold:not(:disabled)");
  await page.click("#beside-hold");
  await openTool(page, "sweep");
  await lines(2);
  await openTool(page, "beside");
  await page.click("#beside-let-go");
  await openTool(page, "sweep");
  await lines(1);
  assert.doesNotMatch(await page.$eval("#sweep-table thead", (head) => head.textContent), /A, /);
});

test("the single file helps to choose as well", async () => {
  const page = await fresh("solve", singleFile);
  await waitFor(page, "solve-answer", /gives an exact match\.$/);
  assert.deepEqual(page.complaints, []);
});
