// Measurements: typed readings, results that change and say "measured", and warnings about suspicious readings.

import assert from "node:assert/strict";
import { test } from "node:test";
import { audit, open, openTool, press, read, result, singleFile, stage, tooWide, type, waitFor, waitForAnswers, whose } from "./support.mjs";

const here = stage();

// All invented.
const FORCE = "6.5\t0\n9\t24\n12\t46\n14\t56\n16\t60\n22\t58\n25\t36\n26.25\t14\n27\t12\n";
const SHOTS = "350 285\n350 284\n480 250\n480 251\n";

async function fresh(view, { url = here.server.url, prepare, context } = {}) {
  const page = await open(context ?? (await here.chromium.browser.createBrowserContext()), url, prepare);
  await waitForAnswers(page);
  if (view) await openTool(page, view);
  return page;
}

/** Puts a text into an area at once, as pasting does, and leaves it. */
async function paste(page, id, text) {
  await page.$eval(
    `#${id}`,
    (area, words) => {
      area.focus();
      area.value = words;
      area.dispatchEvent(new Event("input", { bubbles: true }));
      area.dispatchEvent(new Event("change", { bubbles: true }));
      area.blur();
    },
    text,
  );
}

const cautions = (page) => page.$eval("#caution-list", (list) => list.textContent);
const saved = (page) =>
  page.evaluate(() => {
    window.dispatchEvent(new Event("clothyard-save"));
    return JSON.parse(localStorage.getItem("clothyard.setup")).build;
  });

const FILLED = {
  "bench-force": async (page) => {
    await paste(page, "bench-force-text", FORCE);
    await waitFor(page, "bench-force-words", /^Measured stored energy/);
  },
  "bench-speeds": async (page) => {
    await paste(page, "bench-speeds-text", SHOTS);
    await waitFor(page, "bench-speeds-words", /^Your bow delivers .* ± /);
  },
  "bench-arrow": async (page) => {
    await page.click("#bench-rig > summary");
    await type(page, "finishedWeightGr", "440");
    await type(page, "finishedBalanceIn", "18");
    await type(page, "rigReadingIn", "0.4");
    await waitFor(page, "bench-rig-words", /^Measured static spine/);
  },
  "bench-proven": async (page) => {
    await waitFor(page, "bench-proven-words", /^In use: the standard/);
    await page.click("#bench-proven-use");
    await waitFor(page, "bench-proven-words", /^In use: your reference arrow/);
  },
  "bench-fit": async (page) => {
    await type(page, "nockThroatIn", "0.12");
    await type(page, "servedStringIn", "0.11");
    await page.waitForFunction(() => document.getElementById("bench-fits").textContent.includes("Too loose"));
  },
  "bench-steps": async () => {},
};

for (const [view, fill] of Object.entries(FILLED)) {
  for (const width of [1280, 320]) {
    test(`axe-core finds nothing with ${view} filled in at ${width} px`, async () => {
      const prepare = async (page) => {
        await page.setViewport({ width, height: 800 });
        await openTool(page, view);
        await fill(page);
        assert.deepEqual(await tooWide(page), []);
      };
      assert.deepEqual(await audit(await here.chromium.browser.createBrowserContext(), here.server.url, prepare), []);
    });
  }
}

test("a draw-force curve typed in replaces the usual one, and says so everywhere", async () => {
  const page = await fresh("bench-force");
  await page.select("#start", "blank");
  await page.waitForFunction(() => document.getElementById("peakDrawWeightLb").value === "");
  await waitFor(page, "bench-force-words", /^No readings/);
  const usual = await result(page, "storedEnergyFtLb");
  assert.match(await result(page, "speed-from"), /stored energy is usual for the bow type/);
  await page.focus("#bench-force-text");
  for (const line of FORCE.trim().split("\n")) {
    await page.keyboard.type(line.replace("\t", "; "));
    await press(page, "Enter");
  }
  await waitFor(page, "bench-force-words", /^Measured stored energy 74\.1\sft-lb; the standard curve .* stores 80\.3\sft-lb/);
  assert.equal(await page.evaluate(() => document.activeElement.id), "bench-force-text", "typing moves no focus");
  assert.equal(await read(page, "peakDrawWeightLb"), "60");
  assert.equal(await whose(page, "peakDrawWeightLb"), "measured");
  assert.equal(await read(page, "drawLengthIn"), "28.75");
  assert.notEqual(await result(page, "storedEnergyFtLb"), usual);
  assert.match(await result(page, "storedEnergyFtLb"), /^74\.1\sft-lb measured$/);
  assert.match(await result(page, "speed-from"), /your draw force.* The stored energy is measured\.$/);
  assert.equal(await read(page, "bench-drives"), "Measurements in use: the draw-force curve.");
  assert.match(await page.$eval("#bench-force-facts", (list) => list.textContent), /Let-off 80\.0.*Ruler and scale.*smooth curve/s);
  // Solid as read, dashed the usual.
  const dashes = await page.$$eval("#force-marks polyline", (lines) => lines.map((line) => getComputedStyle(line).strokeDasharray));
  assert.deepEqual(dashes.map((dash) => dash === "none"), [true, false]);
  await page.$eval("#force-chart", (chart) => chart.focus());
  await press(page, "Home", "ArrowRight");
  await waitFor(page, "force-at", /^At 9\sin: 24\.0\slb\.$/);
  await page.$eval("#undo", (button) => button.click());
  await waitFor(page, "bench-force-words", /^No readings|three readings|^Measured stored energy/);
  assert.deepEqual(page.complaints, []);
});

test("a field given counts against the readings, is remarked on, and handed back with one button", async () => {
  const page = await fresh("bench-force");
  await paste(page, "bench-force-text", FORCE);
  await waitFor(page, "bench-force-words", /With your draw weight/);
  assert.match(await cautions(page), /readings peak at 60\.0\slb, you entered 62\.0\slb\. Your entry is used/);
  await page.click("#bench-force-hand");
  await waitFor(page, "peakDrawWeightLb", /^60$/);
  assert.doesNotMatch(await cautions(page), /readings peak/);
  await page.waitForFunction(() => document.getElementById("bench-force-hand").hidden);
});

test("a row that cannot be read is named, is not lost, and does not keep the others from counting", async () => {
  const context = await here.chromium.browser.createBrowserContext();
  const page = await fresh("bench-force", { context });
  await paste(page, "bench-force-text", FORCE);
  await waitFor(page, "bench-force-words", /^Measured stored energy/);
  const before = await result(page, "storedEnergyFtLb");
  const bad = FORCE.replace("22\t58", "22\tx58");
  await paste(page, "bench-force-text", bad);
  await waitFor(page, "bench-force-text-said", /^Row 6, force: “x58” is not a number; enter 0 to 150\slb\. The others are used\.$/);
  assert.notEqual(await result(page, "storedEnergyFtLb"), before);
  assert.equal((await saved(page)).lists.drawForce.length, 8);
  assert.equal(await read(page, "bench-force-text"), bad.trim());
  // Where no row can be read, nothing changes.
  const others = await result(page, "storedEnergyFtLb");
  await paste(page, "bench-force-text", "10 20 30");
  await waitFor(page, "bench-force-text-said", /^Row 1: 3 numbers; at most 2 in a row\.$/);
  assert.equal(await result(page, "storedEnergyFtLb"), others);
  await page.reload();
  await waitForAnswers(page);
  await openTool(page, "bench-force");
  await waitFor(page, "bench-force-text", /^10 20 30$/);
  await waitFor(page, "bench-force-text-said", /^Row 1/);
  await paste(page, "bench-force-text", "");
  await waitFor(page, "bench-force-words", /^No readings/);
  assert.equal((await saved(page)).lists, undefined);
});

const shotNames = (page) => page.$$eval("#bench-shots tbody tr", (all) => all.map((row) => row.cells[0].textContent));

test("shots are added on a pad with a thumb, and removed; a bad row keeps none from counting", async () => {
  const page = await fresh("bench-speeds", { prepare: (tab) => tab.setViewport({ width: 390, height: 844, hasTouch: true, isMobile: true }) });
  const tap = async (keys) => {
    for (const key of keys) await page.tap(`#bench-shot [data-key="${key}"]`);
  };
  await waitFor(page, "bench-shot-arrow", /^\d+$/);
  const keys = await page.$$eval("#bench-shot button", (all) => all.map((each) => each.getBoundingClientRect()).map(({ width, height }) => Math.min(width, height)));
  assert.ok(keys.length === 13 && Math.min(...keys) >= 56, `${keys}`);
  assert.equal(await page.$eval("#bench-shot-speed", (input) => input.inputMode), "none", "no keyboard covers the keys");
  await page.tap("#bench-shot-add");
  await waitFor(page, "bench-shot-said", /^Speed: enter what the chronograph shows\.$/);
  await type(page, "bench-shot-arrow", "412");
  await tap(["2", "7", "1", "back", "0"]);
  assert.equal(await read(page, "bench-shot-said"), "");
  await page.tap("#bench-shot-add");
  await waitFor(page, "bench-shot-done", /^Added shot 1\.$/);
  for (const speed of ["272", "268"]) {
    await tap(speed);
    await page.tap("#bench-shot-add");
  }
  await waitFor(page, "bench-shot-groups", /^412\sgr: 3 shots, mean 270\.0\sfps, 268 to 272, standard deviation 2\.0\.$/);
  assert.deepEqual(await shotNames(page), ["3", "2", "1"], "the last shot is on top");
  await tap("9999");
  await page.tap("#bench-shot-add");
  await waitFor(page, "bench-shot-said", /^Speed: 50\sfps to 500\sfps\.$|^Speed: /);
  assert.equal((await shotNames(page)).length, 3);
  await page.tap('#bench-shots [aria-label="Remove shot 2"]');
  await waitFor(page, "bench-shot-groups", /2 shots, mean 269\.0/);
  assert.deepEqual(await tooWide(page), []);
  await paste(page, "bench-speeds-text", "412 270\n412 2x7\n412 268\n");
  await waitFor(page, "bench-speeds-text-said", /^Row 2, speed: “2x7” is not a number.* The others are used\.$/);
  await type(page, "bench-shot-speed", "269");
  await press(page, "Enter");
  await waitFor(page, "bench-shot-groups", /3 shots, mean 269\.0/);
  assert.equal(await read(page, "bench-speeds-text"), "412 270\n412 2x7\n412 268\n412; 269", "the bad row is still there");
  assert.deepEqual(page.complaints, []);
});

test("decimal commas and other units are read, and follow a change of units", async () => {
  const page = await fresh("bench-force");
  await page.select("#all-units", "metric");
  await paste(page, "bench-force-text", "16,51 0\n30,48;20,9\n45,7 24,1\n68,58\t5,4");
  await waitFor(page, "bench-force-words", /^Measured stored energy [\d.]+\sJ/);
  const { lists } = await saved(page);
  assert.ok(Math.abs(lists.drawForce[1][0] - 12) < 1e-9 && Math.abs(lists.drawForce[0][0] - 6.5) < 1e-9);
  await page.select("#all-units", "archery");
  await waitFor(page, "bench-force-text", /^6\.5; 0\n12; 46\.08/);
});

test("shots tell speed, energy and virtual mass; an odd one is named and counts", async () => {
  const page = await fresh("bench-speeds");
  const before = await read(page, "launch-speed");
  await paste(page, "bench-speeds-text", "350 284.5\n");
  await waitFor(page, "bench-speeds-words", /mostly the default for the bow type/);
  assert.match(await result(page, "launchSpeedFps"), /measured$/);
  assert.notEqual(await read(page, "launch-speed"), before);
  assert.match(await result(page, "speed-from"), /^The speed is measured: from your chronograph/);
  await paste(page, "bench-speeds-text", SHOTS);
  await waitFor(page, "bench-speeds-words", /^Your bow delivers .* ± /);
  assert.match(await page.$eval("#bench-speeds-facts", (list) => list.textContent), /Scatter of one shot: .*Speed of this arrow: ± /s);
  await page.waitForFunction(() => document.querySelectorAll("#bench-shots tbody tr").length === 4);
  // The shot in the fields counts as one more.
  await page.evaluate(() => document.querySelectorAll(".more").forEach((each) => (each.open = true)));
  await type(page, "chronographSpeedFps", "267");
  await type(page, "chronographArrowGr", "410");
  await page.waitForFunction(() => document.querySelectorAll("#bench-shots tbody tr").length === 5);
  assert.match(await page.$eval("#bench-shots tbody tr:first-child", (row) => row.textContent), /^on the form410\sgr267\sfps/);
  // It goes into the list with the next shot: one home for speed.
  await type(page, "bench-shot-arrow", "410");
  await type(page, "bench-shot-speed", "268");
  await press(page, "Enter");
  await page.waitForFunction(() => document.querySelectorAll("#bench-shots tbody tr").length === 6);
  assert.deepEqual(await shotNames(page), ["6", "5", "4", "3", "2", "1"]);
  assert.equal(await read(page, "chronographSpeedFps"), "");
  await paste(page, "bench-speeds-text", `${SHOTS}400 255\n`);
  await page.waitForFunction(() => /Shot 5, 400\sgr at 255\sfps/.test(document.getElementById("bench-speeds-facts").textContent));
  assert.match(await page.$eval("#bench-shots", (table) => table.textContent), /5, check/);
  await paste(page, "bench-speeds-text", "350 250\n480 260\n");
  await page.waitForFunction(() => /readings disagree/.test(document.getElementById("caution-list").textContent));
});

test("the part that is off is named, and a rig's spine is taken over", async () => {
  const page = await fresh("bench-arrow");
  await page.click("#bench-rig > summary");
  // Shaft and cut are given, lest another insert choose others.
  await type(page, "staticSpineThousandths", "340");
  await type(page, "cutLengthIn", "28");
  await type(page, "insertGr", "32");
  const weight = Number.parseFloat(await result(page, "totalWeightGr"));
  await type(page, "finishedWeightGr", String(weight));
  await waitFor(page, "bench-arrow-words", /Balance it too/);
  const balance = Number.parseFloat(await result(page, "balancePointIn"));
  await type(page, "finishedBalanceIn", String(balance));
  await waitFor(page, "bench-arrow-words", /Within measuring error\./);
  await type(page, "insertGr", "20");
  await page.waitForFunction(() => /^Insert: weighs 3[123].*, not 20\sgr/.test(document.querySelector("#bench-arrow-parts li")?.textContent ?? ""));
  await type(page, "rigReadingIn", ".33");
  await type(page, "rigSpanIn", "26");
  await type(page, "rigWeightLb", "2");
  await waitFor(page, "bench-rig-words", /^Measured static spine 399\.\d, ± /);
  await page.click("#bench-rig-use");
  await waitFor(page, "staticSpineThousandths", /^399\.\d$/);
  assert.equal(await whose(page, "staticSpineThousandths"), "your value");
});

test("a proven arrow, of this setup or a kept one, becomes the target and can be taken back", async () => {
  const page = await fresh("bench-proven");
  await waitFor(page, "bench-proven-words", /^In use: the standard target .* column load 1\.08\.$/);
  assert.equal(await result(page, "target-words"), "Matched to the standard target for this release.");
  await type(page, "staticSpineThousandths", "250");
  await waitFor(page, "match-words", /stiff/i);
  await openTool(page, "keeping");
  await type(page, "keep-name", "Tunes well");
  await page.click("#keep-it");
  await waitFor(page, "kept", /Tunes well/);
  await openTool(page, "bench-proven");
  await page.click("#bench-proven-use");
  await waitFor(page, "match-words", /^[Gg]ood match$/);
  assert.equal(await result(page, "target-words"), "Matched to your reference arrow.");
  assert.match(await result(page, "targetLoad"), /measured$/);
  const load = (await saved(page)).inputs.provenColumnLoad;
  await page.click("#bench-proven-drop");
  await waitFor(page, "match-words", /stiff/i);
  await type(page, "staticSpineThousandths", "400");
  await page.waitForFunction(() => [...document.querySelectorAll("#bench-proven-of option")].some((each) => each.textContent === "Tunes well"));
  const id = await page.$$eval("#bench-proven-of option", (all) => all.find((each) => each.textContent === "Tunes well").value);
  await page.select("#bench-proven-of", id);
  await page.click("#bench-proven-use");
  await waitFor(page, "bench-proven-words", /^In use: your reference arrow/);
  assert.equal((await saved(page)).inputs.provenColumnLoad, load);
  assert.equal(await read(page, "bench-proven-of"), id, "the choice stays");
});

test("nock, bores, blades and vanes are judged, and what is amiss says so in words", async () => {
  const page = await fresh("bench-fit");
  const fits = () => page.$eval("#bench-fits", (list) => list.textContent);
  await type(page, "servedStringIn", "0.112");
  await page.waitForFunction(() => document.getElementById("bench-fits").textContent.includes("Nock grooves of 0.110"));
  for (const [throat, words] of [["0.107", "Check: Too tight"], ["0.113", "Good fit"], ["0.12", "Check: Too loose"]]) {
    await type(page, "nockThroatIn", throat);
    await page.waitForFunction((wanted) => document.getElementById("bench-fits").textContent.includes(wanted), {}, words);
  }
  await type(page, "insertOuterIn", "0.21");
  await page.waitForFunction(() => document.getElementById("bench-fits").textContent.includes("never force it"));
  await type(page, "cutLengthIn", "28");
  await page.select("#pointKind", "fixedBlade");
  await page.evaluate(() => document.querySelectorAll(".more").forEach((each) => (each.open = true)));
  await type(page, "bladeLengthIn", "3.5");
  await page.waitForFunction(() => document.getElementById("bench-fits").textContent.includes("your hand"));
  assert.match(await cautions(page), /Do not shoot: broadhead blades too close/);
  assert.match(await fits(), /Vanes and rest, undrawn/);
});

test("readings are kept, travel in a link and a file of one's own, and the single file reads them too", async () => {
  const page = await fresh("bench-speeds", { url: singleFile });
  await paste(page, "bench-speeds-text", SHOTS);
  await waitFor(page, "bench-speeds-words", /^Your bow delivers .* ± /);
  await openTool(page, "keeping");
  await waitFor(page, "share-link", /speeds=350,285&speeds=350,284&speeds=480,250/);
  await page.reload();
  await waitForAnswers(page);
  await openTool(page, "bench-speeds");
  await waitFor(page, "bench-speeds-text", /^350; 285\n350; 284\n480; 250\n480; 251$/);
  assert.deepEqual(page.complaints, []);
});
