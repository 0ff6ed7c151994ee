// The main job as a new user does it: three numbers in, an arrow to order out; then one field taken over and handed
// back, units, a slip of the hand, a reload, and the same with the server stopped and from the disk.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { choose, open, openTool, press, pressBeside, project, read, result, reveal, singleFile, stage, stored } from "./support.mjs";
import { temporaryFolder, type, waitFor, waitForAnswers, whose } from "./support.mjs";

const here = stage({ forEachTest: true });

const has = (page, selector) => page.$eval(selector, (element) => element.checkVisibility());

async function newcomer(url = here.server.url) {
  const page = await open(here.chromium.browser, url);
  await page.waitForSelector("html.scripted");
  assert.equal(await whose(page, "peakDrawWeightLb"), "default");
  assert.equal(await read(page, "peakDrawWeightLb"), "", "nothing is assumed that is asked for");
  await type(page, "peakDrawWeightLb", "60");
  await type(page, "drawLengthIn", "28 1/2");
  await type(page, "pointGr", "125");
  await page.keyboard.press("Tab");
  return page;
}

/** What is kept in the browser, as a saved build. */
const kept = async (page) => (await stored(page, "clothyard.setup")).build;

test("a sample is one choice away, with its name and its arrow", async () => {
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  assert.match(await read(page, "match-words"), /^(Good match|Too|Slightly)/);
  assert.match(await read(page, "match-sentence"), /^Matches about \d+-\d+\slb\. Your bow: 62\slb\./);
  assert.match(await read(page, "setup-name"), /^Sallow Field/);
  assert.equal(await page.$$eval("#arrow-marks polygon", (shapes) => shapes.length > 8), true);
  assert.deepEqual(page.complaints, []);
});

test("three numbers give an arrow to order", async () => {
  const page = await newcomer();
  assert.equal(await read(page, "match-words"), "Good match");
  assert.match(await read(page, "spine"), /^\d+$/);
  assert.match(await read(page, "cut"), /^2[789]( \d\/\d)?$/);
  await page.click("[data-part=point]");
  assert.match(await read(page, "part-words"), /^Your values: point weight 125\sgr\.$/);
  assert.match(await read(page, "part-vanes"), /^3 × 7\sgr$/);
  assert.deepEqual(page.complaints, []);
});

test("the page says what scripts/evaluate says of the same build", async () => {
  const page = await newcomer();
  await page.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":125'));
  const file = join(temporaryFolder(), "build.json");
  writeFileSync(file, JSON.stringify(await kept(page)));
  const report = JSON.parse(execFileSync(join(project, "scripts/evaluate"), [file], { encoding: "utf8" }));
  await openTool(page, "results");
  await page.waitForFunction(() => /\d/.test(document.getElementById("totalWeightGr").textContent));
  for (const key of Object.keys(report.results)) {
    const shown = await read(page, key);
    if (report.results[key] === null) continue;
    const number = Number(shown.replace(/[\s%].*/, ""));
    const decimals = shown.replace(/[\s%].*/, "").split(".")[1]?.length ?? 0;
    assert.ok(Math.abs(number - report.results[key]) <= 0.5000001 * 10 ** -decimals, `${key}: ${shown}, ${report.results[key]}`);
  }
  assert.equal(await read(page, "match-sentence"), report.matchSentence);
});

test("one field is taken over, and reset", async () => {
  const page = await newcomer();
  await reveal(page, "staticSpineThousandths");
  const proposed = await read(page, "staticSpineThousandths");
  await type(page, "staticSpineThousandths", ".600");
  await page.keyboard.press("Tab");
  assert.equal(await read(page, "staticSpineThousandths"), "600");
  assert.equal(await whose(page, "staticSpineThousandths"), "your value");
  assert.equal(await read(page, "danger-words"), "Do not shoot: shaft far too weak");
  await pressBeside(page, "staticSpineThousandths", "back");
  assert.equal(await read(page, "staticSpineThousandths"), proposed);
  assert.equal(await read(page, "match-words"), "Good match");
  assert.equal(await page.evaluate(() => document.activeElement.id), "staticSpineThousandths");
});

test("numbers move while the cut is dragged, and only then", async () => {
  const page = await newcomer();
  const slider = "#cutLengthIn-slider";
  const cut = () => page.$eval(slider, (each) => Number(each.value));
  const [weight, before] = [Number.parseFloat(await read(page, "total-weight")), await cut()];
  await page.focus(slider);
  await press(page, "ArrowRight", "ArrowRight");
  assert.equal(await cut(), before + 0.25);
  assert.ok(Number.parseFloat(await read(page, "total-weight")) > weight);
  await page.focus("#pointGr");
  const box = await (await page.$("#pointGr")).boundingBox();
  await page.mouse.move(box.x + 5, box.y + 5);
  await page.mouse.wheel({ deltaY: -200 });
  assert.equal(await read(page, "pointGr"), "125");
  await page.$eval(slider, (each) => {
    each.dispatchEvent(new PointerEvent("pointerdown", { bubbles: true }));
    each.value = 26;
    each.dispatchEvent(new Event("input", { bubbles: true }));
  });
  assert.equal(await read(page, "cut"), "26");
  await page.$eval(slider, (each) => each.dispatchEvent(new PointerEvent("pointercancel", { bubbles: true })));
  assert.equal(await cut(), before + 0.25, "a swipe that turned into scrolling leaves the value alone");
});

test("signs and units survive a comma that could be two things", async () => {
  const page = await newcomer();
  await type(page, "restOffsetIn", "-1,125");
  await type(page, "pointGr", "10,125 g");
  await page.keyboard.press("Tab");
  assert.equal(await read(page, "restOffsetIn"), "-1.125");
  assert.equal(await read(page, "pointGr"), "156.25");
});

test("no remedy for the match leaves the arrow too light for the bow", async () => {
  const page = await newcomer();
  for (const [id, text] of [["peakDrawWeightLb", "70"], ["drawLengthIn", "29"], ["staticSpineThousandths", "350"], ["shaftGrPerIn", "7"], ["pointGr", "120"]]) {
    await type(page, id, text);
  }
  await page.keyboard.press("Tab");
  assert.match(await read(page, "match-words"), /weak$/);
  const least = 350 - (Number.parseFloat(await read(page, "total-weight")) - 120);
  const point = Number.parseFloat((await read(page, "neighbor")).match(/(\d+)\sgr point/)?.[1] ?? "999");
  assert.ok(point >= least - 0.5, `${point} gr of point, ${least} gr needed`);
});

test("a slider moved over an entry that could not be read takes its place", async () => {
  const page = await newcomer();
  await type(page, "cutLengthIn", "abc");
  await page.keyboard.press("Tab");
  await waitFor(page, "cutLengthIn-said", /^10 to 40\sin$/);
  await page.focus("#cutLengthIn-slider");
  await press(page, "ArrowRight");
  assert.match(await read(page, "cutLengthIn"), /^\d+(\.\d+)?$/);
  assert.doesNotMatch(await read(page, "worst-link"), /Results are for/);
});

test("plus, minus and the arrow keys step", async () => {
  const page = await newcomer();
  await pressBeside(page, "peakDrawWeightLb", "plus");
  assert.equal(await read(page, "peakDrawWeightLb"), "61");
  await page.focus("#peakDrawWeightLb");
  await press(page, "ArrowDown", "ArrowDown");
  assert.equal(await read(page, "peakDrawWeightLb"), "59");
  await type(page, "letOffPercent", "97");
  await press(page, "ArrowUp");
  assert.equal(await read(page, "letOffPercent"), "99", "up is never down");
  await page.select("#all-units", "metric");
  await pressBeside(page, "peakDrawWeightLb", "plus");
  assert.equal(await read(page, "peakDrawWeightLb"), "26.8", "steps are round in the unit shown");
});

test("a slip of the hand keeps the last good answer, says so, and loses nothing", async () => {
  const page = await newcomer();
  const good = await read(page, "total-weight");
  await type(page, "pointGr", "12x");
  await page.keyboard.press("Tab");
  await waitFor(page, "pointGr-said", /^unit: gr, g$/);
  assert.equal(await page.$eval("#pointGr", (field) => field.getAttribute("aria-invalid")), "true");
  assert.match(await read(page, "worst-link"), /^Point weight: .* Results are for 125\sgr\.$/);
  assert.equal(await read(page, "pointGr"), "12x");
  assert.equal(await read(page, "total-weight"), good);

  await type(page, "peakDrawWeightLb", "1,234");
  await page.keyboard.press("Tab");
  await waitFor(page, "peakDrawWeightLb-said", /^5 to 150\slb$/);
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
  assert.doesNotMatch(await read(page, "worst-link"), /Results are for/);
});

test("what is hardly meant is asked, and one tap answers", async () => {
  const page = await newcomer();
  await type(page, "letOffPercent", ".8");
  await waitFor(page, "letOffPercent-said", /^0\.8% or 80%\?$/);
  await page.waitForSelector("#help .meant:last-child");
  await page.click("#help .meant:last-child");
  assert.equal(await read(page, "letOffPercent"), "80");
  assert.equal(await read(page, "letOffPercent-said"), "");
});

test("units change all at once or one by one, and come back exactly", async () => {
  const page = await newcomer();
  const fields = () => page.$$eval("main input[type=text], output", (all) => all.map((each) => each.value ?? each.textContent));
  const before = await fields();
  await page.select("#all-units", "metric");
  assert.equal(await read(page, "drawLengthIn"), "72.39");
  assert.equal(await read(page, "drawLengthIn-unit"), "cm");
  assert.match(await read(page, "launch-speed"), /m\/s$/);
  await page.select("#all-units", "archery");
  assert.deepEqual(await fields(), before);
  await page.select("#unit-speed", await page.$eval("#unit-speed option:nth-child(2)", (option) => option.value));
  assert.match(await read(page, "launch-speed"), /m\/s$/);
  assert.match(await read(page, "total-weight"), /gr$/);
  assert.equal(await read(page, "all-units"), "mixed");
});

test("undo and redo reach over fields, starts and lists", async () => {
  const page = await newcomer();
  const words = await read(page, "line");
  await page.select("#start", "recurve");
  assert.match(await read(page, "match-sentence"), /Your bow: 36\slb/);
  await page.click("#undo");
  assert.equal(await read(page, "line"), words);
  await page.click("#redo");
  assert.match(await read(page, "match-sentence"), /Your bow: 36\slb/);
  assert.equal(await has(page, "#redo"), false);
});

test("parts of one's own are the user's", async () => {
  const page = await newcomer();
  const weight = Number.parseFloat(await read(page, "total-weight"));
  await page.click("[data-part=shaft]");
  await page.click("#part-list [data-part=own]");
  await page.click("#own-part-add");
  await page.$eval('#own-parts [data-column="1"]', (input) => input.select());
  await page.type('#own-parts [data-column="1"]', "15");
  await page.keyboard.press("Tab");
  assert.ok(Math.abs(Number.parseFloat(await read(page, "total-weight")) - weight - 15) <= 1);
});

test("an arm span fills the draw length and says that it is an estimate; the last given counts", async () => {
  const page = await open(here.chromium.browser, here.server.url);
  await page.waitForSelector("html.scripted");
  await type(page, "peakDrawWeightLb", "60");
  await type(page, "armSpanIn", "70");
  assert.match(await read(page, "worst-link"), /^Draw length is an estimate/);
  assert.equal(await has(page, "#drawLengthIn"), false, "one box for both");
  const cut = await read(page, "cut");
  await choose(page, "drawLengthFrom", "measured");
  await type(page, "drawLengthIn", "27.5");
  assert.equal(await whose(page, "drawLengthIn"), "your value");
  assert.notEqual(await read(page, "cut"), cut);
  await choose(page, "drawLengthFrom", "armSpan");
  assert.equal(await read(page, "cut"), cut, "the span given before counts again");
});

test("a weight on the label of a longbow is asked for in the same place", async () => {
  const page = await open(here.chromium.browser, here.server.url);
  await page.waitForSelector("html.scripted");
  await choose(page, "bowKind", "longbow");
  await choose(page, "drawWeightFrom", "label");
  assert.deepEqual([await has(page, "#peakDrawWeightLb"), await has(page, "#markedWeightLb")], [false, true]);
  await type(page, "markedWeightLb", "45");
  await type(page, "drawLengthIn", "27");
  await waitFor(page, "total-weight", /\d/);
  assert.doesNotMatch(await read(page, "match-sentence"), /Your bow: 45/, "less on the fingers at 27 in");
});

test("a field that can be negative has a button for its sign", async () => {
  const page = await newcomer();
  await type(page, "restOffsetIn", "1 1/2");
  await pressBeside(page, "restOffsetIn", "sign");
  assert.equal(await read(page, "restOffsetIn"), "-1.5");
  assert.match(await result(page, "restPlaceIn"), /^25\.25/);
});

test("with the script off, every field and what it means can be read", async () => {
  const page = await open(here.chromium.browser, here.server.url, (fresh) => fresh.setJavaScriptEnabled(false));
  assert.ok(await has(page, "noscript p"));
  assert.ok(await has(page, "#pointGr"));
  const hint = (id) => page.$eval(`[data-field=${id}]`, (field) => getComputedStyle(field, "::after").content);
  assert.match(await hint("pointGr"), /^"Point or broadhead/);
  assert.equal(await read(page, "pointGr"), "100");
  await Promise.all([page.waitForNavigation(), page.click("noscript a")]);
  assert.ok(await has(page, "#nockGr"), "the fields of every part");
  assert.match(await hint("nockGr"), /^"\w/);
});

test("a danger takes the place of the answer; cautions say where fields disagree", async () => {
  const page = await newcomer();
  await type(page, "cutLengthIn", "24");
  assert.match(await read(page, "danger-words"), /^Do not shoot: /);
  assert.equal(await page.$eval("#answer", (answer) => answer.dataset.state), "danger");
  assert.equal(await page.$eval("#verdict", (verdict) => verdict.checkVisibility({ visibilityProperty: true })), false);
  assert.match(await read(page, "line"), /^Do not shoot: /);
  await pressBeside(page, "cutLengthIn", "back");
  assert.equal(await page.$eval("#answer", (answer) => answer.dataset.state), "answered");
  await type(page, "boreIn", "0.4");
  await page.keyboard.press("Tab");
  await page.click("#undo");
  assert.equal(await page.$eval("#answer", (answer) => answer.dataset.state), "answered");
});

test("every result opens to its formula, the numbers put in, and the source", async () => {
  const page = await newcomer();
  await openTool(page, "results");
  await page.$eval('[data-result="kineticEnergyFtLb"]', (details) => (details.open = true));
  await page.waitForFunction(() => document.querySelector('[data-result="kineticEnergyFtLb"] [data-term="totalWeightGr"]').textContent);
  const text = await page.$eval('[data-result="kineticEnergyFtLb"]', (details) => details.innerText);
  assert.match(text, /KE = m v² \/ 2/);
  assert.match(text, new RegExp(`m\\s+Total weight\\s+${(await read(page, "total-weight")).replace(/\s/, "\\s")}`));
  assert.match(text, /Basis: definition/);
  await type(page, "pointGr", "150");
  const shown = await page.$eval('[data-result="kineticEnergyFtLb"] [data-term="totalWeightGr"]', (cell) => cell.textContent);
  assert.equal(shown.replace("\u{a0}", " "), await read(page, "total-weight"), "an open working follows the fields");
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
  assert.equal(await read(page, "match-words"), "Good match");
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

test("from the first screen to a tool, by keyboard", async () => {
  const page = await newcomer();
  await page.focus('#tasks a[href="#marks"]');
  await press(page, "Enter");
  await page.waitForSelector("#marks[open]", { timeout: 30_000 });
  await page.waitForFunction(() => document.activeElement.closest("#marks"));
  await page.close();
});
