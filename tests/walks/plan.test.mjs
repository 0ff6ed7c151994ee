// The arrow drawn out: what it says, the ways from a part to its fields and back, the files, any width, dark, paper.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { audit, downloads, open, openTool, press, read, rows, saved, shown, singleFile, stage } from "./support.mjs";
import { type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

async function openPlan(page) {
  await openTool(page, "plan");
  await page.waitForFunction(() => document.querySelectorAll("#plan-labels a").length > 5);
}

async function fresh(prepare, url = here.server.url) {
  const page = await open(await here.chromium.browser.createBrowserContext(), url, prepare);
  await waitForAnswers(page);
  await openPlan(page);
  return page;
}

const addPart = (page) => page.$eval("#own-part-add", (button) => button.click());

const labels = (page) => page.$$eval("#plan-labels a", (all) => all.map((label) => label.textContent));

/** Puts the focus on a label, which is no element of HTML. */
const hand = (page, id) => page.evaluate((name) => document.getElementById(name).focus(), id);

/** Words that are over others as the browser drew them, or beside the drawing. */
const tangled = (page) =>
  page.evaluate(() => {
    const drawing = document.getElementById("plan-drawing").getBoundingClientRect();
    const texts = [...document.querySelectorAll("#plan-drawing text")].map((text) => [text.textContent, text.getBoundingClientRect()]);
    const found = [];
    texts.forEach(([words, a], place) => {
      if (a.left < drawing.left - 1 || a.right > drawing.right + 1 || a.bottom > drawing.bottom + 1) found.push(`${words} is cut off`);
      for (const [others, b] of texts.slice(place + 1)) {
        if (a.left < b.right && b.left < a.right && a.top + 3 < b.bottom && b.top + 3 < a.bottom) found.push(`${words} over ${others}`);
      }
    });
    return found;
  });

const sideways = (page) => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);

test("it says what it shows, follows the fields, and has a table behind it", async () => {
  const page = await fresh();
  const words = await read(page, "plan-words");
  assert.match(words, /balance point [\d.]+\sin, FOC [\d.]+%.*cut to [\d.]+\sin.*From nock to point: nock, vanes.*point\. Below: rear end enlarged [\d.]+ times/);
  assert.deepEqual((await labels(page)).filter((label) => ["Collar", "Footer", "Bushing"].includes(label)), []);
  await page.evaluate(() => document.querySelectorAll("#group-front details").forEach((details) => (details.open = true)));
  await type(page, "collarGr", "5");
  await type(page, "collarLengthIn", "0.25");
  await waitFor(page, "plan-words", /collar/);
  assert.ok((await labels(page)).includes("Collar"));
  const foc = (await read(page, "foc")).match(/[\d.]+/)[0];
  await waitFor(page, "plan-drawing", new RegExp(`FOC ${foc}%`));
  await page.click("#plan details > summary");
  const parts = await rows(page, "plan-table");
  assert.deepEqual(parts.find(([name]) => name === "Collar").at(-1), "5");
  for (const [name, from, to, center] of parts) assert.ok(Math.abs((+from + +to) / 2 - center) < 0.011, name);
  const total = parts.reduce((sum, row) => sum + Number(row[4]), 0);
  assert.ok(Math.abs(total - Number.parseFloat(await read(page, "total-weight"))) < 0.51, `${total}`);
  await page.select("#all-units", "metric");
  await waitFor(page, "plan-words", /balance point [\d.]+\scm/);
  assert.match(await page.$eval("#plan-drawing", (drawing) => drawing.textContent), /tape in centimeters/);
  assert.deepEqual([await read(page, "plan-length-unit"), await read(page, "plan-mass-unit")], ["centimeters", "grams"]);
  // A setup that cannot be: no drawing, and a word of it.
  await page.evaluate(() => document.querySelectorAll("#group-shaft details").forEach((details) => (details.open = true)));
  await type(page, "outerDiameterIn", "7 mm");
  await type(page, "boreIn", "12 mm");
  await waitFor(page, "plan-words", /^No drawing/);
  await page.click("#plan-png");
  await waitFor(page, "plan-said", /^No drawing to save: these values do not work together\.$/);
  assert.deepEqual(page.complaints, []);
});

test("by keyboard from a part to its fields, however folded, and back", async () => {
  const page = await fresh();
  await type(page, "pointGr", "125");
  await addPart(page);
  await page.waitForSelector("#plan-own-0");
  const at = () => page.evaluate(() => document.activeElement.id);
  await page.focus("#place-back");
  const order = [];
  for (let tabs = 0; tabs < 30; tabs += 1) {
    await press(page, "Tab");
    if (!(await at()).startsWith("plan-") || (await at()) === "plan-svg") break;
    order.push(await at());
  }
  assert.deepEqual(order[0], "plan-nockKind");
  assert.deepEqual(order.at(-1), "plan-pointGr");
  for (const id of ["plan-vaneCount", "plan-staticSpineThousandths", "plan-own-0", "plan-cutLengthIn", "plan-insertKind"]) assert.ok(order.includes(id), id);
  const inSight = () =>
    page.evaluate(() => {
      const box = document.activeElement.getBoundingClientRect();
      const over = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
      return Boolean(over && (document.activeElement.contains(over) || over.contains(document.activeElement)));
    });
  // Into a folded group, and back.
  await page.evaluate(() => document.querySelectorAll("form details").forEach((details) => (details.open = false)));
  for (const [label, field] of [["plan-restOffsetIn", "restOffsetIn"], ["plan-insertKind", "insertKind"], ["plan-pointGr", "pointGr"]]) {
    await hand(page, label);
    await press(page, "Enter");
    assert.equal(await at(), field);
    assert.ok(await inSight(), field);
    await page.evaluate(() => history.back());
    await page.waitForFunction((id) => document.activeElement.id === id, {}, label);
    assert.ok(await inSight(), `back from ${field}`);
  }
  assert.equal(await at(), "plan-pointGr");
  await hand(page, "plan-own-0");
  await press(page, "Enter");
  assert.match(await page.evaluate(() => document.activeElement.getAttribute("aria-label")), /^Part 1:/);
  // A change leaves the hand on its label.
  await page.evaluate(() => history.back());
  await page.waitForFunction(() => document.activeElement.id === "plan-own-0");
  await hand(page, "plan-pointGr");
  await page.keyboard.down("Control");
  await page.keyboard.press("z");
  await page.keyboard.up("Control");
  assert.equal(await at(), "plan-pointGr");
  assert.deepEqual(page.complaints, []);
});

test("a finger on a part comes to its fields", async () => {
  const page = await fresh((each) => each.setViewport({ width: 390, height: 844 }));
  const points = await page.$$("#plan-marks polygon.point");
  await points.at(-1).evaluate((point) => point.scrollIntoView({ block: "center" }));
  await points.at(-1).click();
  assert.ok(await shown(page, "group-point"));
});

test("it is saved as SVG that stands alone and as PNG of the size said", async () => {
  for (const url of [here.server.url, singleFile]) {
    const page = await fresh(undefined, url);
    const folder = await downloads(page);
    await page.click("#plan-svg");
    await waitFor(page, "plan-said", /^Saved as clothyard-arrow\.svg\.$/);
    const svg = readFileSync(await saved(folder, ".svg"), "utf8");
    // Read on an empty page: this one's policy lets nothing parse a text.
    const empty = await here.chromium.browser.newPage();
    const parsed = await empty.evaluate((text) => {
      const file = new DOMParser().parseFromString(text, "image/svg+xml");
      const all = (selector) => [...file.querySelectorAll(selector)];
      return {
        wrong: all("parsererror").map((error) => error.textContent),
        root: file.documentElement.tagName,
        title: file.querySelector("svg > title").textContent,
        desc: file.querySelector("svg > desc").textContent,
        labels: all("g.label > text").map((label) => label.textContent),
        texts: all("text").map((label) => label.textContent).join("\n"),
        background: file.querySelector("rect").getAttribute("fill"),
        outside: all("*").flatMap((each) => [...each.attributes]).filter(({ name, value }) => name === "style" || name === "href" || /var\(|https?:(?!\/\/www\.w3\.org)/.test(value)).length,
        size: ["width", "height"].map((name) => Number(file.documentElement.getAttribute(name))),
      };
    }, svg);
    assert.deepEqual([parsed.wrong, parsed.root, parsed.background, parsed.outside], [[], "svg", "#ffffff", 0]);
    assert.match(parsed.title, /Sallow Field/);
    assert.equal(parsed.labels.join(), (await labels(page)).join());
    assert.match(parsed.desc, /balance point/);
    assert.match(parsed.texts, /lengths in inches, weights in grains\. Clothyard \d+\.\d+\.\d+\./);
    assert.doesNotMatch(svg, /20\d\d-\d\d-\d\d/);
    await page.click("#plan-png");
    const said = await waitFor(page, "plan-said", /png, \d+ by \d+ pixels\.$/);
    const png = readFileSync(await saved(folder, ".png"));
    assert.deepEqual([...png.subarray(0, 8)], [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    const size = [png.readUInt32BE(16), png.readUInt32BE(20)];
    assert.deepEqual(size, said.match(/\d+/g).map(Number));
    assert.deepEqual(size, parsed.size.map((side) => 2 * side));
    // It is a drawing on white, not an empty sheet.
    const ink = await empty.evaluate(async (data) => {
      const image = new Image();
      image.src = `data:image/png;base64,${data}`;
      await image.decode();
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [image.width, image.height];
      const pen = canvas.getContext("2d");
      pen.drawImage(image, 0, 0);
      const { data: pixels } = pen.getImageData(0, 0, canvas.width, canvas.height);
      let dark = 0;
      for (let place = 0; place < pixels.length; place += 4) if (pixels[place] < 128 && pixels[place + 3] === 255) dark += 1;
      return { corner: [...pixels.subarray(0, 4)], share: dark / (pixels.length / 4) };
    }, png.toString("base64"));
    assert.deepEqual(ink.corner, [255, 255, 255, 255]);
    assert.ok(ink.share > 0.005 && ink.share < 0.3, `${ink.share}`);
    assert.deepEqual(page.complaints, []);
  }
});

test("a browser that refuses a picture is told of in words", async () => {
  const page = await fresh();
  await page.evaluate(() => (HTMLCanvasElement.prototype.toBlob = (done) => done(null)));
  await page.click("#plan-png");
  await waitFor(page, "plan-said", /could not save the image\. Use Save as SVG/);
});

test("words never overlap, nor leave the drawing, from 320 px to a wide desk", async () => {
  for (const width of [320, 390, 820, 1280]) {
    const page = await fresh((each) => each.setViewport({ width, height: 844 }));
    for (const start of ["threeD", "junior", "recurve", "coach", "blank"]) {
      await page.select("#start", start);
      await page.waitForFunction(() => document.querySelectorAll("#plan-labels a").length > 5);
      assert.deepEqual(await tangled(page), [], `${start} at ${width}`);
      assert.ok((await sideways(page)) <= 0, `${start} at ${width}`);
    }
    for (const [id, text] of [["wrapGr", "6"], ["bushingGr", "8"], ["collarGr", "5"], ["sleeveGr", "12"]]) await type(page, id, text);
    for (let parts = 0; parts < 5; parts += 1) await addPart(page);
    await page.waitForSelector("#plan-own-4");
    assert.deepEqual(await tangled(page), [], `much at ${width}`);
    const small = await page.$$eval("#plan-labels a rect", (all) => all.filter((room) => room.getBoundingClientRect().height < 43.9).length);
    assert.equal(small, 0);
    await page.close();
  }
});

for (const [state, prepare] of Object.entries({
  "at 1280 px": (page) => page.setViewport({ width: 1280, height: 900 }),
  "at 320 px": (page) => page.setViewport({ width: 320, height: 640 }),
  "in the dark": (page) => page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: "dark" }]),
  "with forced colors": async (page) => (await page.createCDPSession()).send("Emulation.setEmulatedMedia", { features: [{ name: "forced-colors", value: "active" }] }),
})) {
  test(`axe-core finds nothing with it open ${state}`, async () => {
    const opened = async (page) => {
      await prepare(page);
      await openPlan(page);
      await page.click("#plan details > summary");
    };
    assert.deepEqual(await audit(await here.chromium.browser.createBrowserContext(), here.server.url, opened), []);
  });
}

test("in the dark it is drawn in light ink on the page's own paper", async () => {
  const page = await fresh((each) => each.emulateMediaFeatures([{ name: "prefers-color-scheme", value: "dark" }]));
  const colors = await page.evaluate(() => {
    const of = (selector, name) => getComputedStyle(document.querySelector(selector))[name];
    return [of("#plan-marks .shaft", "stroke"), of("#plan-marks .under", "fill"), of("body", "backgroundColor"), of("body", "color")];
  });
  assert.equal(colors[0], colors[3]);
  assert.equal(colors[1], colors[2]);
});

test("on paper it lies on one page, on its side, with its words", async () => {
  const page = await fresh((each) => each.setViewport({ width: 390, height: 844 }));
  const pdf = Buffer.from(await page.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1");
  const boxes = [...pdf.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, wide, high]) => wide > high);
  assert.equal(boxes.filter((lying) => lying).length, 1, "one page lies on its side");
  await page.emulateMediaType("print");
  const text = await page.$eval("#plan", (view) => view.innerText);
  assert.match(text, /balance point/);
  assert.doesNotMatch(text, /Save as|Tap a label/);
});
