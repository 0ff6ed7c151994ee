// Building: shafts sorted, the build sheet printed, the tuning log. Every shaft is made up.

import assert from "node:assert/strict";
import { test } from "node:test";
import { audit, launch, leave, open, onFirstScreen, openTool, pause, read, result, rows, saves, serve, singleFile, stage, tooWide } from "./support.mjs";
import { choose, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

async function fresh(view, url = here.server.url, prepare) {
  const page = await open(await here.chromium.browser.createBrowserContext(), url, prepare);
  await waitForAnswers(page);
  if (view) await openTool(page, view);
  return page;
}

/** Puts a text where the focus is at once, as pasting does. */
async function paste(page, id, text) {
  await page.$eval(`#${id}`, (field) => (field.focus(), field.select()));
  await page.keyboard.sendCharacter(text);
}

// Weight in grains, four spine readings, straightness and balance point in inches. Row 9 is crooked.
const DOZEN = [
  [351.2, 401, 396, 402, 395, 0.001, 14.1],
  [353.9, 399, 399, 398, 400, 0.002, 14.2],
  [350.7, 404, 398, 404, 399, 0.001, 14.0],
  [356.1, 397, 401, 396, 402, 0.003, 14.2],
  [351.9, 400, 397, 401, 396, 0.002, 14.1],
  [347.5, 408, 404, 409, 403, 0.001, 13.9],
  [352.4, 402, 395, 401, 396, 0.004, 14.1],
  [354.6, 396, 400, 397, 399, 0.001, 14.2],
  [351.5, 400, 398, 400, 398, 0.009, 14.1],
  [350.1, 405, 400, 404, 401, 0.002, 14.0],
  [352.8, 398, 403, 399, 402, 0.001, 14.1],
  [372.0, 401, 399, 400, 399, 0.002, 14.4],
];
const TEXT = `weight\tspine 1\tspine 2\tspine 3\tspine 4\tstraight\tbalance\n${DOZEN.map((row) => row.join("\t")).join("\n")}\n`;

const mean = (list) => list.reduce((sum, each) => sum + each, 0) / list.length;
const range = (list) => Math.max(...list) - Math.min(...list);
const deviation = (list) => Math.sqrt(list.reduce((sum, each) => sum + (each - mean(list)) ** 2, 0) / (list.length - 1));
const spineOf = (row) => mean(row.slice(1, 5));

/** Every way to take so many of a list. */
function* choices(list, wanted, from = 0) {
  if (wanted === 0) yield [];
  for (let place = from; wanted > 0 && place <= list.length - wanted; place += 1) {
    for (const rest of choices(list, wanted - 1, place + 1)) yield [list[place], ...rest];
  }
}

/** Tries every set of straight shafts: numbers from 1, and what the spreads of its weight and spine come to. */
function bestSet(wanted, perWeight, perSpine) {
  const straight = DOZEN.map((_, place) => place).filter((place) => DOZEN[place][5] <= 0.006);
  let best = { cost: Infinity };
  for (const set of choices(straight, wanted)) {
    const weight = range(set.map((place) => DOZEN[place][0]));
    const spine = range(set.map((place) => spineOf(DOZEN[place])));
    const cost = weight / perWeight + spine / perSpine;
    if (cost < best.cost - 1e-9) best = { cost, weight, spine, numbers: set.map((place) => place + 1) };
  }
  return best;
}

const numbersIn = (text) => text.match(/\d+(\.\d+)?/g).map(Number);

test("a pasted dozen: the set is what trying every set gives, the spreads are those of the numbers", async () => {
  const page = await fresh("batch");
  await paste(page, "batch-text", TEXT);
  for (const [wanted, perWeight, perSpine] of [[6, 3, 5], [4, 3, 5], [6, 1, 20]]) {
    const best = bestSet(wanted, perWeight, perSpine);
    const list = `${best.numbers.slice(0, -1).join(", ")} and ${best.numbers.at(-1)}`;
    await type(page, "setSize", String(wanted));
    await type(page, "weightWorthGr", String(perWeight));
    await type(page, "spineWorthThousandths", String(perSpine));
    const said = await waitFor(page, "batch-set", new RegExp(`^Tightest ${wanted} of the batch: numbers ${list}, range`));
    const [weight, spine] = numbersIn(said.split(", range")[1]);
    assert.ok(Math.abs(weight - best.weight) < 0.051 && Math.abs(spine - best.spine) < 0.051, said);
    const marked = (await rows(page, "batch-table")).filter((row) => row[1] === "the set").map((row) => Number(row[0]));
    assert.deepEqual(marked, best.numbers);
    assert.equal(await page.$$eval("#batch-marks .set", (marks) => marks.length), wanted);
  }
  const measured = [DOZEN.map((row) => row[0]), DOZEN.map(spineOf), DOZEN.map((row) => row[5]), DOZEN.map((row) => row[6])];
  const shown = await rows(page, "batch-all");
  measured.forEach((list, place) => {
    const wanted = [list.length, Math.min(...list), mean(list), Math.max(...list), range(list), deviation(list)];
    const digits = [1, 1, 4, 3][place];
    assert.deepEqual(shown[place].slice(1), [String(list.length), ...wanted.slice(1).map((number) => number.toFixed(digits))]);
  });
  const uses = await page.$eval("#batch-uses", (list) => list.innerText);
  assert.match(uses, /9: leave out: straightness over 0\.006\sin/);
  assert.match(uses, /12.*: leave out: more than/);
  // Readings 401, 396, 402, 395: the planes differ by 401.5 - 395.5, the stiffer a quarter turn on.
  assert.equal((await rows(page, "batch-table"))[0][6], "90° and 270°, by 6.0");
  assert.match(await read(page, "batch-stiff"), /Four readings find the stiffer of two planes/);
  assert.deepEqual(page.complaints, []);
});

test("a batch with its own numbers makes a dozen, is read out at each mark, and fills the rows of the sheet", async () => {
  const page = await fresh("batch");
  const straight = [...DOZEN.filter((row) => row[5] <= 0.006), [352.1, 400, 398, 400, 398, 0.001, 14.1]];
  const numbered = straight.map((row, place) => [41 + 3 * place, ...row]);
  await paste(page, "batch-text", `No.\tweight\tspine\tspine\tspine\tspine\tstraightness\tbalance\n${numbered.map((row) => row.join("\t")).join("\n")}\n`);
  const list = numbered.map((row) => row[0]);
  await waitFor(page, "batch-set", new RegExp(`^Tightest 12 of the batch: numbers ${list.slice(0, -1).join(", ")} and ${list.at(-1)}, range`));
  assert.deepEqual((await rows(page, "batch-table")).map((row) => Number(row[0])), list);
  // No number is on a mark or on another number.
  const boxes = await page.$$eval("#batch-marks .number", (all) => all.map((each) => each.getBoundingClientRect()).map(({ left, right, top, bottom }) => [left, right, top + 3, bottom - 3]));
  const apart = ([l1, r1, t1, b1], [l2, r2, t2, b2]) => r1 <= l2 || r2 <= l1 || b1 <= t2 || b2 <= t1;
  for (const [place, box] of boxes.entries()) assert.ok(boxes.slice(0, place).every((other) => apart(box, other)), `${box}`);
  await page.$eval("#batch-chart", (chart) => chart.focus());
  await page.keyboard.press("ArrowRight");
  await waitFor(page, "batch-at", /^Number 44: weight 353\.9\sgr, spine 399, straightness 0\.002\sin, balance point 14\.2\sin\. Keep for: the set\.$/);
  assert.equal(await page.$$eval("#batch-cursor .ring", (rings) => rings.length), 1);
  const mark = await page.$$eval("#batch-marks .set", (all) => all.map((each) => each.getBoundingClientRect()).map(({ x, y, width, height }) => [x + width / 2, y + height / 2]));
  await page.mouse.move(...mark[0]);
  await waitFor(page, "batch-at", /^Number 41: /);
  await openTool(page, "sheet");
  await waitFor(page, "sheet-shaft", /^Shaft: spine \d+, outside diameter 0\.\d+\sin, inside 0\.\d+\sin\.$/);
  const arrows = await rows(page, "sheet-arrows");
  assert.deepEqual(arrows.map((row) => Number(row[0])), list);
  // Readings 401, 396, 402, 395: the stiff plane is a quarter turn on.
  assert.deepEqual(arrows[0], ["41", "351.2", "399", "90°"]);
  await openTool(page, "batch");
  await paste(page, "batch-text", "No. weight\n7 350\n7 351\n8 352\n");
  await waitFor(page, "batch-numbers", /^Two shafts have the same number: numbered by row instead\.$/);
  assert.deepEqual((await rows(page, "batch-table")).map((row) => row[0]), ["1", "2", "3"]);
  assert.deepEqual(page.complaints, []);
});

test("the steps for wood are those for wood", async () => {
  const page = await fresh("sheet");
  const steps = async () => (await rows(page, "sheet-steps")).map((row) => row[1]).join(" ");
  await waitFor(page, "sheet-steps", /abrasive cut-off saw/);
  assert.doesNotMatch(await steps(), /taper|fine-tooth/);
  await choose(page, "shaftMaterial", "wood");
  await waitFor(page, "sheet-steps", /fine-tooth saw, then taper both ends/);
  assert.doesNotMatch(await steps(), /abrasive|isopropyl/);
  assert.doesNotMatch(await read(page, "sheet-shaft"), /inside/);
});

test("the height that weights make goes with their spread, and is near that of a vacuum", async () => {
  const page = await fresh("batch");
  await paste(page, "batch-text", TEXT);
  const said = await waitFor(page, "batch-height", /^At 30\syd/);
  const [at, ofSet, high, whole, wholeHigh, size, tolerance] = numbersIn(said);
  assert.equal(at, 30);
  assert.equal(size, 2);
  assert.ok(Math.abs(whole - range(DOZEN.map((row) => row[0]))) < 0.051);
  const slope = wholeHigh / whole;
  // Heights are said to a hundredth of an inch.
  assert.ok(Math.abs(high - ofSet * slope) < 0.006, said);
  assert.ok(Math.abs(tolerance * slope - size) < 0.015, said);
  // In a vacuum, shot level, h = g x^2 (m + K) / (4 E): the kinetic energy gives E, the virtual mass K.
  const grain = 6.479891e-5;
  const number = async (id) => numbersIn(await result(page, id))[0];
  const [speed, mass, moving] = [(await number("launchSpeedFps")) * 0.3048, (await number("totalWeightGr")) * grain, (await number("movingMassGr")) * grain];
  const vacuum = (9.80665 * (30 * 0.9144) ** 2 * grain) / (2 * speed * speed * (mass + moving)) / 0.0254;
  assert.ok(slope > 0.85 * vacuum && slope < 1.1 * vacuum, `${slope} against ${vacuum} in/gr`);
});

test("a row that cannot be read is named, loses nothing, and changes nothing", async () => {
  const page = await fresh("batch");
  await paste(page, "batch-text", TEXT);
  const good = await waitFor(page, "batch-set", /^Tightest 6 /);
  const bad = TEXT.replace("353.9", "3x3");
  await paste(page, "batch-text", bad);
  await waitFor(page, "batch-text-said", /^Row 3, weight: “3x3” is not a number; enter 30 to 1500\sgr\.$/);
  assert.equal(await page.$eval("#batch-text", (area) => area.getAttribute("aria-invalid")), "true");
  assert.equal(await read(page, "batch-set"), good);
  await page.evaluate(() => document.activeElement.blur());
  await pause(1200);
  await page.reload();
  await waitForAnswers(page);
  await openTool(page, "batch");
  await waitFor(page, "batch-text-said", /^Row 3, weight/);
  assert.equal(await read(page, "batch-text"), bad.trim());
  assert.equal(await read(page, "batch-set"), good);
  await paste(page, "batch-text", "352; 50");
  await waitFor(page, "batch-text-said", /^Row 1, spine: 50 is out of range; enter 100 to 3000\.$/);
  await paste(page, "batch-text", "352,5 400,5\n353 401 - - - 0,002");
  await waitFor(page, "batch-set", /^No set: 6 wanted, 2 usable/);
  assert.equal(await read(page, "batch-text-said"), "");
  await onFirstScreen(page, () => page.click("#undo"));
  await waitFor(page, "batch-set", /^Tightest 6 /);
  assert.match(await read(page, "batch-text"), /^351\.2; 401; 396; 402; 395; 0\.001; 14\.1\n353\.9;/);
});

test("in metric, and as a file", async () => {
  const page = await fresh("batch");
  await waitFor(page, "batch-units", /thousandths/);
  await page.click("#batch-example");
  await waitFor(page, "batch-set", /^Tightest 6 /);
  assert.equal(await page.$eval("#batch-example", (button) => button.hidden), true);
  await page.select("#all-units", "metric");
  await waitFor(page, "batch-text", /^22\.816; 398; 404; 398; 404; 0\.025; 35\.81\n/);
  await waitFor(page, "batch-height", /^At 27\sm.*\scm/);
  assert.match(await page.$eval("#batch-table thead", (head) => head.innerText), /Weight, g\s+Spine\s+Straightness, mm\s+Balance point, cm/);
  const lines = (await saves(page, "batch-csv")).trim().split("\r\n");
  assert.equal(lines.length, 13);
  assert.match(lines[0], /^No\.,Keep for,In the set,"Weight, g",/);
  assert.equal(lines.filter((line) => line.split(",")[2] === "yes").length, 6);
  await page.select("#all-units", "archery");
  await waitFor(page, "batch-text", /^352\.1; 398; 404; 398; 404; 0\.001; 14\.1\n/);
});

// A setup with every part an arrow can have, from the invented club.
const FULLEST =
  "#v=1&name=Sallow%20Field%3A%20everything%20on%20it&peakDrawWeightLb=62&drawLengthIn=29&pointGr=125&letOffPercent=85&bushingGr=8&wrapGr=9&rearGlueGr=3&insertGr=20&frontGlueGr=4&collarGr=10&sleeveGr=12&part=lighted%20ring,3,9,0.3&currency=%E2%82%AC&prices=9.5&prices=1&prices=1.2&prices=0.4&prices=0.8&prices=2&prices=1&prices=3&prices=1.5";

test("the sheet prints alone on one page, large enough to read in a garage", async () => {
  const page = await fresh(null, here.server.url + FULLEST);
  await openTool(page, "sheet");
  await waitFor(page, "sheet-heading", /everything on it: 12 arrows$/);
  await page.evaluate(() => (window.print = () => {}));
  for (const format of ["a4", "letter"]) {
    await page.click("#sheet-print");
    await page.emulateMediaType("print");
    const seen = await page.evaluate(() => {
      const leaves = [...document.querySelectorAll("body *")].filter(
        (each) => each.checkVisibility() && [...each.childNodes].some((node) => node.nodeType === 3 && node.data.trim()),
      );
      const size = (each) => Number.parseFloat(getComputedStyle(each).fontSize);
      return {
        strangers: leaves.filter((each) => !each.closest("#sheet-page")).map((each) => each.tagName + each.id),
        smallest: Math.min(...leaves.map(size)),
        text: document.getElementById("sheet-page").innerText,
      };
    });
    assert.deepEqual(seen.strangers, []);
    assert.ok(seen.smallest >= (11 * 96) / 72 - 0.01, `${seen.smallest} px`);
    for (const part of [/Bushing/, /Footer/, /lighted ring/, /Cut all shafts/, /Spin-test each/, /Never dry-fire/, /€/]) assert.match(seen.text, part);
    await page.emulateMediaType(null);
    const pdf = Buffer.from(await page.pdf({ format, preferCSSPageSize: false })).toString("latin1");
    assert.equal(pdf.match(/\/Type\s*\/Page\b(?!s)/g).length, 1, `${format} takes one page`);
  }
  await page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
  assert.equal(await page.evaluate(() => document.documentElement.hasAttribute("data-sheet-alone")), false);
});

test("parts, weights and cost add up, and follow the number of arrows", async () => {
  const page = await fresh(null, here.server.url + FULLEST);
  await openTool(page, "sheet");
  await waitFor(page, "sheet-heading", /12 arrows$/);
  const parts = await rows(page, "sheet-parts");
  assert.deepEqual(parts.find((row) => row[0] === "Vane").slice(1, 2), ["39"]);
  const prices = [9.5, 1, 1.2, 0.4 * 3, 0.8, 2, 1, 3, 1.5];
  const total = 13 * prices.reduce((sum, each) => sum + each, 0);
  assert.match(await read(page, "sheet-cost"), new RegExp(`^Total €\\s${total.toFixed(2)}, spares included; €\\s${(total / 12).toFixed(2)} per arrow\\. One part has no price\\.$`));
  const last = (await rows(page, "sheet-steps")).at(-1);
  assert.ok(Math.abs(Number(last[2]) - numbersIn(await result(page, "totalWeightGr"))[0]) <= 0.55, "the last weight is the arrow's");
  await type(page, "arrowsToMake", "6");
  await type(page, "spareParts", "0");
  await waitFor(page, "sheet-heading", /6 arrows$/);
  await waitFor(page, "sheet-parts", /Vane187\.0/);
  assert.match(await saves(page, "sheet-csv"), /^part,per arrow,wanted,"weight of one, gr","unit price, €","cost, €"\r\nShaft,1,6,/);
  await page.click("#sheet-prices > summary");
  await type(page, "sheet-price-0", "ten");
  await page.keyboard.press("Tab");
  await waitFor(page, "sheet-price-said", /^Shaft: enter a number/);
  assert.equal(await read(page, "sheet-price-0"), "ten", "what was typed stays");
  await type(page, "sheet-price-0", "10,25");
  await page.keyboard.press("Tab");
  await page.waitForFunction(() => document.querySelector("#sheet-parts tbody td:last-child").textContent === "€\u{a0}61.50");
  await type(page, "sheet-currency", "kr");
  await page.keyboard.press("Tab");
  await waitFor(page, "sheet-cost", /^Total kr\s/);
  await page.select("#all-units", "metric");
  await page.waitForFunction(() => /Weight each, g$/.test(document.querySelector("#sheet-parts thead th:nth-child(3)").textContent));
});

async function enter(page, [distance, side, across, way, height, tear]) {
  await type(page, "tuning-distance", distance);
  await page.select("#tuning-side", side);
  await type(page, "tuning-across", across);
  await page.select("#tuning-way", way);
  await type(page, "tuning-height", height);
  await page.select("#tuning-tear", tear);
  await page.click("#tuning-form button");
}

test("the log reads by hand, keeps its entries with the setup, and meets the fletched on a straight line", async () => {
  const page = await fresh("tuning");
  // Everything that a point could move is held.
  await type(page, "staticSpineThousandths", "340");
  await type(page, "cutLengthIn", "28");
  await page.click("#tuning-form button");
  await waitFor(page, "tuning-said", /^Distance: enter your shooting distance/);
  await type(page, "tuning-distance", "20");
  await page.click("#tuning-form button");
  await waitFor(page, "tuning-said", /^Enter the bare-shaft impact/);
  await type(page, "tuning-across", "6o");
  await page.click("#tuning-form button");
  await waitFor(page, "tuning-said", /^Left or right: enter a number of in/);
  assert.equal(await read(page, "tuning-across"), "6o");
  await enter(page, ["20", "left", "6", "low", "4", ""]);
  await waitFor(page, "tuning-done", /^Added entry 1\.$/);
  await type(page, "pointGr", "150");
  await enter(page, ["20", "left", "2,5", "high", "", "2"]);
  await waitFor(page, "tuning-done", /^Added entry 2\.$/);
  // From 125 gr and 6 in to 150 gr and 2.5 in: the line meets zero at 125 + 25 * 6 / 3.5.
  const meets = Math.round(125 + (25 * 6) / 3.5);
  await waitFor(page, "tuning-two", new RegExp(`^2 entries differ only in point weight\\. .* at ${meets}\\sgr`));
  const items = () => page.$$eval("#tuning-list li", (list) => list.map((item) => item.innerText));
  let list = await items();
  // In the order of the guide: height comes first, then the side; with a release aid the rest, not the arrow.
  assert.match(await read(page, "tuning-first"), /^Nothing to change/);
  assert.equal(await page.$$eval("#tuning-list svg .hit", (hits) => hits.length), 2);
  assert.match(list[0], /^At 20\syd: 2\.5\sin left, paper: tail right\.\s+Reads: the bare shaft hits with the fletched; paper tear: rest position, cam lean/);
  assert.match(list[1], /6\sin left, 4\sin low\.\s+Reads: the bare shaft is off to the stiff side: check rest position, cam lean and grip, then spine; it hits low: the nocking point may be too high\.\s+[\d-]+\. 3 shots of each\. With draw weight 62\slb, point 125\sgr, cut 28\sin, spine 340/);
  await page.select("#hand", "right");
  await page.waitForFunction(() => /off to the weak side: check rest position, cam lean and grip, then spine; it hits low/.test(document.querySelector("#tuning-list li:last-child").textContent));

  await pause(1200);
  await page.reload();
  await waitForAnswers(page);
  await openTool(page, "tuning");
  await waitFor(page, "tuning-two", /only in point weight/);
  list = await items();
  assert.equal(list.length, 2);
  const today = await page.evaluate(() => new Date().toLocaleDateString("sv"));
  assert.ok(list.every((item) => item.includes(`${today}. 3 shots of each. With draw weight`)), list[0]);
  const lines = (await saves(page, "tuning-csv")).trim().split("\r\n");
  assert.match(lines[0], /^"Distance, yd","Right of the fletched, in","Above the fletched, in","Draw weight then, lb","Point then, gr"/);
  assert.deepEqual(lines.slice(1).map((line) => line.split(",").slice(0, 5)), [["20", "-6", "-4", "62", "125"], ["20", "-2.5", "", "62", "150"]]);
  await openTool(page, "keeping");
  await page.waitForSelector("#backup-one");
  const backup = JSON.parse(await saves(page, "backup-one"));
  assert.match(JSON.stringify(backup), /"tuning":\[\[20,-6,-4,62,125,28,340,null,3,\d+,null\],\[20,-2\.5,null,62,150,28,340,2,3,\d+,null\]\]/);

  await openTool(page, "tuning");
  await page.click("#tuning-list li:first-child button");
  await waitFor(page, "tuning-done", /^Removed/);
  assert.equal((await items()).length, 1);
  await page.$eval("#undo", (button) => button.click());
  await page.waitForFunction(() => document.querySelectorAll("#tuning-list li").length === 2);
  await page.select("#all-units", "metric");
  await page.waitForFunction(() => /At 18\.29\sm: 15\.24\scm left/.test(document.querySelector("#tuning-list li:last-child").textContent));
  assert.deepEqual(page.complaints, []);
});

test("the guide follows bow and release, and the last entry says what to do first", async () => {
  const page = await fresh("tuning", here.server.url, (tab) => tab.setViewport({ width: 390, height: 844 }));
  await page.click("#tuning-guide > summary");
  const guide = () => page.$$eval("#tuning-guide-list b", (titles) => titles.map((title) => title.textContent));
  assert.deepEqual(await guide(), ["Rest and center shot", "Nocking point", "Rest timing and contact", "Brace height and cams", "Point, cut, weight"]);
  await enter(page, ["20", "left", "6", "low", "4", ""]);
  await waitFor(page, "tuning-first", /^First step: lower the nocking point 1\/16 in/);
  await enter(page, ["20", "left", "6", "low", "", ""]);
  await waitFor(page, "tuning-first", /^First step: move the rest 1\/32 in \(0\.8 mm\) to the right/);
  await page.select("#tuning-kind", "broadhead");
  await enter(page, ["30", "right", "8", "low", "", ""]);
  await waitFor(page, "tuning-first", /^First step: move the rest .* to the left/);
  assert.match(await page.$eval("#tuning-list li", (item) => item.innerText), /^Broadhead at 30\syd: 8\sin right\.\s+Reads: the broadhead is off to the weak side/);
  await choose(page, "launch", "fingersCentreCut");
  await waitFor(page, "tuning-first", /^First step: turn the plunger spring half a turn firmer, or fit a point \d+\sgr lighter, or set 2\.0\slb less draw weight\. Then shoot again\.$/);
  assert.equal((await guide())[2], "Plunger or button");
  await type(page, "tuning-shots", "0");
  await page.click("#tuning-form button");
  await waitFor(page, "tuning-said", /^Distance|^Shots of each: 1 to 144\.$/);
  assert.deepEqual(await tooWide(page), []);
});

test("a step of the match is worth what moves the match by just that", async () => {
  // All that would follow the point or the cut is given.
  const given = "#v=1&peakDrawWeightLb=62&drawLengthIn=29&pointGr=125&staticSpineThousandths=340&shaftGrPerIn=8.5&cutLengthIn=29.5&outerDiameterIn=0.296&boreIn=0.246&insertGr=20";
  const page = await fresh(null, here.server.url + given);
  await waitFor(page, "pointGr", /^125$/);
  await openTool(page, "tuning");
  const ideal = async () => numbersIn(await result(page, "idealDrawWeightLb"))[0];
  const before = await ideal();
  const weaker = await waitFor(page, "tuning-weaker", /^One step weaker: 2\.0\slb more draw weight, or a point \d+\sgr heavier, or a shaft [\d.]+\sin longer\.$/);
  assert.match(await read(page, "tuning-stiffer"), /^One step stiffer: 2\.0\slb less draw weight, or a point \d+\sgr lighter, or a shaft [\d.]+\sin shorter\.$/);
  const [, grains, inches] = numbersIn(weaker);
  await type(page, "pointGr", String(125 + grains));
  // Half a grain is worth up to a tenth of a pound, and so is the last digit of either reading.
  const byPoint = before - (await ideal());
  assert.ok(Math.abs(byPoint - 2) < 0.2, `${byPoint} lb by the point`);
  await type(page, "pointGr", "125");
  await type(page, "cutLengthIn", String(29.5 + inches));
  const byCut = before - (await ideal());
  assert.ok(Math.abs(byCut - 2) < 0.2, `${byCut} lb by the cut`);
  await type(page, "tuning-step", "0");
  await waitFor(page, "tuning-step-said", /^Step: 0\.1\slb to 20\slb\.$/);
  await type(page, "tuning-step", "4");
  await waitFor(page, "tuning-weaker", /^One step weaker: 4\.0\slb/);
  assert.equal(await read(page, "tuning-step-said"), "");
});

/** Every view open and filled. */
async function filled(page) {
  await openTool(page, "make");
  for (const view of ["batch", "sheet", "tuning"]) await page.$eval(`#${view}`, (details) => (details.open = true));
  await page.waitForFunction(() => /arrows$/.test(document.getElementById("sheet-heading").textContent));
  await page.$eval("#batch-example", (button) => button.click());
  await waitFor(page, "batch-set", /^Tightest 6 /);
  for (const across of ["6", "3"]) {
    await page.evaluate((size) => {
      document.getElementById("tuning-distance").value = "20";
      document.getElementById("tuning-across").value = size;
      document.querySelector("#tuning-form button").click();
    }, across);
  }
  await waitFor(page, "tuning-done", /^Added entry 2\.$/);
  await page.$$eval("#make details", (all) => all.forEach((details) => (details.open = true)));
}

for (const [state, prepare] of Object.entries({
  empty: async (page) => {
    await openTool(page, "make");
    await page.$$eval("#make > details", (all) => all.forEach((details) => (details.open = true)));
    await waitFor(page, "tuning-weaker", /\S/);
  },
  "filled, at 1280 px": filled,
  "filled, at 320 px": async (page) => {
    await page.setViewport({ width: 320, height: 640 });
    await filled(page);
  },
  "filled, in the dark": async (page) => {
    await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: "dark" }]);
    await filled(page);
  },
  "with bad rows": async (page) => {
    await filled(page);
    await paste(page, "batch-text", "352; 4o0");
    await waitFor(page, "batch-text-said", /^Row 1, spine/);
  },
})) {
  test(`axe-core finds nothing in making them ${state}, and nothing is too wide`, async () => {
    const look = async (page) => {
      await prepare(page);
      assert.deepEqual(await tooWide(page), []);
      const small = await page.$$eval("#make :is(button, select, summary, .box, .field, textarea, input)", (all) =>
        all.filter((each) => each.checkVisibility() && !each.closest(".box > *, .field > *") && each.getBoundingClientRect().height < 44).map((each) => each.id || each.tagName),
      );
      assert.deepEqual(small.filter((id) => id !== "INPUT"), []);
    };
    assert.deepEqual(await audit(await here.chromium.browser.createBrowserContext(), here.server.url, look), []);
  });
}

test("by keyboard alone a dozen is sorted and an entry made", async () => {
  const page = await fresh();
  await openTool(page, "make");
  await page.focus("#batch > summary");
  await page.keyboard.press("Enter");
  const at = () => page.evaluate(() => document.activeElement.id);
  await page.keyboard.press("Tab");
  assert.equal(await at(), "batch-text");
  await page.keyboard.sendCharacter(TEXT);
  await waitFor(page, "batch-set", /^Tightest 6 /);
  await page.keyboard.down("Control");
  await page.keyboard.press("z");
  await page.keyboard.up("Control");
  assert.equal(await at(), "batch-text", "undo in the text is the text's own");
  assert.doesNotMatch(await read(page, "batch-text"), /353\.9/);
  await page.focus("#tuning > summary");
  await page.keyboard.press("Enter");
  await waitFor(page, "tuning-weaker", /\S/);
  await page.focus("#tuning-distance");
  await page.keyboard.type("20");
  await page.focus("#tuning-across");
  await page.keyboard.type("3");
  await page.keyboard.press("Enter");
  await waitFor(page, "tuning-done", /^Added entry 1\.$/);
});

test("with the server stopped, and as a single file, everything here works", async () => {
  const server = await serve();
  const chromium = await launch();
  const first = await open(chromium.browser, server.url);
  await waitForAnswers(first);
  await waitFor(first, "offline-state", /^Ready to work offline$/);
  await server.stop();
  for (const url of [server.url, singleFile]) {
    const page = await open(chromium.browser, url);
    await waitForAnswers(page);
    await filled(page);
    await waitFor(page, "tuning-two", /^No trend/);
  }
  await leave(chromium);
});
