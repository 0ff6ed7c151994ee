// The list of shafts: samples removed in one tap, rows pasted and typed, one of them put on the arrow, sorted.

import assert from "node:assert/strict";
import { test } from "node:test";
import { audit, open, openTool, read, result, stage, stored, tooWide, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

async function view(prepare = undefined) {
  const page = await open(here.chromium.browser, here.server.url, prepare);
  await waitForAnswers(page);
  await openTool(page, "shaft-list");
  await waitFor(page, "shafts-are", /./);
  return page;
}

const click = (page, selector) => page.$eval(selector, (element) => element.click());

/** What the cells of every row hold. */
const list = (page) =>
  page.$$eval("#shafts tbody tr", (rows) => rows.map((row) => [...row.querySelectorAll("input")].map((input) => input.value)));

async function paste(page, text) {
  await page.$eval("#shafts-text", (area, words) => (area.value = words), text);
  await click(page, "#shafts-take");
}

test("samples go in one tap, rows are pasted, and one of them is recommended", async () => {
  const page = await view();
  assert.match(await read(page, "shafts-are"), /^These are samples\./);
  const samples = await list(page);
  await click(page, "#shafts-clear");
  await waitFor(page, "shafts-are", /^Samples removed\. Add or paste your shafts/);
  assert.deepEqual(await list(page), []);
  await paste(page, "name\tspine\tgpi\tOD\tID\tfull length\tqty\nHeron 300\t300\t9.8\t.300\t.246\t32\t12\nHeron 340\t340\t9.3\t.293\t\t32\t4\n");
  await waitFor(page, "shafts-said", /^Added 2\.$/);
  assert.equal(await read(page, "shafts-are"), "Your list: 2.");
  const rows = await list(page);
  assert.deepEqual(rows[0], ["Heron 300", "300", "9.8", "0.3", "0.246", "32", "12"]);
  assert.ok(Number(rows[1][4]) > 0.2 && Number(rows[1][4]) < 0.293, "an inside diameter left out is estimated");
  assert.match(await result(page, "nearestStockThousandths"), /^3[04]0/);
  assert.equal((await stored(page, "clothyard.setup")).shafts?.length ?? 2, 2);
  await paste(page, "Heron 400; x; 8; 0.29");
  await waitFor(page, "shafts-text-said", /^Row 1: static spine: enter a number, 100 to 3000\.$/);
  await paste(page, "Heron 400 400 8.2 0.289 0.246 31 7");
  await waitFor(page, "shafts-are", /^Your list: 3\.$/);
  await click(page, "#undo");
  await waitFor(page, "shafts-are", /^Your list: 2\.$/);
  await click(page, "#shafts-reset");
  await waitFor(page, "shafts-are", /^These are samples\./);
  assert.deepEqual(await list(page), samples);
  assert.deepEqual(page.complaints, []);
});

test("a shaft is added, changed, used and removed; headings sort", async () => {
  const page = await view();
  const before = (await list(page)).length;
  await click(page, "#shaft-add");
  await waitFor(page, "shafts-are", new RegExp(`^1 of your own, ${before} samples\\.$`));
  assert.ok(await page.evaluate(() => document.activeElement.closest("tr") === document.querySelector("#shafts tbody tr:last-child")));
  const cell = (column) => `#shafts tbody tr:last-child [data-shaft-column="${column}"]`;
  const enter = async (column, text) => {
    await page.$eval(cell(column), (input) => input.select());
    await page.type(cell(column), text);
    await page.keyboard.press("Tab");
  };
  await enter(1, "x");
  await waitFor(page, "shafts-said", /^Static spine: enter a number, 100 to 3000\.$/);
  await enter(1, "333");
  await page.waitForFunction(() => document.getElementById("shafts-said").textContent === "");
  await enter(6, "5");
  await click(page, '#shafts [data-shaft-column="1"]');
  const spines = (await list(page)).map((row) => Number(row[1]));
  assert.deepEqual(spines, spines.toSorted((a, b) => a - b));
  const place = (await list(page)).findIndex((row) => row[1] === "333");
  assert.equal((await list(page))[place][6], "5");
  await page.$$eval("#shafts [data-shaft-use]", (all, row) => all[row].click(), place);
  await waitFor(page, "staticSpineThousandths", /^333$/);
  assert.equal(await page.$$eval("#shafts .current", (rows) => rows.length), 1);
  await page.$$eval("#shafts button[data-shaft-place]", (all, row) => all[row].click(), place);
  await waitFor(page, "shafts-are", /^These are samples\./);
  assert.equal((await list(page)).length, before);
  assert.deepEqual(page.complaints, []);
});

test("nothing is wrong for those who cannot see or point, nor on a phone", async () => {
  const prepare = (page) => openTool(page, "shaft-list");
  assert.deepEqual(await audit(here.chromium.browser, here.server.url, prepare), []);
  const page = await view((fresh) => fresh.setViewport({ width: 320, height: 800 }));
  await click(page, "#shafts-paste summary");
  assert.deepEqual(await tooWide(page), []);
  await page.select("#all-units", "metric");
  await waitFor(page, "shafts-unit-2", /^mm$/);
});
