// The first screen: how much is on it, how large the answer is, how few keys and taps lead to it, and that nothing on it
// moves under a hand.

import assert from "node:assert/strict";
import { test } from "node:test";
import { open, pause, press, read, shown, stage, tooWide, type, waitFor } from "./support.mjs";

const here = stage();

const DESKTOP = { width: 1280, height: 900 };
const TABLET = { width: 1024, height: 768 };
const PHONE = { width: 390, height: 844, hasTouch: true, isMobile: true };
const ON_ITS_SIDE = { width: 844, height: 390, hasTouch: true, isMobile: true };
const SMALL = { width: 320, height: 640 };

/** A tab that knows nothing of the others, still empty. */
async function empty(viewport, prepare = async () => {}) {
  const page = await open(await here.chromium.browser.createBrowserContext(), here.server.url, async (fresh) => {
    await fresh.setViewport(viewport);
    await prepare(fresh);
  });
  await page.waitForSelector("html.scripted");
  return page;
}

/** A tab with the newcomer's answer. */
async function answered(viewport) {
  const page = await empty(viewport);
  await type(page, "peakDrawWeightLb", "68");
  await type(page, "drawLengthIn", "29");
  await page.evaluate(() => document.activeElement.blur());
  await waitFor(page, "total-weight", /\d/);
  await pause(500); // help leaves with the field it belongs to
  return page;
}

const state = (page) => page.$eval("#answer", (answer) => answer.dataset.state);

/** Words and controls whose upper half is in the window. */
function inView(page) {
  return page.evaluate(() => {
    const seen = (element) => {
      const { width, height, top, left, right } = element.getBoundingClientRect();
      return width > 1 && height > 1 && top >= 0 && top + height / 2 < innerHeight && left < innerWidth && right > 0;
    };
    const shows = (element) => element.checkVisibility({ visibilityProperty: true }) && !element.closest(".unseen");
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    let words = 0;
    while (texts.nextNode()) {
      const { data, parentElement } = texts.currentNode;
      if (!data.trim() || /SCRIPT|STYLE|OPTION/.test(parentElement.tagName)) continue;
      if (shows(parentElement) && seen(parentElement)) words += data.trim().split(/\s+/).length;
    }
    const entries = [...document.querySelectorAll("input[type=text], select")].filter((entry) => shows(entry) && seen(entry));
    for (const entry of entries) words += (entry.selectedOptions?.[0].text ?? entry.value).split(" ").filter(Boolean).length;
    const controls = [...document.querySelectorAll("button, input, select, a[href], summary")].filter((each) => shows(each) && seen(each));
    return { words, controls: controls.length, glance: controls.filter((each) => each.closest("#glance-table")).length };
  });
}

const pixels = (page, id) => page.$eval(`#${id}`, (output) => Number.parseFloat(getComputedStyle(output).fontSize));

test("a desktop's first screen is short, with the glance table in it", async () => {
  const page = await answered(DESKTOP);
  const { words, controls, glance } = await inView(page);
  console.log(`1280x900: ${words} words, ${controls} controls`);
  assert.ok(words <= 230 && controls <= 46, `${words} words, ${controls} controls`);
  assert.equal(glance, 9);
  assert.deepEqual([await pixels(page, "spine"), await pixels(page, "cut")], [80, 48]);
  assert.equal(await page.evaluate(() => scrollX + document.documentElement.scrollWidth), 1280);
  await page.close();
});

test("a phone's first screen has spine and cut, and is short", async () => {
  const page = await answered(PHONE);
  const { words, controls } = await inView(page);
  console.log(`390x844: ${words} words, ${controls} controls`);
  assert.ok(words <= 115 && controls <= 24, `${words} words, ${controls} controls`);
  assert.deepEqual([await pixels(page, "spine"), await pixels(page, "cut")], [60, 36]);
  for (const id of ["spine", "cut"]) {
    assert.ok(await page.$eval(`#${id}`, (output) => output.getBoundingClientRect().bottom < innerHeight), id);
  }
  await page.close();
});

test("empty first: no verdict and no number that nobody asked for; two numbers answer", async () => {
  const page = await empty(DESKTOP);
  assert.equal(await state(page), "empty");
  const text = await page.$eval("#answer", (answer) => answer.innerText.replace(answer.querySelector("select").innerText, ""));
  assert.match(text, /^Enter draw weight and draw length/);
  assert.doesNotMatch(text, /\d|match/i);
  assert.equal(await page.$("#arrow .handle"), null);
  assert.equal(await page.$eval("#copy", (button) => button.disabled), true);
  await type(page, "peakDrawWeightLb", "68");
  assert.equal(await read(page, "prompt-words"), "Enter draw length or arm span");
  await type(page, "armSpanIn", "73");
  assert.equal(await state(page), "answered");
  assert.match(await read(page, "spine"), /^\d{3,4}$/);
  assert.match(await read(page, "cut"), /^\d\d( \d\/\d)?$/);
  assert.match(await read(page, "worst-link"), /^Draw length is an estimate\. Measure before you cut\. And 1 more\.$/);
  await page.click("#drawWeightFrom label:first-child");
  assert.match(await read(page, "worst-link"), /^Draw length is an estimate\. Measure before you cut\.$/);
  await page.close();
});

test("eight tab stops lead from the top to the point", async () => {
  const page = await empty(DESKTOP);
  const stops = [];
  while (stops.at(-1) !== "pointGr" && stops.length < 12) {
    await press(page, "Tab");
    stops.push(await page.evaluate(() => document.activeElement.id || document.activeElement.name || document.activeElement.textContent));
  }
  assert.equal(stops.length, 8, stops.join(", "));
  await page.close();
});

test("the newcomer's task on a phone takes twelve taps and keys, no scrolling", async () => {
  const page = await empty(PHONE);
  let count = 0;
  const tap = async (selector) => {
    const target = await page.$(selector);
    const box = await target.boundingBox();
    assert.ok(box.y >= 0 && box.y + box.height <= 844, `${selector} is in the window`);
    await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2);
    count += 1;
  };
  const keys = async (text) => {
    await page.keyboard.type(text);
    count += text.length;
  };
  await tap("#peakDrawWeightLb");
  await keys("68");
  await tap("#drawWeightFrom label:nth-child(1)");
  await tap("#drawLengthFrom label:nth-child(2)");
  await tap("#armSpanIn");
  await keys("73");
  await tap("#purpose label:nth-of-type(3)");
  await tap("#point-chips label:nth-child(2)");
  assert.equal(await state(page), "answered");
  console.log(`newcomer on a phone: ${count} taps and keys`);
  assert.ok(count <= 12, `${count}`);
  assert.equal(await page.evaluate(() => scrollY), 0);
  assert.match(await read(page, "spine"), /^\d{3}$/);
  await page.close();
});

test("nothing moves over a whole session of editing", async () => {
  for (const viewport of [DESKTOP, PHONE]) {
    const page = await empty(viewport, (fresh) =>
      fresh.evaluateOnNewDocument(() => {
        window.shift = 0;
        // Also what moves within half a second of a key or tap, which the browser would excuse.
        new PerformanceObserver((list) => list.getEntries().forEach((each) => (window.shift += each.value))).observe({ type: "layout-shift", buffered: true });
      }),
    );
    const edits = [["peakDrawWeightLb", "68"], ["drawLengthIn", "29 1/4"], ["pointGr", "10"], ["pointGr", "9999"], ["pointGr", "125"], ["peakDrawWeightLb", "6x"], ["peakDrawWeightLb", "55"]];
    for (const [id, text] of edits) {
      await type(page, id, text);
      await pause(1200); // until what is wrong is said
    }
    await page.keyboard.press("Tab");
    for (const answer of ["#bowKind label:nth-of-type(2)", "#bowKind label:nth-of-type(1)", "#purpose label:nth-child(3)"]) {
      await page.$eval(answer, (label) => label.click());
      await pause(400);
    }
    const shift = await page.evaluate(() => window.shift);
    console.log(`${viewport.width} px: layout shift ${shift.toFixed(4)}`);
    assert.ok(shift < 0.02, `${viewport.width}: ${shift}`);
    await page.close();
  }
});

test("typing replaces, by click, tap and tab", async () => {
  const page = await answered(DESKTOP);
  await page.click("#pointGr");
  await page.keyboard.type("125");
  assert.equal(await read(page, "pointGr"), "125");
  await press(page, "Shift+Tab");
  await page.focus("#peakDrawWeightLb");
  await page.keyboard.type("62");
  assert.equal(await read(page, "peakDrawWeightLb"), "62");
  await page.close();
  const phone = await answered(PHONE);
  await phone.tap("#peakDrawWeightLb");
  await phone.keyboard.type("55");
  assert.equal(await read(phone, "peakDrawWeightLb"), "55");
  await phone.close();
});

test("a field stays while a number is typed whose beginning rules the field out", async () => {
  const page = await answered(DESKTOP);
  const spine = await read(page, "spine");
  await type(page, "boreIn", "0"); // a shaft without a bore is of wood, which asks for no bore
  await waitFor(page, "spine", /^\d+#$/);
  await page.keyboard.type(".166");
  assert.equal(await read(page, "boreIn"), "0.166");
  assert.equal(await page.evaluate(() => document.activeElement.id), "boreIn");
  assert.match(await read(page, "spine"), /^\d+$/);
  await type(page, "boreIn", "0");
  await press(page, "Tab");
  assert.equal(await shown(page, "boreIn"), true, "what made it wood can be changed back");
  assert.equal(await page.$eval("#shaftMaterial", (each) => each.value), "wood");
  await page.click("#undo");
  assert.equal(await read(page, "spine"), spine);
  await page.close();
});

test("a bad number never counts, nor any beginning of it", async () => {
  const page = await answered(DESKTOP);
  const weight = await read(page, "total-weight");
  await type(page, "nockGr", "9999");
  await waitFor(page, "nockGr-said", /^0 to 100/);
  assert.equal(await read(page, "total-weight"), weight);
  assert.match(await read(page, "worst-link"), /^Nock weight: .*0 to 100.*Results are for 10\sgr\.$/);
  await page.keyboard.press("Tab");
  assert.equal(await read(page, "total-weight"), weight);
  assert.match(await read(page, "part-nock"), /^10\sgr$/);
  await page.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes("9999"));
  assert.doesNotMatch(await page.evaluate(() => JSON.stringify(JSON.parse(localStorage.getItem("clothyard.setup")).build)), /nockGr/);
  await page.click("#part-close");
  await page.click("#worst-link");
  assert.equal(await page.evaluate(() => document.activeElement.id), "nockGr", "the line leads to the field");
  await page.keyboard.type("12");
  assert.notEqual(await read(page, "total-weight"), weight);
  await page.close();
});

test("the cut is set in eighths along the ruler, by keyboard and by hand", async () => {
  const page = await answered(DESKTOP);
  await page.focus("#cutLengthIn-slider");
  const before = await page.$eval("#cutLengthIn-slider", (slider) => Number(slider.value));
  await press(page, "ArrowLeft", "ArrowLeft");
  assert.equal(await page.$eval("#cutLengthIn-slider", (slider) => Number(slider.value)), before - 0.25);
  assert.match(await page.$eval("#cutLengthIn-slider", (slider) => slider.ariaValueText), /^\d\d( \d\/\d)?\sin$/);
  const handle = await (await page.$("#arrow .handle")).boundingBox();
  const [x, y] = [handle.x + handle.width / 2, handle.y + handle.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x - 80, y, { steps: 8 });
  await page.mouse.up();
  const cut = await page.$eval("#cutLengthIn-slider", (slider) => Number(slider.value));
  assert.ok(cut < before - 1.5 && cut > before - 3, `${before} ${cut}`);
  assert.equal((cut * 8) % 1, 0);
  assert.equal(Number(await page.evaluate(() => document.getElementById("cutLengthIn").value)), cut);
  await page.click("#undo");
  await page.close();
});

test("the drawing names its parts at every width, and a name opens the part's fields", async () => {
  for (const viewport of [DESKTOP, TABLET, PHONE, ON_ITS_SIDE, SMALL]) {
    const page = await answered(viewport);
    const names = await page.$$eval("#part-names button", (all) => all.map((each) => each.innerText.replace(/\s+/g, " ").trim()));
    assert.equal(names.length, 5, names);
    assert.ok(names.every((name) => /^(Nock|Vanes|Shaft|Insert|Point) \d/.test(name)), names.join(", "));
    assert.ok((await page.$$("#arrow .lead")).length >= 15, `${viewport.width}: lines from the names`);
    assert.deepEqual(await tooWide(page), []);
    await page.focus("[data-part=vanes]");
    await press(page, "Enter");
    assert.equal(await page.$eval("#group-vanes", (group) => group.checkVisibility()), true);
    assert.equal(await page.$eval("[data-part=vanes]", (button) => button.ariaExpanded), "true");
    await type(page, "vaneGr", "9");
    assert.match(await read(page, "part-vanes"), /^3 × 9\sgr$/);
    await page.click("#part-close");
    assert.equal(await page.evaluate(() => document.activeElement.dataset.part), "vanes");
    await page.close();
  }
});

test("a cell of the glance table goes on the arrow, and undo takes it off", async () => {
  const page = await answered(DESKTOP);
  const before = await read(page, "total-weight");
  await page.click("#glance-22");
  assert.equal(await read(page, "pointGr"), "125");
  assert.match(await read(page, "part-front"), /^35\sgr$/);
  assert.equal(await page.$eval("#glance-table [aria-pressed=true]", (cell) => cell.id), "glance-11", "it is in the middle now");
  await page.click("#undo");
  assert.equal(await read(page, "total-weight"), before);
  for (const [axis, heading] of [["cutLengthIn", /in$/], ["peakDrawWeightLb", /lb$/], ["shaft", /^\d+$/]]) {
    await page.select("#glance-axes", axis);
    assert.match(await read(page, "glance-step-1"), heading);
  }
  await page.close();
});

test("defaults are listed with value and reason, each leads to its field", async () => {
  const page = await answered(DESKTOP);
  const count = Number.parseInt(await read(page, "defaults-count"), 10);
  await page.click("#defaults");
  const rows = await page.$$eval("#defaults-table tbody tr", (all) => all.map((row) => [...row.cells].map((cell) => cell.textContent)));
  assert.equal(rows.length, count);
  assert.ok(rows.every(([name, value, why]) => name && value && why), JSON.stringify(rows.filter((row) => !row.every(Boolean))));
  await page.click('#defaults-table a[href="#braceHeightIn"]');
  assert.equal(await page.evaluate(() => document.activeElement.id), "braceHeightIn");
  await page.close();
});

test("the nock's fields say what fits it, from the serving or the groove alone", async () => {
  const page = await answered(DESKTOP);
  await type(page, "servedStringIn", "0.112");
  await waitFor(page, "nock-fit", /^Nock grooves of 0\.110\sin to 0\.116\sin fit this serving\./);
  await type(page, "nockThroatIn", "0.12");
  await waitFor(page, "nock-fit", /^Too loose by 8 thousandths of an inch/);
  assert.equal(await page.$eval("#nock-fit", (line) => line.classList.contains("caution")), true);
  await type(page, "servedStringIn", "");
  await waitFor(page, "nock-fit", /^Servings of 0\.116\sin to 0\.122\sin fit this nock\./);
  assert.equal(await page.$eval("#nock-fit", (line) => line.classList.contains("caution")), false);
  await page.close();
});

test("a slash finds any field or tool", async () => {
  const page = await answered(DESKTOP);
  await page.keyboard.press("/");
  await page.keyboard.type("brace");
  await press(page, "Enter");
  assert.equal(await page.evaluate(() => document.activeElement.id), "braceHeightIn");
  await page.evaluate(() => document.activeElement.blur());
  await page.keyboard.press("/");
  await page.keyboard.type("tuning");
  await press(page, "Enter");
  await page.waitForSelector("#tuning[open]", { timeout: 30_000 });
  await page.close();
});

test("copied text is enough to order and cut by", async () => {
  const page = await answered(DESKTOP);
  await page.evaluate(() => {
    navigator.clipboard.writeText = async (text) => (window.copied = text);
  });
  await page.click("#copy");
  assert.equal(await page.$eval("#copy", (button) => button.textContent), "Copied");
  const text = await page.evaluate(() => window.copied);
  for (const part of [/^Arrow, 20\d\d-\d\d-\d\d$/m, /^Shaft: spine \d+ \(deflection 0\.\d+ in/m, /^Diameter: outside .*, inside /m, /^Cut length: \d+/m, /^Point: 100/m, /^Vanes: 3 x 7/m, /FOC \d/, /^Defaults: /m]) {
    assert.match(text, part);
  }
  await page.close();
});

test("once the answer has left the window it stays as one line", async () => {
  const page = await answered(PHONE);
  assert.equal(await page.$eval("#line", (line) => line.checkVisibility()), false);
  await page.evaluate(() => document.getElementById("glance").scrollIntoView());
  await page.waitForFunction(() => document.getElementById("line").checkVisibility());
  assert.match(await read(page, "line"), /^\d+ · \d+.* in · \d+ gr · \d+\.\d% · \d+ fps/);
  await page.close();
});

test("the text of a sample's name goes with the first edit", async () => {
  const page = await empty(DESKTOP);
  await page.select("#start", "recurve");
  assert.match(await read(page, "setup-name"), /Sallow Field/);
  await type(page, "pointGr", "120");
  assert.doesNotMatch(await page.evaluate(() => document.body.innerText), /Sallow Field: finger/);
  await page.waitForFunction(() => !localStorage.getItem("clothyard.setup")?.includes("Sallow Field: finger"), { polling: 50 });
  await page.close();
});

test("text twice as large loses nothing and fits", async () => {
  for (const viewport of [DESKTOP, TABLET, { width: 390, height: 844 }, SMALL]) {
    const page = await answered(viewport);
    await page.evaluate(() => {
      document.documentElement.style.fontSize = "200%";
      window.dispatchEvent(new Event("resize"));
    });
    await pause(200);
    const beyond = await page.$$eval("#page *", (all) =>
      all.filter((each) => !each.closest(".unseen, svg *, .scroll") && each.checkVisibility())
        .filter((each) => each.getBoundingClientRect().right > innerWidth + 1)
        .map((each) => `${each.tagName} ${each.id} ${each.className}`),
    );
    assert.deepEqual(beyond, [], `${viewport.width} px`);
    await page.close();
  }
});
