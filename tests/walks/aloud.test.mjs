// The page as a screen reader hears it: by the browser's own accessibility tree, name, role, value and description.

import assert from "node:assert/strict";
import { test } from "node:test";
import { open, openEverything, press, read, stage, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

async function fresh() {
  const page = await open(await here.chromium.browser.createBrowserContext(), here.server.url);
  await waitForAnswers(page);
  return page;
}

/** What is told of the element that has the focus. */
async function heard(page) {
  const focused = await page.evaluateHandle(() => document.activeElement);
  const { role, name, value, description, invalid } = await page.accessibility.snapshot({ root: focused.asElement() });
  return { role, name, value, description, invalid };
}

/** Every node of the tree, with the names of the parts of the page it is in. */
function flat(node, within = []) {
  const inner = ["region", "form", "group", "table", "row", "dialog"].includes(node.role) ? [...within, node.name] : within;
  return [{ ...node, within }, ...(node.children ?? []).flatMap((child) => flat(child, inner))];
}

async function everything(page) {
  await openEverything(page);
  await page.waitForSelector("#lesson-code path");
  await waitFor(page, "slow-now", /ms after the release/);
  return flat(await page.accessibility.snapshot({ interestingOnly: true }));
}

const CONTROLS = ["button", "checkbox", "combobox", "link", "radio", "searchbox", "slider", "spinbutton", "textbox", "DisclosureTriangle"];

test("every control says what it is, in words, and no two beside each other say the same", async () => {
  const page = await fresh();
  const nodes = await everything(page);
  const controls = nodes.filter(({ role }) => CONTROLS.includes(role));
  assert.ok(controls.length > 300, `${controls.length} controls`);
  // A key of the number pad is told by its digit.
  const key = ({ role, name }) => role === "button" && /^[\d.,]$/.test(name ?? "");
  const wordless = controls.filter((each) => !key(each) && (!/\p{L}{2}/u.test(each.name ?? "") || /[▸▾▲▼]|^×/u.test(each.name)));
  assert.deepEqual(wordless, []);
  // A table's own rows and columns tell its cells apart; elsewhere a name has to.
  const seen = new Map();
  for (const { role, name, within } of controls) {
    if (role === "DisclosureTriangle" || within.length === 0) continue;
    const place = `${within.join(" > ")} | ${role} | ${name}`;
    seen.set(place, (seen.get(place) ?? 0) + 1);
  }
  const cell = /^(−|\+|±)?\d/u;
  const twins = [...seen].filter(([place, count]) => count > 1 && !cell.test(place.split(" | ").at(-1)));
  assert.deepEqual(twins, []);
  const images = nodes.filter(({ role }) => role === "image");
  assert.ok(images.length >= 10);
  assert.deepEqual(images.filter(({ name }) => !/\p{L}{3,}.*\s.*\p{L}{3,}/u.test(name ?? "")), [], "a picture is told in a sentence");
});

test("a field tells its name, its number with the unit, and whose number it is", async () => {
  const page = await fresh();
  const fields = await page.$$eval("#questions input[inputmode]", (all) => all.filter((each) => each.checkVisibility()).map((each) => each.id));
  assert.equal(fields.length, 3);
  for (const id of fields) {
    await page.focus(`#${id}`);
    const { role, name, description } = await heard(page);
    const [label, unit] = await page.evaluate((key) => {
      const field = document.getElementById(key);
      return [field.labels[0].textContent.trim(), document.getElementById(`${key}-unit`)?.textContent.trim() ?? ""];
    }, id);
    assert.equal(role, "textbox");
    assert.equal(name, label);
    assert.match(description, /your value|default|not set|measured/, id);
    assert.ok(description.startsWith(unit), `${id}: "${description}" begins with ${unit}`);
  }
});

test("the job by ear: three fields, what they answer, a slip and its mending", async () => {
  const page = await fresh();
  await page.select("#start", "blank");
  const landmarks = flat(await page.accessibility.snapshot({ interestingOnly: false }))
    .filter(({ role }) => ["banner", "main", "form", "region", "navigation"].includes(role))
    .map(({ role, name }) => `${role} ${name}`.trim());
  for (const each of ["banner", "main Bow and arrow", "form Bow and point", "region Answer", "region The arrow", "navigation Tools"]) {
    assert.ok(landmarks.includes(each), `${each}: ${landmarks}`);
  }

  await type(page, "peakDrawWeightLb", "58");
  assert.deepEqual(await heard(page), { role: "textbox", name: "Draw weight", value: "58", description: "lb your value", invalid: undefined });
  await type(page, "drawLengthIn", "28.5");
  await type(page, "pointGr", "125");
  const summary = /^(Good match|Slightly|Too).*\. Spine \d+, cut \d+.* in, \d+ gr\.$/;
  const told = await waitFor(page, "status", summary);
  const gauge = await page.accessibility.snapshot({ root: await page.$("#band") });
  assert.equal(gauge.name, await read(page, "match-sentence"));

  await type(page, "pointGr", "12x");
  await waitFor(page, "pointGr-said", /\S/);
  const wrong = await heard(page);
  assert.equal(wrong.invalid, "true");
  assert.ok(wrong.description.includes(await read(page, "pointGr-said")), wrong.description);
  await type(page, "pointGr", "150");
  await page.waitForFunction(() => !document.getElementById("pointGr-said").textContent);
  const mended = await heard(page);
  assert.deepEqual([mended.invalid, mended.description], [undefined, "gr your value"]);
  // What was wrong may have been told on the way.
  const tellsAnother = ([old, source]) => {
    const now = document.getElementById("status").textContent;
    return now !== old && new RegExp(source).test(now);
  };
  await page.waitForFunction(tellsAnother, {}, [told, summary.source]);

  await page.focus("#cutLengthIn-slider");
  await press(page, "ArrowLeft");
  const text = await page.$eval("#cutLengthIn-slider", (slider) => slider.ariaValueText);
  assert.match(text, /^\d\d( \d\/\d)?\sin$/);
  for (const part of ["Nock", "Vanes", "Shaft", "Insert", "Point"]) {
    await page.focus(`#part-names li:nth-child(${["Nock", "Vanes", "Shaft", "Insert", "Point"].indexOf(part) + 1}) button`);
    const { role, name } = await heard(page);
    assert.deepEqual([role, name.split(" ")[0]], ["button", part]);
  }
});

test("headings lead through the page without a gap", async () => {
  const page = await fresh();
  await everything(page);
  const levels = await page.$$eval("h1, h2, h3, h4, h5, h6", (all) =>
    all.filter((each) => each.checkVisibility() && !each.matches("#place h1")).map((each) => [Number(each.tagName[1]), each.textContent.trim()]),
  );
  assert.equal(levels[0][0], 1);
  assert.equal(levels.filter(([level]) => level === 1).length, 1);
  const gaps = levels.filter(([level], place) => place > 0 && level > levels[place - 1][0] + 1);
  assert.deepEqual(gaps, []);
  assert.deepEqual(levels.filter(([, text]) => !text), []);
});
