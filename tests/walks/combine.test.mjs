// Combinations: the values of a few inputs combined, all within limits in one sorted table, two of the inputs as a matrix,
// and a tray of the few that are compared; by workers where there can be any, else in pieces on the page.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { audit, downloads, number, open, openTool, pause, press, read, records, result, saved, singleFile, stage } from "./support.mjs";
import { type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage({ forEachTest: true });

async function view(url = here.server.url, prepare = undefined) {
  const page = await open(here.chromium.browser, url, prepare);
  await waitForAnswers(page);
  await openView(page);
  return page;
}

async function openView(page) {
  await openTool(page, "combine");
  await waitFor(page, "combine-status", /calculated/);
}

/** Types the values of an axis and waits until so many combinations are there. */
async function values(page, axis, text, count) {
  await type(page, `combine-${axis}`, text);
  await settled(); // what stood there half-way may have as many
  if (count) await done(page, count);
}

const done = (page, count) =>
  waitFor(page, "combine-status", new RegExp(`^${String(count).replace(/(\d)(?=(\d{3})+$)/g, "$1\\s")} combinations calculated`), 60_000);

/** The matrix as lists: headings and what each cell says. */
const matrix = (page) =>
  page.$eval("#combine-matrix", (table) => ({
    caption: table.caption.textContent,
    across: [...table.tHead.rows[0].cells].slice(1).map((cell) => cell.textContent),
    rows: [...table.tBodies[0].rows].map((row) =>
      [...row.cells].map((cell) => cell.querySelector("b")?.textContent ?? cell.textContent),
    ),
  }));

/** The rows of the ranking by the keys of its columns; `label` is what its star is for. */
const ranking = (page) =>
  page.$eval("#combine-ranking", (table) => {
    const keys = [...table.tHead.rows[0].cells].slice(1).map((cell) => cell.firstChild.dataset.sort);
    return [...table.tBodies[0].rows].map((row) => ({
      label: row.cells[0].firstChild.getAttribute("aria-label").replace("Compare ", ""),
      starred: row.cells[0].firstChild.getAttribute("aria-pressed") === "true",
      current: row.classList.contains("current"),
      ...Object.fromEntries(keys.map((key, place) => [key, row.cells[place + 1].textContent])),
    }));
  });

/** Presses a control as a click does, however far down the page it is. */
const click = (page, selector) => page.$eval(selector, (element) => element.click());

/** Presses a cell by its row and column. */
const pick = (page, row, column) =>
  page.$$eval("#combine .grid tbody tr", (rows, r, c) => rows[r].cells[c + 1].firstChild.click(), row, column);

/** A cell's words, what is said of its limit, and whether it is set back. */
const cells = (page) =>
  page.$$eval("#combine .cell", (all) =>
    all.map((cell) => ({ words: cell.querySelector("small").textContent, title: cell.title, out: cell.classList.contains("out") })),
  );

/** Waits until nothing is said any more. */
const silent = (page, id) => page.waitForFunction((name) => document.getElementById(name).textContent === "", {}, id);

const settled = () => pause(400);

test("two axes are shown, and a cell says what the page says of it once it is on the form", async () => {
  const page = await view();
  await values(page, "point", "100; 125 150, 175", 20);
  const table = await matrix(page);
  assert.deepEqual(table.rows.map(([head]) => head), ["100\u00a0gr", "125\u00a0gr", "150\u00a0gr", "175\u00a0gr"]);
  assert.equal(table.across.length, 5);
  assert.match(table.caption, /^Point weight down, cut length across/);

  for (const [what, id] of [["totalWeight", "totalWeightGr"], ["frontOfCentre", "frontOfCentrePercent"], ["launchSpeed", "launchSpeedFps"], ["kineticEnergy", "kineticEnergyFtLb"]]) {
    await page.select("#combine-shown", what);
    await settled();
    const shown = (await matrix(page)).rows[2][2].replace(/^FOC /, "");
    await pick(page, 2, 1);
    await waitFor(page, "pointGr", /^150$/);
    assert.equal(await read(page, "cutLengthIn"), table.across[1].replace(/\D+$/, ""));
    const said = (await result(page, id)).replace(/ \(.*\)$/, "");
    assert.equal(shown, said, what);
    await click(page, "#undo");
    await waitFor(page, "pointGr", /^(?!150)/);
  }

  // The match: pounds the arrow suits best, less what the bow pulls.
  await page.select("#combine-shown", "match");
  await settled();
  const shown = (await matrix(page)).rows[2][2];
  await pick(page, 2, 1);
  await waitFor(page, "pointGr", /^150$/);
  const best = Number.parseFloat(await result(page, "idealDrawWeightLb"));
  const pulls = Number.parseFloat(await read(page, "peakDrawWeightLb"));
  const over = number(shown);
  assert.ok(Math.abs(over - (best - pulls)) <= 0.1 + 1e-9, `${shown}: ${best} less ${pulls}`);
  assert.ok((await read(page, "combine-status")).startsWith(`Applied: 150\u00a0gr point, ${table.across[1]} cut`));
  await settled();
  const marked = await page.$$eval("#combine [aria-current]", (all) => all.map((cell) => cell.textContent));
  assert.deepEqual(marked, [`${shown}✓ matched\ncurrent`]);
  const current = (await ranking(page)).filter((row) => row.current);
  assert.deepEqual(current.map(({ match }) => match), [`${shown} ✓`], "the same sign in both, and both mark it");

  await page.select("#combine-shown", "all");
  await settled();
  const [all] = await cells(page);
  for (const unit of [/gr/, /FOC [\d.]+.%/, /fps/, /ft-lb/]) assert.match(all.words, unit);
  assert.deepEqual(page.complaints, []);
});

test("a pick can be undone, a shaft's too", async () => {
  const page = await view();
  await click(page, "#combine-use-shaft");
  await done(page, 60);
  const before = await Promise.all(["pointGr", "cutLengthIn", "staticSpineThousandths", "shaftGrPerIn"].map((id) => read(page, id)));
  const rows = await ranking(page);
  const place = rows.findIndex(({ shaft }) => shaft !== rows[0].shaft);
  await page.$$eval("#combine-ranking tbody [data-cell]", (all, row) => all[row].click(), place);
  await waitFor(page, "combine-status", /^Applied/);
  await waitFor(page, "staticSpineThousandths", new RegExp(`^${/(\d+)\D*$/.exec(rows[place].shaft)[1]}$`));
  assert.equal(await read(page, "pointGr"), rows[place].point);
  await click(page, "#undo");
  await settled();
  const after = await Promise.all(["pointGr", "cutLengthIn", "staticSpineThousandths", "shaftGrPerIn"].map((id) => read(page, id)));
  assert.deepEqual(after, before);
  assert.deepEqual(page.complaints, []);
});

test("the ranking is sorted by any column and filtered by any value", async () => {
  const page = await view();
  await values(page, "point", "100; 125; 150", 15);
  const numbers = async (key) => (await ranking(page)).map((row) => number(row[key]));
  const best = await numbers("match");
  assert.ok(Math.abs(best[0]) < 2, `${best}`);
  for (const key of ["launchSpeed", "point", "frontOfCentre"]) {
    await click(page, `#combine-ranking [data-sort=${key}]`);
    const up = await numbers(key);
    assert.deepEqual(up, up.toSorted((a, b) => a - b), key);
    assert.equal(await page.$eval(`th:has([data-sort=${key}])`, (cell) => cell.ariaSort), "ascending");
    await click(page, `#combine-ranking [data-sort=${key}]`);
    assert.deepEqual(await numbers(key), up.toSorted((a, b) => b - a), `${key}, the other way`);
    assert.match(await read(page, "combine-found"), /sorted by .*, highest first\.$/);
  }
  await page.select("#combine-filter-point", "1");
  assert.deepEqual(new Set(await numbers("point")), new Set([125]));
  assert.match(await read(page, "combine-found"), /^5 of 15 within the limits/);
  await page.select("#combine-filter-point", "");
  assert.equal((await ranking(page)).length, 15);
  await values(page, "point", "100 to 125 by 1", 130);
  assert.equal((await ranking(page)).length, 20);
  await click(page, "#combine-more");
  assert.equal((await ranking(page)).length, 40);
  assert.deepEqual(page.complaints, []);
});

test("of a third input the matrix shows the best of each cell, or the one chosen", async () => {
  const page = await view();
  await click(page, "#combine-use-insert");
  await values(page, "insert", "0; 25; 50", 60);
  assert.match((await matrix(page)).caption, /^Point weight down, cut length across: best insert weight of each$/);
  await page.select("#combine-down", "cut");
  await page.select("#combine-across", "insert");
  const best = await matrix(page);
  assert.deepEqual(best.across, ["0\u00a0gr", "25\u00a0gr", "50\u00a0gr"]);
  assert.match(best.caption, /^Cut length down, insert weight across: best point weight of each$/);
  assert.equal((await cells(page)).length, 15);
  assert.ok((await cells(page)).every(({ words }) => /gr point/.test(words)));
  await page.select("#combine-filter-point", "0");
  const chosen = await matrix(page);
  assert.notDeepEqual(chosen.rows, best.rows);
  assert.ok((await cells(page)).every(({ words }) => !/point/.test(words)), "the value chosen is not said in each");
  await page.select("#combine-down", "insert");
  await waitFor(page, "combine-across", /^point$/); // an axis is not shown twice
  assert.deepEqual(page.complaints, []);
});

test("draw length is combined too, and moves the shortest safe cut", async () => {
  const page = await view();
  await click(page, "#combine-use-point");
  await click(page, "#combine-use-drawLength");
  await write(page, { drawLength: "26; 30", cut: "26,5; 29,5" });
  await done(page, 4);
  await settled();
  const all = await cells(page);
  assert.equal(all.filter(({ words }) => /too short/.test(words)).length, 1);
  assert.match(all.find(({ words }) => /too short/.test(words)).title, /^Arrow too short: shortest safe cut 28\.7/);
  const [row] = await ranking(page);
  assert.match(row.label, /^(26|30)\sin draw length, 2\d.5\sin cut$/);
  assert.deepEqual(page.complaints, []);
});

test("three favorites are compared, saved, exported and sent in six actions", async () => {
  const page = await view();
  const folder = await downloads(page);
  const before = await read(page, "pointGr");
  for (const place of [0, 1, 2]) await page.$$eval("#combine-ranking [data-star]", (all, row) => all[row].click(), place); // 1 to 3
  const starred = (await ranking(page)).filter((row) => row.starred);
  assert.equal(starred.length, 3);
  const heads = await page.$$eval("#combine-tray-table thead th", (all) => all.map((cell) => cell.textContent));
  assert.deepEqual(heads, ["Result", "Current setup", ...starred.map(({ label }) => label)]);
  const weights = await page.$$eval("#combine-tray-table tbody tr", (rows) => [...rows[1].cells].map((cell) => cell.textContent));
  assert.deepEqual(weights.slice(2), starred.map(({ totalWeight }) => `${totalWeight}\u00a0gr`));
  await click(page, "#combine-tray-save"); // 4
  await waitFor(page, "combine-tray-said", /^Saved 3 under/);
  const kept = (await records(page)).kept.map(({ build }) => build.name);
  assert.deepEqual(kept, starred.map(({ label }) => label));
  await click(page, "#combine-tray-csv"); // 5
  const lines = readFileSync(await saved(folder, ".csv"), "utf8").trimEnd().split("\r\n");
  assert.equal(lines.length, 16);
  assert.ok(lines[0].startsWith('Result,Current setup,"'));
  await click(page, "#combine-tray-send"); // 6
  await waitFor(page, "combine-tray-said", /^(Copied|The browser blocked copying)/);
  const links = (await read(page, "combine-links")).split("\n");
  assert.equal(links.length, 3);
  const opened = await open(here.chromium.browser, links[1].slice(links[1].indexOf("http")));
  await waitForAnswers(opened);
  assert.equal(await read(opened, "pointGr"), starred[1].point);
  assert.equal(await read(page, "pointGr"), before, "nothing of it is applied");
  await page.$$eval("#combine-ranking [data-star]", (all) => all[0].click());
  assert.equal((await ranking(page)).filter((row) => row.starred).length, 2);
  await click(page, "#combine-tray-clear");
  assert.equal(await page.$eval("#combine-tray", (tray) => tray.hidden), true);
  assert.deepEqual(page.complaints, []);
  assert.deepEqual(opened.complaints, []);
});

test("where nothing is found the limit in the way is named, and one tap loosens it", async () => {
  const page = await view();
  await click(page, "#combine-limits > summary");
  await type(page, "combine-least-launchSpeed", "500");
  await waitFor(page, "combine-found", /^0 found\.$/);
  const why = await waitFor(page, "combine-why", /^Loosen launch speed to \d+\sfps: \d+ combinations?\.$/);
  assert.equal(await page.$eval("#combine-scroll", (table) => table.hidden), true);
  await click(page, "#combine-loosen");
  await waitFor(page, "combine-found", /^\d+ of 20 within the limits/);
  assert.equal((await ranking(page)).length, Number(/: (\d+) comb/.exec(why)[1]));
  assert.equal(await read(page, "combine-least-launchSpeed"), /to (\d+)/.exec(why)[1]);
  assert.equal(await read(page, "combine-why"), "");
  assert.deepEqual(page.complaints, []);
});

test("limits set back what breaks them and say which; the ranking keeps them", async () => {
  const page = await view();
  await page.select("#combine-shown", "totalWeight");
  await click(page, "#combine-limits > summary");
  await settled();
  const weights = (await matrix(page)).rows.flatMap((row) => row.slice(1)).map(Number.parseFloat);
  const least = weights.toSorted((a, b) => a - b)[6];
  await type(page, "combine-least-totalWeight", `${least},0`);
  await waitFor(page, "combine-limits-set", /1 set/);
  await settled();
  const kept = await cells(page);
  weights.forEach((weight, place) => {
    if (weight === least) return; // it may lie on either side of the limit by less than is shown
    assert.equal(kept[place].out, weight < least, `${weight}`);
    if (weight < least) {
      assert.match(kept[place].words, /Total weight: low/);
      assert.match(kept[place].title, new RegExp(`^Total weight ${weight}.gr: the limit is at least ${least}.gr`));
    }
  });
  const listed = await ranking(page);
  assert.ok(listed.length > 0 && listed.every(({ totalWeight }) => number(totalWeight) >= least));

  await type(page, "combine-most-totalWeight", "100");
  await page.keyboard.press("Tab");
  await waitFor(page, "combine-limits-said", /^Total weight: the minimum is above the maximum/);
  await type(page, "combine-most-totalWeight", "abc");
  await page.keyboard.press("Tab");
  await waitFor(page, "combine-limits-said", /^Total weight, at most: enter a number of gr/);
  assert.deepEqual(await cells(page), kept, "the limits stay as they were");
  await type(page, "combine-most-totalWeight", "");
  await page.keyboard.press("Tab");
  await silent(page, "combine-limits-said");

  await click(page, "#combine-matched");
  await settled();
  await page.select("#combine-shown", "match");
  await settled();
  assert.ok((await cells(page)).filter(({ words }) => /stiff|weak/.test(words)).every(({ out, words }) => out && /not matched/.test(words)));
  assert.deepEqual(page.complaints, []);
});

test("what is too light for the bow or cut too short says so, and is not proposed", async () => {
  const page = await view();
  const shortest = Number.parseFloat(await result(page, "shortestSafeCutIn"));
  const short = (shortest - 0.25).toFixed(2);
  await values(page, "cut", `${short}; ${shortest + 1}`, 8);
  await settled();
  const row = (await cells(page)).slice(0, 2);
  assert.match(row[0].words, /too short/);
  assert.match(row[0].title, /^Arrow too short: shortest safe cut [\d.]+\sin\.$/);
  assert.equal(row[1].out, false);
  assert.ok((await ranking(page)).every(({ cut }) => cut !== short));
  await click(page, "#combine-use-cut");
  await click(page, "#combine-use-drawWeight");
  // Stiff enough for the heavy bow, so that being light is all that is wrong there.
  await type(page, "staticSpineThousandths", "150");
  await values(page, "drawWeight", "60; 140", 8);
  await settled();
  assert.deepEqual((await matrix(page)).across, ["60\u00a0lb", "140\u00a0lb"], "the axis chosen before is still down");
  const light = (await cells(page)).filter((_, place) => place % 2);
  assert.ok(light.every(({ words, title, out }) => /too light/.test(words) && /^Arrow too light: [\d.]+\sgpp, minimum [\d.]+\sgpp\.$/.test(title) && out));
  assert.deepEqual(page.complaints, []);
});

/** Over forty thousand combinations. */
const MANY = { point: "50 to 250 by 1", cut: "27 to 38 by 0,05" };
const HOW_MANY = 201 * 221;

/** Writes axes at once, without the time that typing takes. */
const write = (page, axes) =>
  page.evaluate((all) => {
    for (const [axis, text] of Object.entries(all)) {
      const input = document.getElementById(`combine-${axis}`);
      input.value = text;
      input.dispatchEvent(new Event("input", { bubbles: true }));
    }
  }, axes);

/** How long after the last letter the first cell is filled, in milliseconds; then the work is stopped half-way. */
async function firstCell(page) {
  await write(page, MANY);
  return page.evaluate(async () => {
    const begun = performance.now();
    const done = () => Number.parseInt(document.getElementById("combine-done").textContent.replace(/\s/g, ""));
    const running = () => !document.getElementById("combine-working").hidden;
    const filled = () => document.querySelectorAll("#combine .cell").length >= 221 && document.querySelector("#combine .cell b").textContent !== "…";
    const until = async (seen) => {
      while (!seen()) await new Promise((resolve) => setTimeout(resolve, 1));
    };
    await until(() => running() && filled());
    const first = performance.now() - begun;
    await until(() => done() > 1500);
    document.getElementById("combine-stop").click();
    return first;
  });
}

async function stopAndTurn(page, workers) {
  await waitFor(page, "combine-status", /^Stopped at [\d\s]+ of 44\s421\.$/);
  const stopped = await read(page, "combine-done");
  await settled();
  assert.ok(Number.parseInt(stopped.replace(/\s/g, "")) < HOW_MANY);
  assert.equal(await read(page, "combine-done"), stopped, "nothing comes after");
  assert.equal(await page.$eval("#combine-stop", (button) => button.textContent), "Go on");
  assert.match(await read(page, "combine-found"), / within the limits so far, /);
  assert.equal(page.workers().length, workers);

  // Two newer requests while an older one is under way.
  await click(page, "#combine-stop");
  await write(page, { point: "50 to 170 by 1" });
  await waitFor(page, "combine-done", /of 26\s741$/);
  await write(page, { point: "100 to 180 by 1" });
  await done(page, 81 * 221);
  await settled();
  assert.match(await read(page, "combine-status"), /^17\s901 combinations/, "nothing of the older ones comes after");
  assert.equal((await matrix(page)).rows[0][0], "100\u00a0gr");
  assert.ok((await page.$$("#combine .cell")).length <= 400, "only what is open stands on the page");
}

test("a big grid shows its progress, can be stopped, and makes way for a newer one", async () => {
  const page = await view();
  const first = await firstCell(page);
  assert.ok(first < 300, `${first} ms`);
  const processors = await page.evaluate(() => navigator.hardwareConcurrency);
  await stopAndTurn(page, Math.min(processors, 4));
  await page.evaluate(() => (window.begun = performance.now()));
  await write(page, MANY);
  await done(page, HOW_MANY);
  console.log(`${HOW_MANY} combinations in ${Math.round(await page.evaluate(() => performance.now() - window.begun))} ms, ${processors} processors`);
  assert.deepEqual(page.complaints, []);
});

test("in the single file the page works by itself, in pieces that leave it free", async () => {
  const page = await view(singleFile);
  await firstCell(page);
  await stopAndTurn(page, 0);
  await page.evaluate(() => {
    window.longest = 0;
    const observer = new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries()) window.longest = Math.max(window.longest, duration);
    });
    observer.observe({ type: "longtask" });
  });
  await write(page, MANY);
  await done(page, HOW_MANY);
  const longest = await page.evaluate(() => window.longest);
  // A task of 50 ms is called long; the rest is room for a machine that does other things too.
  assert.ok(longest < 150, `a task took ${longest} ms`);
  assert.deepEqual(page.complaints, []);
});

test("a worker that cannot start is done without", async () => {
  const page = await view(here.server.url, (fresh) =>
    fresh.evaluateOnNewDocument(() => {
      window.Worker = class {
        constructor() {
          throw new Error("no worker here");
        }
      };
    }),
  );
  await write(page, MANY);
  await done(page, HOW_MANY);
  assert.equal((await page.workers()).length, 0);
});

test("numbers come as they are written where a comma is the decimal mark, and follow the units", async () => {
  const page = await view();
  await values(page, "cut", "27,5 28,25", 8);
  assert.deepEqual((await matrix(page)).across, ["27.5\u00a0in", "28.25\u00a0in"]);
  await page.select("#all-units", "metric");
  await waitFor(page, "combine-cut", /^69\.85; 71\.76$/);
  await settled();
  assert.deepEqual((await matrix(page)).across, ["69.85\u00a0cm", "71.76\u00a0cm"]);
  await values(page, "cut", "70 to 72 by 0,5", 20);
  assert.equal((await matrix(page)).across[1], "70.5\u00a0cm");
  await page.select("#all-units", "archery");
  await waitFor(page, "combine-cut", /^27\.559; /);
  assert.deepEqual(page.complaints, []);
});

test("what cannot be read is named, and the last good table stays", async () => {
  const page = await view();
  const before = await matrix(page);
  // At once, as from the clipboard: typed letter by letter, the beginning of it would be a good list.
  await write(page, { point: "100; 5" });
  await page.keyboard.press("Tab");
  await waitFor(page, "combine-point-said", /^Point weight: 5 is out of range; enter 10 to 600.gr\.$/);
  await waitFor(page, "combine-stale", /^Not updated\. Point weight: 5 is out of range/);
  assert.equal(await page.$eval("#combine-point", (input) => input.getAttribute("aria-invalid")), "true");
  assert.deepEqual(await matrix(page), before);
  await values(page, "point", "100; abc");
  await waitFor(page, "combine-point-said", /^Point weight: enter a number, 10 to 600/);
  await values(page, "point", "100; 110", 10);
  await silent(page, "combine-point-said");
  assert.notEqual(await page.$eval("#combine-point", (input) => input.getAttribute("aria-invalid")), "true");

  await click(page, "#combine-use-cut");
  await waitFor(page, "combine-stale", /^Not updated\. 1 selected; select 2 to 5\.$/);
  await click(page, "#combine-use-cut");
  await silent(page, "combine-stale");
  await write(page, { point: "50 to 290 by 1", cut: "20 to 39 by 0,08" });
  await waitFor(page, "combine-stale", /combinations, 50\s000 at most|250 at most/);
  assert.deepEqual(page.complaints, []);
});

test("the table is saved as comma-separated values", async () => {
  const page = await view();
  const folder = await downloads(page);
  await values(page, "point", "50 to 250 by 1", 1005);
  await click(page, "#combine-save");
  const lines = readFileSync(await saved(folder, ".csv"), "utf8").trimEnd().split("\r\n");
  assert.equal(lines.length, 1006);
  assert.match(lines[0], /^"Point weight, gr","Cut length, in","Total weight, gr","FOC, %"/);
  assert.match(lines[1], /^50,[\d.]+,\d+,[\d.]+,\d+,.*,yes$/);
  assert.ok(lines.every((line) => line.replace(/"[^"]*"/g, "").split(",").length === 11));
  assert.deepEqual(page.complaints, []);
});

test("cells by the keyboard alone", async () => {
  const page = await view();
  await page.focus("#combine-matrix-scroll");
  await press(page, "Tab", "ArrowRight", "ArrowDown");
  const place = () => page.evaluate(() => [document.activeElement.closest("tr").sectionRowIndex, document.activeElement.parentElement.cellIndex]);
  assert.deepEqual(await place(), [1, 2]);
  await press(page, "ArrowUp", "ArrowUp", "ArrowLeft");
  assert.deepEqual(await place(), [0, 1], "it stops at the edge");
  const [head] = (await matrix(page)).rows[0];
  await press(page, "Enter");
  await waitFor(page, "pointGr", new RegExp(`^${head.replace(/\D+$/, "")}$`));
  assert.deepEqual(await place(), [0, 1], "the focus stays");
  assert.deepEqual(page.complaints, []);
});

test("nothing is wrong for those who cannot see or point, and nothing scrolls sideways but the table", async () => {
  const prepare = async (page) => {
    await openView(page);
    await click(page, "#combine-use-shaft");
    await click(page, "#combine-limits > summary");
    await click(page, "#combine-inputs > summary");
    await click(page, "#combine-shafts > summary");
    await type(page, "combine-least-totalWeight", "440");
    await type(page, "combine-vanes", "x");
    await click(page, "#combine-use-vanes");
    await waitFor(page, "combine-vanes-said", /./);
    await settled();
  };
  const dark = async (page) => {
    await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: "dark" }]);
    await prepare(page);
  };
  assert.deepEqual(await audit(here.chromium.browser, here.server.url, prepare), []);
  assert.deepEqual(await audit(here.chromium.browser, here.server.url, dark), []);

  const page = await view(here.server.url, (fresh) => fresh.setViewport({ width: 320, height: 800 }));
  await values(page, "cut", "24 to 32 by 0,5", 68);
  await click(page, "#combine-limits > summary");
  await settled();
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 320);
  assert.ok(await page.$eval("#combine-scroll", (scroll) => scroll.scrollWidth > scroll.clientWidth));
});
