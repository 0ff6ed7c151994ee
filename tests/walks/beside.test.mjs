// Side by side: one setup is held, another made on the form, and only what differs is shown; then any number of kept
// ones in a table.

import assert from "node:assert/strict";
import { test } from "node:test";
import { audit, number, open, openTool, pause, press, read, rows, shown, stage, stored, tooWide } from "./support.mjs";
import { type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage({ forEachTest: true });

/** The view shows changes 50 ms after the last. */
const settled = () => pause(250);

/** Every result as the page itself shows it, by its label. */
const results = async (page) => {
  await openTool(page, "results");
  await settled();
  const all = await page.$$eval("[data-result]", (all) =>
    Object.fromEntries(
      all.map((details) => [
        details.querySelector(".name").textContent.trim(),
        // The total weight is said in a second unit too.
        details.querySelector("output").textContent.replace(/ \(.*\)$/, "").trim(),
      ]),
    ),
  );
  await openTool(page, "beside");
  return all;
};

async function view(url = here.server.url) {
  const page = await open(here.chromium.browser, url);
  await waitForAnswers(page);
  await openTool(page, "beside");
  await page.waitForSelector("#beside-hold:not(:disabled)");
  return page;
}

async function holdAndChange(page, grains = "150") {
  await page.click("#beside-hold");
  await waitFor(page, "beside-said", /^Saved as A/);
  await page.waitForFunction(() => !document.getElementById("beside-pair").hidden);
  await type(page, "pointGr", grains);
  await page.keyboard.press("Tab");
  await waitFor(page, "beside-inputs", new RegExp(`Point weight.*${grains}.gr`, "s"));
}

/** Adds to the kept setups, as an earlier version of the page would in another tab. */
const keep = (page, list) =>
  page.evaluate((kept) => localStorage.setItem("clothyard.kept", JSON.stringify({ schemaVersion: 1, kept, drawer: [] })), list);

/** Removes kept setups, as another tab does. */
const remove = (page, list) =>
  page.evaluate(
    (ids) =>
      new Promise((done) => {
        const opened = indexedDB.open("clothyard");
        opened.onsuccess = () => {
          const transaction = opened.result.transaction("records", "readwrite");
          for (const id of ids) transaction.objectStore("records").delete(`setup/${id}`);
          transaction.oncomplete = () => {
            new BroadcastChannel("clothyard").postMessage(null);
            done();
          };
        };
      }),
    list.map(({ id }) => id),
  );

const setup = (id, name, inputs) => ({ id, keptOn: "2026-05-01", build: { schemaVersion: 1, name, inputs } });

test("with nothing held and nothing kept the view says what to do", async () => {
  const page = await view();
  assert.match(await read(page, "beside-nothing"), /Tap “Compare with this setup”/);
  assert.match(await read(page, "beside-none-kept"), /Save some under “Save and share”/);
  for (const id of ["beside-pair", "beside-swap", "beside-let-go", "beside-choose"]) assert.equal(await shown(page, id), false, id);
  assert.deepEqual(page.complaints, []);
});

test("only what differs is shown, and by as much as the page's own numbers differ", async () => {
  const page = await view();
  const before = await results(page);
  const point = await read(page, "pointGr");
  await page.click("#beside-hold");
  await settled();
  for (const id of ["beside-inputs-same", "beside-results-same"]) assert.equal(await shown(page, id), true, id);

  await type(page, "pointGr", "150");
  await page.keyboard.press("Tab");
  await waitFor(page, "beside-inputs", /Point weight.*150.gr/s);
  const inputs = await rows(page, "beside-inputs");
  const spine = inputs.filter(([label]) => label !== "Point weight");
  assert.deepEqual(inputs.find(([label]) => label === "Point weight"), ["Point weight", `${point}\u00a0gr`, "150\u00a0gr"]);
  for (const row of spine) assert.match(row.join(), /default/, "only what follows the point may differ besides");

  const after = await results(page);
  const table = await rows(page, "beside-results");
  const differing = Object.keys(before).filter((label) => before[label] !== after[label]);
  assert.ok(differing.length > 5 && differing.length < Object.keys(before).length);
  const labels = table.map(([label]) => label).filter((label) => label !== "Match");
  assert.deepEqual(labels.filter((label) => /\d/.test(before[label] + after[label])).sort(), differing.sort());
  for (const [label, a, b, by] of table.filter(([label]) => label !== "Match")) {
    if (/none/.test(before[label] + after[label])) continue;
    assert.equal(a, before[label], label);
    assert.equal(b, after[label], label);
    assert.ok(Math.abs(number(b) - number(a) - number(by)) < 1e-9, `${label}: ${a} ${b} ${by}`);
    assert.match(by, number(b) > number(a) ? /^\+\d/ : /^−\d/, label);
  }
  assert.match(await read(page, "beside-takeaway"), /^B weighs \d+\sgr more, balances .* farther forward and leaves .* slower than A\./);

  await page.click("#beside-all");
  await page.waitForFunction((count) => document.querySelectorAll("#beside-results tbody tr").length === count, {}, Object.keys(before).length + 1);
  const same = (await rows(page, "beside-results")).filter((row) => row[3] === "same");
  assert.ok(same.length && same.every(([, a, b]) => a === b));
  assert.deepEqual(page.complaints, []);
});

test("the tables follow the units", async () => {
  const page = await view();
  await holdAndChange(page);
  const before = await rows(page, "beside-results");
  await page.select("#all-units", "metric");
  await waitFor(page, "beside-takeaway", /^B weighs [\d.]+\sg more/);
  const weight = (await rows(page, "beside-results")).find(([label]) => label === "Total weight");
  for (const words of weight.slice(1)) assert.match(words, /^\+?[\d.]+\sg$/);
  const grains = number(before.find(([label]) => label === "Total weight")[3]);
  // NIST SP 811 (2008), Appendix B.8: 1 gr = 64.79891 mg. Half a grain is lost where grains are shown whole.
  assert.ok(Math.abs(number(weight[3]) - grains * 0.06479891) <= 0.0648 + 0.01);
  await page.select("#all-units", "archery");
  await waitFor(page, "beside-takeaway", /^B weighs \d+\sgr more/);
  assert.deepEqual(await rows(page, "beside-results"), before);
});

test("both arrows are on one tape, to one scale, their nock grooves aligned", async () => {
  const page = await view();
  await page.click("#beside-hold");
  await type(page, "cutLengthIn", "30");
  await page.keyboard.press("Tab");
  await waitFor(page, "beside-inputs", /Cut length/);
  const cut = (await rows(page, "beside-inputs")).find(([label]) => label === "Cut length").slice(1).map(number);
  assert.equal(await page.$$eval("#beside-arrows .tape", (tapes) => tapes.length), 1);
  assert.deepEqual(await page.$$eval("#beside-arrows .letter", (all) => all.map((text) => text.textContent)), ["A", "B"]);
  const [a, b] = await page.evaluate(() =>
    [".a.shaft", ".b.shaft"].map((selector) => {
      const { x, y, width } = document.querySelector(`#beside-arrows ${selector}`).getBBox();
      return { x, y, width };
    }),
  );
  assert.ok(Math.abs(a.x - b.x) < 0.02 && a.y < b.y);
  assert.ok(Math.abs(a.width / cut[0] - b.width / cut[1]) < 0.01, `${a.width} ${b.width} ${cut}`);
  const dashes = await page.evaluate(() =>
    [".a.shaft", ".b.shaft"].map((selector) => getComputedStyle(document.querySelector(`#beside-arrows ${selector}`)).strokeDasharray),
  );
  assert.equal(dashes[0], "none");
  assert.notEqual(dashes[1], "none");
});

test("swap, undo, let go", async () => {
  const page = await view();
  const point = await read(page, "pointGr");
  await holdAndChange(page);
  await page.click("#beside-swap");
  await waitFor(page, "pointGr", new RegExp(`^${point}$`));
  await waitFor(page, "beside-said", /^Swapped/);
  await page.waitForFunction(() => document.querySelector("#beside-inputs tbody")?.textContent.includes("Point weight150"));
  assert.ok((await rows(page, "beside-inputs")).some(([label, a, b]) => label === "Point weight" && a === "150\u00a0gr" && b === `${point}\u00a0gr`));
  await page.$eval("#undo", (button) => button.click());
  await waitFor(page, "pointGr", /^150$/);
  await settled();
  assert.equal(await shown(page, "beside-inputs-same"), true, "the page is again what is held");
  await page.$eval("#redo", (button) => button.click());
  await waitFor(page, "pointGr", new RegExp(`^${point}$`));
  await page.click("#beside-let-go");
  await waitFor(page, "beside-said", /^Cleared/);
  await settled();
  assert.equal(await shown(page, "beside-pair"), false);
  assert.equal(await page.evaluate(() => localStorage.getItem("clothyard.held")), null);
  assert.equal(await page.evaluate(() => document.activeElement.id), "beside-hold");
});

test("what is held outlives a reload", async () => {
  const page = await view();
  await holdAndChange(page);
  const before = [await rows(page, "beside-inputs"), await rows(page, "beside-results")];
  await page.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":150'));
  await page.reload();
  await waitForAnswers(page);
  await openTool(page, "beside");
  await waitFor(page, "beside-takeaway", /^B weighs/);
  assert.deepEqual([await rows(page, "beside-inputs"), await rows(page, "beside-results")], before);
});

test("a held setup that cannot be read is said, shown and kept aside", async () => {
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  const text = '{"schemaVersion":1,"inputs":{"pointGr":-5}}';
  await page.evaluate((held) => localStorage.setItem("clothyard.held", held), text);
  await openTool(page, "beside");
  await waitFor(page, "beside-unread-why", /could not be read \(.*point/i);
  assert.equal(await read(page, "beside-unread-text"), text);
  await page.click("#beside-hold");
  await waitFor(page, "beside-said", /^Saved as A/);
  assert.equal(await page.evaluate(() => localStorage.getItem("clothyard.held.unread")), text);
  assert.match(await page.evaluate(() => localStorage.getItem("clothyard.held")), /"schemaVersion":1/);
});

test("kept setups are in one table, as many as are chosen", async () => {
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  const list = [100, 125, 150].map((point) => setup(`k${point}`, `Sallow ${point}`, { peakDrawWeightLb: 60, pointGr: point }));
  await keep(page, [...list, { id: "bad", keptOn: "2026-05-01", build: { schemaVersion: 1, inputs: { nope: 1 } } }]);
  await openTool(page, "beside");
  await waitFor(page, "beside-kept", /Sallow 125/);
  const head = () => page.$$eval("#beside-kept thead th", (all) => all.map((each) => each.textContent));
  assert.deepEqual(await head(), ["Result", "Current setup", "Sallow 150", "Sallow 125", "Sallow 100"]);
  assert.match(await read(page, "beside-kept-said"), /^One saved setup cannot be read/);
  const table = await rows(page, "beside-kept");
  assert.equal(table.length, 15);
  const of = (label) => table.find((row) => row[0] === label);
  assert.match(of("Match").join(), /match|stiff|weak/);
  assert.deepEqual(of("Point weight").slice(2), ["150\u00a0gr", "125\u00a0gr", "100\u00a0gr"]);
  const onPage = await results(page);
  for (const label of ["Total weight", "Launch speed"]) assert.equal(of(label)[1], onPage[label], label);
  // The first screen leaves room for a line break between number and unit.
  assert.equal(of("Total weight")[1].replace("\u00a0", " "), await read(page, "total-weight"));

  await page.focus('[data-kept="k125"]');
  await press(page, "Space");
  await page.waitForFunction(() => document.querySelectorAll("#beside-kept thead th").length === 4);
  assert.deepEqual(await head(), ["Result", "Current setup", "Sallow 150", "Sallow 100"]);
  assert.equal(await page.evaluate(() => document.activeElement.dataset.kept), "k125");

  // Another tab says when it has written.
  await remove(page, list.slice(1));
  await page.waitForFunction(() => document.querySelectorAll("#beside-kept thead th").length === 3);
  await page.select("#start", "recurve");
  await page.waitForFunction(
    () => {
      const inTable = document.querySelector("#beside-kept tbody tr:nth-child(2) td").textContent;
      return inTable.replace("\u00a0", " ") === document.getElementById("total-weight").textContent;
    },
  );
  assert.deepEqual(page.complaints, []);
});

test("a kept setup's column says what the page says of it", async () => {
  const page = await view();
  await holdAndChange(page);
  await page.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":150'));
  const { build } = await stored(page, "clothyard.setup");
  await keep(page, [{ id: "one", keptOn: "2026-05-01", build: { ...build, name: "One" } }]);
  await page.evaluate(() => window.dispatchEvent(new StorageEvent("storage", { key: "clothyard.kept" })));
  await waitFor(page, "beside-kept", /One/);
  for (const [label, now, kept] of await rows(page, "beside-kept")) assert.equal(kept, now, label);
});

test("on paper the view shows what is held, and no switches", async () => {
  const page = await view();
  await holdAndChange(page);
  await keep(page, [setup("k1", "Sallow 100", { pointGr: 100 })]);
  await page.evaluate(() => window.dispatchEvent(new StorageEvent("storage", { key: "clothyard.kept" })));
  await waitFor(page, "beside-kept", /Sallow 100/);
  await page.emulateMediaType("print");
  const text = await page.$eval("#beside", (element) => element.innerText);
  for (const part of [/Different inputs/, /Point weight/, /B − A/, /\+\d+\sgr/, /Main results/, /Sallow 100/]) assert.match(text, part);
  for (const part of [/Compare with this/, /Show all/, /Setups to compare/]) assert.doesNotMatch(text, part);
  assert.equal(await shown(page, "beside-arrows"), true);
});

const held = async (page) => {
  await keep(page, [100, 125].map((point) => setup(`k${point}`, `Sallow ${point}`, { pointGr: point })));
  await openTool(page, "beside");
  await page.waitForFunction(() => document.querySelector("#beside-kept thead")?.textContent.includes("Sallow 125"));
  await page.$eval("#beside-hold", (button) => button.click());
  await page.waitForFunction(() => !document.getElementById("beside-pair").hidden);
  await type(page, "pointGr", "150");
  await page.keyboard.press("Tab");
  await waitFor(page, "beside-inputs", /Point weight.*150.gr/s);
};

const STATES = {
  "in the light": async () => {},
  "in the dark": (page) => page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: "dark" }]),
  "at 320 px": (page) => page.setViewport({ width: 320, height: 640 }),
};

for (const [state, prepare] of Object.entries(STATES)) {
  test(`axe-core finds nothing with a setup held ${state}`, async () => {
    const ready = async (page) => {
      await prepare(page);
      await held(page);
    };
    assert.deepEqual(await audit(await here.chromium.browser.createBrowserContext(), here.server.url, ready), []);
  });
}

test("nothing but tables scrolls sideways at 320 px", async () => {
  const page = await open(here.chromium.browser, here.server.url, (fresh) => fresh.setViewport({ width: 320, height: 640 }));
  await waitForAnswers(page);
  await held(page);
  assert.deepEqual(await tooWide(page), []);
  assert.ok(await page.$eval("#decide", (section) => section.scrollWidth <= section.clientWidth));
});
