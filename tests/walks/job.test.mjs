// The main job as a new user does it: three numbers in, an arrow to order out; then one field taken over and handed
// back, units, a slip of the hand, a reload, and the same with the server stopped and from the disk.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { open, press, project, read, singleFile, stage, stored } from "./support.mjs";
import { temporaryFolder, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage({ forEachTest: true });

const has = (page, selector) => page.$eval(selector, (element) => element.checkVisibility());
const whose = (page, id) => read(page, `${id}-whose`);

async function newcomer(url = here.server.url) {
  const page = await open(here.chromium.browser, url);
  await waitForAnswers(page);
  await page.click("#start-blank");
  assert.equal(await has(page, "#example"), false);
  assert.equal(await whose(page, "peakDrawWeightLb"), "default");
  await type(page, "peakDrawWeightLb", "60");
  await type(page, "drawLengthIn", "28 1/2");
  await type(page, "pointGr", "125");
  await page.keyboard.press("Tab");
  return page;
}

/** What is kept in the browser, as a saved build. */
const kept = async (page) => (await stored(page, "clothyard.setup")).build;

test("the first sight is a live example", async () => {
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  assert.match(await read(page, "match-words"), /^(well matched|acts weak|acts stiff)$/);
  assert.match(await read(page, "match-sentence"), /^Suits [\d.]+ to [\d.]+\slb; your bow pulls 62: well matched\.$/);
  assert.match(await read(page, "example"), /^An invented example, Sallow Field/);
  assert.equal(await page.$$eval("#arrow-marks polygon", (shapes) => shapes.length > 8), true);
  assert.deepEqual(page.complaints, []);
});

test("three numbers give an arrow to order", async () => {
  const page = await newcomer();
  assert.equal(await read(page, "match-words"), "well matched");
  assert.match(await read(page, "order"), /^Osier \d+ \(spine \d+\), cut 27\.5\sin; insert 20\sgr, point 125\sgr; 3 vanes of 7\sgr\.$/);
  assert.match(await read(page, "assumed"), /^Defaults: .*static spine.*cut length/);
  assert.match(await read(page, "given"), /^Your values: draw weight 60\slb; draw length 28\.5\sin; point weight 125\sgr\.$/);
  assert.deepEqual(page.complaints, []);
});

test("the page says what scripts/evaluate says of the same build", async () => {
  const page = await newcomer();
  await page.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":125'));
  const file = join(temporaryFolder(), "build.json");
  writeFileSync(file, JSON.stringify(await kept(page)));
  const report = JSON.parse(execFileSync(join(project, "scripts/evaluate"), [file], { encoding: "utf8" }));
  for (const key of Object.keys(report.results)) {
    const shown = await read(page, key);
    if (report.results[key] === null) continue;
    const number = Number(shown.replace(/\s.*/, ""));
    const decimals = shown.replace(/\s.*/, "").split(".")[1]?.length ?? 0;
    assert.ok(Math.abs(number - report.results[key]) <= 0.5000001 * 10 ** -decimals, `${key}: ${shown}, ${report.results[key]}`);
  }
  assert.equal(await read(page, "match-sentence"), report.matchSentence);
});

test("one field is taken over, and handed back", async () => {
  const page = await newcomer();
  const proposed = await read(page, "staticSpineThousandths");
  await type(page, "staticSpineThousandths", ".600");
  await page.keyboard.press("Tab");
  assert.equal(await read(page, "staticSpineThousandths"), "600");
  assert.equal(await whose(page, "staticSpineThousandths"), "your value");
  assert.equal(await read(page, "match-words"), "acts weak");
  assert.match(await read(page, "mend"), /^It would match with .*a draw weight of [\d.]+\slb\.$/);
  await page.click('[data-field="staticSpineThousandths"] .back');
  assert.equal(await read(page, "staticSpineThousandths"), proposed);
  assert.equal(await read(page, "match-words"), "well matched");
  assert.equal(await page.evaluate(() => document.activeElement.id), "staticSpineThousandths");
});

test("numbers move while a slider is dragged, and only then", async () => {
  const page = await newcomer();
  const before = Number.parseFloat(await read(page, "total-weight"));
  await page.focus("#pointGr-slider");
  await press(page, "ArrowRight", "ArrowRight");
  assert.equal(await read(page, "pointGr"), "135");
  assert.ok(Number.parseFloat(await read(page, "total-weight")) > before);
  await page.$eval("#pointGr", (field) => field.scrollIntoView({ block: "center" }));
  await page.focus("#pointGr");
  const box = await (await page.$("#pointGr")).boundingBox();
  await page.mouse.move(box.x + 5, box.y + 5);
  await page.mouse.wheel({ deltaY: -200 });
  assert.equal(await read(page, "pointGr"), "135");
  await page.$eval("#pointGr-slider", (slider) => {
    slider.dispatchEvent(new PointerEvent("pointerdown", { bubbles: true }));
    slider.value = 200;
    slider.dispatchEvent(new Event("input", { bubbles: true }));
  });
  assert.equal(await read(page, "pointGr"), "200");
  await page.$eval("#pointGr-slider", (slider) => slider.dispatchEvent(new PointerEvent("pointercancel", { bubbles: true })));
  assert.equal(await read(page, "pointGr"), "135", "a swipe that turned into scrolling leaves the value alone");
});

test("signs and units survive a comma that could be two things", async () => {
  const page = await newcomer();
  await page.evaluate(() => document.querySelectorAll("details.more").forEach((details) => (details.open = true)));
  await type(page, "restOffsetIn", "-1,125");
  await type(page, "pointGr", "10,125 g");
  await page.keyboard.press("Tab");
  assert.equal(await read(page, "restOffsetIn"), "-1.125");
  assert.equal(await read(page, "pointGr"), "156.25");
});

test("no remedy for the match leaves the arrow too light for the bow", async () => {
  const page = await newcomer();
  await page.evaluate(() => document.querySelectorAll("details.more").forEach((details) => (details.open = true)));
  for (const [id, text] of [["peakDrawWeightLb", "70"], ["drawLengthIn", "29"], ["staticSpineThousandths", "350"], ["shaftGrPerIn", "7"], ["pointGr", "120"]]) {
    await type(page, id, text);
  }
  await page.keyboard.press("Tab");
  assert.equal(await read(page, "match-words"), "acts weak");
  const least = 350 - (Number.parseFloat(await read(page, "total-weight")) - 120);
  const point = Number.parseFloat((await read(page, "mend")).match(/a point of ([\d.]+)/)?.[1] ?? "999");
  assert.ok(point >= least - 0.5, `${point} gr of point, ${least} gr needed`);
});

test("a slider moved over an entry that could not be read takes its place", async () => {
  const page = await newcomer();
  await type(page, "peakDrawWeightLb", "abc");
  await page.keyboard.press("Tab");
  await waitFor(page, "peakDrawWeightLb-said", /enter a number/);
  await page.focus("#peakDrawWeightLb-slider");
  await press(page, "ArrowRight");
  assert.match(await read(page, "peakDrawWeightLb"), /^\d+$/);
  assert.equal(await has(page, "#stale"), false);
});

test("plus, minus and the arrow keys step", async () => {
  const page = await newcomer();
  await page.click('[data-field="peakDrawWeightLb"] .plus');
  assert.equal(await read(page, "peakDrawWeightLb"), "61");
  await page.focus("#peakDrawWeightLb");
  await press(page, "ArrowDown", "ArrowDown");
  assert.equal(await read(page, "peakDrawWeightLb"), "59");
  await type(page, "letOffPercent", "97");
  await press(page, "ArrowUp");
  assert.equal(await read(page, "letOffPercent"), "99", "up is never down");
  await page.select("#all-units", "metric");
  await page.click('[data-field="peakDrawWeightLb"] .plus');
  assert.equal(await read(page, "peakDrawWeightLb"), "26.8", "steps are round in the unit shown");
});

test("a slip of the hand keeps the last good answer, says so, and loses nothing", async () => {
  const page = await newcomer();
  const good = await read(page, "total-weight");
  await type(page, "pointGr", "12x");
  await page.keyboard.press("Tab");
  await waitFor(page, "pointGr-said", /^Point weight: .x. is no unit/);
  assert.equal(await page.$eval("#pointGr", (field) => field.getAttribute("aria-invalid")), "true");
  assert.match(await read(page, "stale"), /^Not updated: Point weight/);
  assert.equal(await read(page, "pointGr"), "12x");
  const shown = await read(page, "total-weight");
  assert.ok([good, shown].every((text) => /\d/.test(text)));

  await type(page, "peakDrawWeightLb", "1,234");
  await page.keyboard.press("Tab");
  await waitFor(page, "peakDrawWeightLb-said", /^Draw weight: 1\.23 is out of range; enter 5 to 150\slb\.$/);
  await waitFor(page, "status", /^Draw weight/);

  await page.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes("1,234"));
  await page.reload();
  await waitForAnswers(page);
  assert.equal(await read(page, "pointGr"), "12x", "what could not be read is still there");
  await type(page, "pointGr", "120,5");
  await type(page, "peakDrawWeightLb", "27,2 kg");
  await page.keyboard.press("Tab");
  assert.equal(await read(page, "pointGr"), "120.5");
  assert.equal(await read(page, "peakDrawWeightLb"), "59.97");
  assert.equal(await has(page, "#stale"), false);
});

test("units change all at once or one by one, and come back exactly", async () => {
  const page = await newcomer();
  const fields = () => page.$$eval("#form input[type=text], output", (all) => all.map((each) => each.value ?? each.textContent));
  const before = await fields();
  await page.select("#all-units", "metric");
  assert.equal(await read(page, "drawLengthIn"), "72.39");
  assert.equal(await read(page, "drawLengthIn-unit"), "cm");
  assert.match(await read(page, "launch-speed"), /m\/s$/);
  await page.select("#all-units", "archery");
  assert.deepEqual(await fields(), before);
  await page.click("#settings summary");
  await page.select("#unit-speed", await page.$eval("#unit-speed option:nth-child(2)", (option) => option.value));
  assert.match(await read(page, "launch-speed"), /m\/s$/);
  assert.match(await read(page, "total-weight"), /gr$/);
  assert.equal(await read(page, "all-units"), "mixed");
});

test("undo and redo reach over fields, starts and lists", async () => {
  const page = await newcomer();
  const words = await read(page, "given");
  await page.select("#start", "recurve");
  assert.match(await read(page, "match-sentence"), /pulls 36/);
  await page.click("#undo");
  assert.equal(await read(page, "given"), words);
  await page.click("#redo");
  assert.match(await read(page, "match-sentence"), /pulls 36/);
});

test("the list of shafts and parts of one's own are the user's", async () => {
  const page = await newcomer();
  await page.evaluate(() => document.querySelectorAll("details.more").forEach((details) => (details.open = true)));
  const weight = Number.parseFloat(await read(page, "total-weight"));
  await page.click("#own-part-add");
  await page.$eval('#own-parts [data-column="1"]', (input) => input.select());
  await page.type('#own-parts [data-column="1"]', "15");
  await page.keyboard.press("Tab");
  assert.equal(Number.parseFloat(await read(page, "total-weight")), weight + 15);
  const rows = await page.$$eval("#shafts tbody tr", (all) => all.length);
  await page.click("#shaft-add");
  assert.equal(await page.$$eval("#shafts tbody tr", (all) => all.length), rows + 1);
  await page.type('#shafts tbody tr:last-child [data-column="1"]', "x");
  assert.match(await read(page, "shafts-said"), /^Static spine: enter a number, 100 to 3000\.$/);
  await page.click("#shafts-reset");
  assert.equal(await page.$$eval("#shafts tbody tr", (all) => all.length), rows);
});

test("an arm span fills the draw length and says that it is an estimate", async () => {
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  await page.select("#start", "blank");
  await page.evaluate(() => document.querySelectorAll("details.more").forEach((details) => (details.open = true)));
  await type(page, "armSpanIn", "70");
  assert.equal(await read(page, "drawLengthIn"), "28");
  assert.equal(await whose(page, "drawLengthIn"), "from arm span");
  assert.match(await read(page, "caution-list"), /only estimated from the arm span/);
  await type(page, "drawLengthIn", "27.5");
  assert.equal(await whose(page, "drawLengthIn"), "your value");
  await type(page, "armSpanIn", "5'10\"");
  assert.equal(await read(page, "drawLengthIn"), "28", "the one given last counts");
});

test("a field that can be negative has a button for its sign", async () => {
  const page = await newcomer();
  await page.evaluate(() => document.querySelectorAll("details.more").forEach((details) => (details.open = true)));
  await type(page, "restOffsetIn", "1 1/2");
  await page.click('[data-field="restOffsetIn"] .sign');
  assert.equal(await read(page, "restOffsetIn"), "-1.5");
  assert.match(await read(page, "restPlaceIn"), /^25\.25/);
});

test("with the script off, every field and what it means can be read", async () => {
  const page = await open(here.chromium.browser, here.server.url, (fresh) => fresh.setJavaScriptEnabled(false));
  assert.ok(await has(page, "noscript p"));
  assert.ok(await has(page, "#pointGr"));
  assert.ok(await has(page, "#pointGr-hint"));
  assert.match(await page.$eval("#pointGr-hint", (hint) => hint.textContent), /^The point or broadhead alone/);
  assert.equal(await read(page, "pointGr"), "100");
});

test("cautions say what may harm, and where fields disagree", async () => {
  const page = await newcomer();
  await type(page, "cutLengthIn", "24");
  assert.equal(await read(page, "danger-words"), "Do not shoot yet: one caution below.");
  assert.match(await read(page, "caution-list"), /^Do not shoot: the shaft ends at .*, at or behind the rest/);
  assert.equal(await read(page, "match-words"), "no match");
  await page.click('[data-field="cutLengthIn"] .back');
  await page.select("#drawWeightFrom", "label");
  assert.match(await read(page, "caution-list"), /counts as read off the label/);
  await page.evaluate(() => document.querySelectorAll("details.more").forEach((details) => (details.open = true)));
  await type(page, "armSpanIn", "64");
  await page.select("#drawLengthFrom", "measured");
  assert.match(await read(page, "caution-list"), /arm span suggests a draw length of 25\.60/);
  await type(page, "outerDiameterIn", "0.3");
  await type(page, "boreIn", "0.4");
  await page.keyboard.press("Tab");
  assert.match(await read(page, "caution-list"), /^Check: the inside diameter 0\.400.in must be less than the outer/);
  await page.click("#undo");
  assert.equal(await has(page, "#danger"), false);
});

test("every result opens to its formula, the numbers put in, and the source", async () => {
  const page = await newcomer();
  await page.click('[data-result="kineticEnergyFtLb"] summary');
  await page.waitForFunction(() => document.querySelector('[data-result="kineticEnergyFtLb"] [data-term="totalWeightGr"]').textContent);
  const text = await page.$eval('[data-result="kineticEnergyFtLb"]', (details) => details.innerText);
  assert.match(text, /KE = m v² \/ 2/);
  assert.match(text, new RegExp(`m\\s+Total weight\\s+${(await read(page, "total-weight")).replace(/\s/, "\\s")}`));
  assert.match(text, /Source: definition/);
  await type(page, "pointGr", "150");
  const shown = await page.$eval('[data-result="kineticEnergyFtLb"] [data-term="totalWeightGr"]', (cell) => cell.textContent);
  assert.equal(shown, await read(page, "total-weight"), "an open working follows the fields");
});

test("a reload restores the setup; so does one with the server stopped", async () => {
  const page = await newcomer();
  await waitFor(page, "offline-state", /^Ready to work offline$/);
  await page.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":125'));
  const weight = await read(page, "total-weight");
  await page.reload();
  await waitForAnswers(page);
  assert.equal(await read(page, "total-weight"), weight);
  await here.server.stop();
  await page.reload();
  await waitForAnswers(page);
  assert.equal(await read(page, "total-weight"), weight);
  assert.equal(await read(page, "drawLengthIn"), "28.5");
  await type(page, "pointGr", "100");
  assert.notEqual(await read(page, "total-weight"), weight);
});

test("the single file does the same job from the disk", async () => {
  await here.server.stop();
  const page = await newcomer(singleFile);
  assert.equal(await read(page, "match-words"), "well matched");
  assert.deepEqual(page.complaints, []);
});

test("a setup that cannot be read is kept aside and said", async () => {
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  await page.evaluateOnNewDocument(() => localStorage.setItem("clothyard.setup", '{"build":{"schemaVersion":9}}'));
  await page.reload();
  await waitForAnswers(page);
  assert.match(await read(page, "unread"), /could not be read: schemaVersion 9/);
  assert.equal(await read(page, "unread-text"), '{"build":{"schemaVersion":9}}');
  assert.match(await page.evaluate(() => localStorage.getItem("clothyard.setup.unread")), /"schemaVersion":9/);
});

test("from the top to a section further down, by keyboard", async () => {
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  await page.focus("#further > summary");
  await press(page, "Enter", "Tab", "Tab", "Enter");
  await page.waitForFunction(() => document.activeElement.id === "seen");
  const heading = await page.$eval("#seen-heading", (element) => element.getBoundingClientRect().top);
  const covered = await page.$eval("#drawing", (element) => element.getBoundingClientRect().bottom);
  assert.ok(heading >= covered && heading < 900, `${heading} ${covered}`);
  await press(page, "Tab", "Enter");
  assert.equal(await page.$eval("#seen > details", (view) => view.open), true, "the first view is the next thing to reach");
  await page.close();
});
