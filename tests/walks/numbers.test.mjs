// Which numbers the first screen shows, when, and how they are written.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { choose, downloads, open, openTool, read, saved, stage, stored, tooWide, type, waitFor } from "./support.mjs";

const here = stage();

/** A tab that knows nothing of the others. */
async function fresh({ width = 1280, height = 900, inputs, language } = {}) {
  const page = await open(await here.chromium.browser.createBrowserContext(), here.server.url, async (tab) => {
    await tab.setViewport({ width, height });
    await tab.evaluateOnNewDocument((chosen, given) => {
      if (chosen) Object.defineProperty(navigator, "language", { get: () => chosen });
      if (given && location.protocol === "http:") {
        localStorage.setItem("clothyard.setup", JSON.stringify({ build: { schemaVersion: 1, name: "", inputs: given } }));
      }
    }, language, inputs);
  });
  await page.waitForSelector("html.scripted");
  await page.waitForSelector("#finder");
  return page;
}

const HUNTER = { peakDrawWeightLb: 68, drawLengthIn: 29 };

test("an empty screen names no default", async () => {
  const page = await fresh();
  const names = await page.$$eval("#part-names button, #defaults", (all) => all.map((each) => each.innerText.trim()));
  assert.deepEqual(names, ["Nock", "Vanes", "Shaft", "Insert", "Point", "Defaults"]);
  assert.doesNotMatch(await read(page, "arrow-words"), /\d/);
  await type(page, "pointGr", "125");
  assert.match(await read(page, "part-point"), /^125\sgr$/);
  assert.equal(await read(page, "part-shaft"), "");
});

test("the beginning of a number gets no answer of its own; a small number gets one after a moment", async () => {
  const page = await fresh({ inputs: HUNTER });
  await page.evaluate(() => {
    window.said = new Set();
    const sentence = document.getElementById("match-sentence");
    new MutationObserver(() => window.said.add(sentence.textContent)).observe(sentence, { childList: true, characterData: true, subtree: true });
  });
  await page.click("#peakDrawWeightLb");
  await page.keyboard.type("62", { delay: 60 });
  await waitFor(page, "match-sentence", /Your bow: 62\slb/);
  const said = await page.evaluate(() => [...window.said]);
  assert.ok(said.every((sentence) => /Your bow: 62\slb/.test(sentence)), said.join("\n"));

  await type(page, "peakDrawWeightLb", "20");
  await waitFor(page, "match-sentence", /Your bow: 20\slb/, 2_000);
  await type(page, "peakDrawWeightLb", "9");
  await page.keyboard.press("Tab");
  assert.match(await read(page, "match-sentence"), /Your bow: 9\slb/, "a field that is left waits for nothing");
});

test("a weight is taken as it is printed on the limbs", async () => {
  const page = await fresh();
  await choose(page, "bowKind", "longbow");
  await type(page, "markedWeightLb", "50@28");
  await type(page, "drawLengthIn", "27");
  await waitFor(page, "match-sentence", /Your bow: 4\d\slb/);
  assert.equal(await read(page, "markedWeightLb-said"), "");
});

test("no text beside the answer is cut, at any width", async () => {
  const setups = [
    HUNTER,
    { ...HUNTER, staticSpineThousandths: 700 },
    { peakDrawWeightLb: 70, armSpanIn: 74, drawLengthFrom: "armSpan", pointKind: "fixedBlade", staticSpineThousandths: 300 },
    { bowKind: "longbow", launch: "fingersShelf", peakDrawWeightLb: 45, drawLengthIn: 27, shaftMaterial: "wood" },
    { peakDrawWeightLb: 22, drawLengthIn: 24 },
    { peakDrawWeightLb: 60, drawLengthIn: 28, pointGr: 10, shaftGrPerIn: 4 },
  ];
  for (const inputs of setups) {
    const page = await fresh({ inputs });
    await waitFor(page, "line", /\S/);
    for (const [width, height] of [[320, 640], [390, 844], [768, 1024], [1024, 768], [1280, 900], [844, 390]]) {
      await page.setViewport({ width, height });
      const cut = await page.$$eval("#answer :is(p, dd, dt, a, output), #part-names button, .acts button", (all) =>
        all
          .filter((each) => each.checkVisibility({ visibilityProperty: true }) && !each.classList.contains("unseen"))
          .filter((each) => each.scrollWidth > each.clientWidth + 1 || each.scrollHeight > each.clientHeight + 8)
          .filter((each) => getComputedStyle(each).overflow !== "visible")
          .map((each) => `${each.id || each.className}: ${each.textContent}`),
      );
      assert.deepEqual(cut, [], `${width} px, ${JSON.stringify(inputs)}`);
      assert.deepEqual(await tooWide(page), [], `${width} px`);
    }
    await page.close();
  }
});

test("the order is saved as a table that spreadsheets read", async () => {
  const page = await fresh({ inputs: HUNTER });
  const folder = await downloads(page);
  await page.click("#order-csv");
  const bytes = readFileSync(await saved(folder, ".csv"));
  assert.deepEqual([...bytes.subarray(0, 3)], [0xef, 0xbb, 0xbf]);
  const table = bytes.subarray(3).toString();
  for (const row of [/^"Arrow, 20\d\d-\d\d-\d\d",\r$/m, /^Cut length,"\d\d.*\sin, shaft end to end"$/m, /^Point,100\sgr$/m, /^Good match\. [^"]*,$/m]) assert.match(table, row);
});

test("where decimals have a comma, the page writes and reads it, and opens in centimeters", async () => {
  const page = await fresh({ inputs: HUNTER, language: "de-DE" });
  await waitFor(page, "foc", /^\d+,\d%$/);
  assert.equal(await read(page, "drawLengthIn"), "73,66");
  assert.equal(await read(page, "cut-unit"), "mm");
  assert.equal(await page.$eval("#all-units", (all) => all.selectedOptions[0].text), "pounds, centimeters, grains");
  await type(page, "drawLengthIn", "72,5");
  await page.waitForFunction(() => Math.abs(JSON.parse(localStorage.getItem("clothyard.setup")).build.inputs.drawLengthIn - 72.5 / 2.54) < 1e-9);
  await type(page, "drawLengthIn", "73.5");
  await page.waitForFunction(() => Math.abs(JSON.parse(localStorage.getItem("clothyard.setup")).build.inputs.drawLengthIn - 73.5 / 2.54) < 1e-9);
  assert.match(await read(page, "version"), /^\d+\.\d+\.\d+$/);
  await page.keyboard.press("Tab");
  await page.select("#all-units", "archery");
  assert.match(await read(page, "drawLengthIn"), /^28,93\d*$/);
  assert.deepEqual(page.complaints, []);
  assert.ok((await stored(page, "clothyard.setup")).build);
});

test("the points beside the field are those one has saved, the one on the arrow among them", async () => {
  const page = await fresh({ inputs: HUNTER });
  const chips = () => page.$$eval("#point-chips label", (all) => all.filter((each) => each.checkVisibility()).map((each) => each.innerText.trim()));
  assert.deepEqual(await chips(), ["85", "100", "125"]);
  await type(page, "pointGr", "150");
  assert.deepEqual(await chips(), ["125", "150", "175"]);
  await page.$eval("#point-chips label:last-child input", (chip) => chip.click());
  assert.equal(await read(page, "pointGr"), "175");
  assert.deepEqual(await chips(), ["125", "150", "175"], "nothing moves under the finger");

  for (const weight of ["145", "110"]) {
    await type(page, "pointGr", weight);
    await openTool(page, "keeping");
    await page.select("#drawer-kind", "point");
    await page.click("#drawer-put");
    await page.waitForFunction((saved) => localStorage.getItem("clothyard.points")?.includes(saved), {}, weight);
    await page.click("#place-back");
  }
  assert.deepEqual(await chips(), ["110", "145"]);
  await page.$eval("#point-chips label:nth-child(2) input", (chip) => chip.click());
  assert.equal(await read(page, "pointGr"), "145");
  await page.$eval("#point-chips label:first-child input", (chip) => chip.click());
  assert.equal(await page.$eval("#point-chips label:first-child input", (chip) => chip.checked && chip.getAttribute("aria-label")), "110 grains");
});
