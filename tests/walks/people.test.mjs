// The page for people of all kinds: by keyboard alone, at 320 px, in the dark, with forced colors, on paper, and as
// axe-core sees it in every state.

import assert from "node:assert/strict";
import { test } from "node:test";
import { audit, open, openTool, pause, press, read, stage, tooWide, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

async function openAll(page) {
  await openTool(page, "flight");
  await page.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
}

const STATES = {
  "as it opens": async () => {},
  "with nothing given": (page) => page.select("#start", "blank"),
  "with everything open": openAll,
  "with an error": async (page) => {
    await type(page, "pointGr", "abc");
    await page.keyboard.press("Tab");
  },
  "with a danger": (page) => type(page, "cutLengthIn", "24"),
  "with a lesson on the projector": async (page) => {
    await openTool(page, "lessons");
    await page.waitForSelector("#lesson-choice option");
    await page.click("#lesson-show");
  },
  "in the dark": (page) => page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: "dark" }]),
  "on a phone": (page) => page.setViewport({ width: 390, height: 844 }),
  "at 320 px": (page) => page.setViewport({ width: 320, height: 640 }),
  "on paper": (page) => page.emulateMediaType("print"),
};

/** A tab that knows nothing of the others. */
const fresh = async (prepare) => {
  const page = await open(await here.chromium.browser.createBrowserContext(), here.server.url, prepare);
  await waitForAnswers(page);
  return page;
};

for (const [state, prepare] of Object.entries(STATES)) {
  test(`axe-core finds nothing ${state}`, async () => {
    // Nobody taps on paper.
    const rules = state === "on paper" ? { "target-size": { enabled: false } } : {};
    assert.deepEqual(await audit(await here.chromium.browser.createBrowserContext(), here.server.url, prepare, rules), []);
  });
}

test("the job by keyboard alone", async () => {
  const page = await fresh();
  const at = () => page.evaluate(() => document.activeElement.id);
  await press(page, "Tab", "Enter");
  assert.equal(await at(), "peakDrawWeightLb", "the first link leads to the first field");
  await page.keyboard.type("55");
  const reach = async (id) => {
    for (let tabs = 0; tabs < 80 && (await at()) !== id; tabs += 1) await press(page, "Tab");
    assert.equal(await at(), id);
    const hidden = await page.evaluate(() => {
      const box = document.activeElement.getBoundingClientRect();
      const over = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
      return !(over && (document.activeElement.contains(over) || over.contains(document.activeElement)));
    });
    assert.equal(hidden, false, `${id} has the focus and can be seen`);
  };
  await reach("drawLengthIn");
  await page.keyboard.type("28");
  await reach("pointGr");
  await page.keyboard.type("110");
  await press(page, "Tab");
  assert.match(await read(page, "given"), /draw weight 55.*draw length 28.*point weight 110/);
  assert.match(await read(page, "match-words"), /matched|weak|stiff/);
});

test("nothing scrolls sideways at 320 px, nor at 400% zoom", async () => {
  const page = await fresh((page) => page.setViewport({ width: 320, height: 640 }));
  await openAll(page);
  // The views fill what is opened: the last of them to be there is the lesson's code.
  await page.waitForSelector("#lesson-code path", { visible: true });
  await waitFor(page, "slow-now", /ms after the release/);
  assert.deepEqual(await tooWide(page), []);
  // 1280 px at 400% is 320 px wide and a fourth as high.
  await page.setViewport({ width: 320, height: 225, deviceScaleFactor: 4 });
  assert.deepEqual(await tooWide(page), []);
});

test("below zero a number begins with a minus sign, not with a hyphen", async () => {
  const page = await fresh();
  await openAll(page);
  await waitFor(page, "distances-words", /\S/);
  await waitFor(page, "side-words", /\S/);
  const words = await page.evaluate(() => document.body.innerText);
  assert.match(words, /(^|\s)−\d/);
  assert.doesNotMatch(words, /(^|[\s(])-\d/);
});

test("with every caution out, nothing that has the focus is under what stays in sight", async () => {
  for (const viewport of [{ width: 320, height: 640 }, { width: 390, height: 844 }, { width: 1280, height: 720 }]) {
    const page = await fresh((each) => each.setViewport(viewport));
    for (const [id, text] of [["peakDrawWeightLb", "80"], ["staticSpineThousandths", "600"], ["cutLengthIn", "27"]]) await type(page, id, text);
    await openAll(page);
    await type(page, "shaftGrPerIn", "4");
    await pause(400);
    const hidden = [];
    for (const direction of ["Tab", "Shift+Tab"]) {
      for (let tabs = 0; tabs < 60; tabs += 1) {
        await press(page, direction);
        const under = await page.evaluate(() => {
          const one = document.activeElement;
          if (!one || one === document.body || one.closest(".skip")) return null;
          const box = one.getBoundingClientRect();
          const over = document.elementFromPoint(box.x + box.width / 2, box.y + Math.min(box.height / 2, 20));
          return over?.closest("#headline, #drawing") && !one.closest("#headline, #drawing") ? one.id || one.className || one.tagName : null;
        });
        if (under) hidden.push(`${viewport.width}: ${under}`);
      }
    }
    assert.deepEqual(hidden, []);
    await page.close();
  }
});

test("on a phone the answers stay in sight while a field is edited", async () => {
  const page = await fresh((page) => page.setViewport({ width: 390, height: 844 }));
  for (const id of ["peakDrawWeightLb", "vaneGr", "pointGr"]) {
    await page.focus(`#${id}`);
    const seen = await page.evaluate((field) => {
      const top = (name) => document.getElementById(name).getBoundingClientRect();
      const answers = top("headline");
      const own = top(field);
      return answers.top >= 0 && answers.bottom <= innerHeight && own.top >= answers.bottom && own.bottom <= innerHeight;
    }, id);
    assert.ok(seen, id);
  }
});

test("bow, arrow and answers are side by side on a desktop", async () => {
  const page = await fresh((page) => page.setViewport({ width: 1280, height: 900 }));
  const left = (selector) => page.$eval(selector, (element) => element.getBoundingClientRect().left);
  assert.ok((await left(".column.bow")) < (await left(".column.arrow")));
  assert.ok((await left(".column.arrow")) < (await left("#headline")));
});

test("a touch on the drawing leads to the fields, and a field outlines its part", async () => {
  const page = await fresh();
  await page.$eval('#arrow [data-group="point"].point', (shape) => shape.dispatchEvent(new MouseEvent("click", { bubbles: true })));
  assert.equal(await page.evaluate(() => document.activeElement.closest("fieldset").id), "group-point");
  assert.ok(await page.$("#arrow .point.touched"));
});

test("where the reader sets the colors, every drawing is in them, whatever looks were chosen", async () => {
  const page = await fresh();
  await page.select("#looks", "light");
  const session = await page.createCDPSession();
  const features = [{ name: "forced-colors", value: "active" }, { name: "prefers-color-scheme", value: "dark" }];
  await session.send("Emulation.setEmulatedMedia", { features });
  await openAll(page);
  await page.waitForSelector("#lesson-code path", { visible: true });
  await waitFor(page, "slow-now", /ms after the release/);
  const [drawn, strange] = await page.evaluate(() => {
    const probe = document.body.appendChild(document.createElement("a"));
    const system = (name) => {
      probe.style.cssText = `forced-color-adjust: none; color: ${name}`;
      return getComputedStyle(probe).color;
    };
    const theirs = new Set(["Canvas", "CanvasText", "LinkText", "GrayText"].map(system));
    const canvas = system("Canvas");
    probe.remove();
    const printed = "#marks-tape, #share-code, #lesson-code"; // black on white for a printer or a camera
    const shapes = [...document.querySelectorAll("svg :is(polygon, polyline, line, path, circle, text)")].filter(
      (each) => each.checkVisibility() && !each.closest(`pattern, ${printed}`),
    );
    const paint = (each) => [getComputedStyle(each).fill, getComputedStyle(each).stroke].filter((color) => color.startsWith("rgb"));
    const wrong = (each) => paint(each).some((color) => !theirs.has(color)) || (each.tagName === "text" && paint(each)[0] === canvas);
    return [shapes.length, shapes.filter(wrong).map((each) => `${each.ownerSVGElement.id} ${each.tagName} ${each.className.baseVal} ${paint(each)}`)];
  });
  assert.ok(drawn > 200, `${drawn} shapes`);
  assert.deepEqual([...new Set(strange)], []);
});

test("every target is at least 44 px, and every size of type is in its place", async () => {
  const page = await fresh((page) => page.setViewport({ width: 390, height: 844 }));
  await openAll(page);
  const small = await page.evaluate(() =>
    [...document.querySelectorAll("button, select, summary, input[type=range], .box")]
      .filter((each) => each.checkVisibility())
      .filter((each) => each.getBoundingClientRect().height < 44)
      .map((each) => `${each.tagName} ${each.id} ${each.className} ${each.getBoundingClientRect().height}`),
  );
  assert.deepEqual(small, []);
  const headline = await page.$$eval(".big", (all) => all.map((each) => Number.parseFloat(getComputedStyle(each).fontSize)));
  assert.ok(headline.length === 4 && headline.every((size) => size >= 28));
});

test("the summary is said politely, at most once a second", async () => {
  const page = await fresh();
  await page.evaluate(() => {
    window.said = [];
    new MutationObserver(() => window.said.push([performance.now(), document.getElementById("status").textContent])).observe(
      document.getElementById("status"),
      { childList: true, characterData: true, subtree: true },
    );
  });
  await page.focus("#pointGr-slider");
  for (let step = 0; step < 30; step += 1) {
    await press(page, "ArrowRight");
    await pause(80);
  }
  await pause(1200);
  const said = await page.evaluate(() => window.said);
  assert.ok(said.length >= 2);
  said.slice(1).forEach(([time], place) => assert.ok(time - said[place][0] >= 950, `${time - said[place][0]} ms apart`));
  assert.match(said.at(-1)[1], /gr.*FOC/);
});

test("what is printed has inputs, results, assumptions, cautions and the version", async () => {
  const page = await fresh();
  await page.emulateMediaType("print");
  const text = await page.evaluate(() => document.body.innerText);
  for (const part of [/Your values: draw weight 62/, /Defaults:/, /Total weight/, /Always/, /Clothyard 0\.\d+\.\d+, build [0-9a-f]{12}/]) {
    assert.match(text, part);
  }
  assert.doesNotMatch(text, /Undo/);
});

test("on a sheet of A4 nothing is cut off, with everything open", async () => {
  const page = await fresh((each) => each.setViewport({ width: 703, height: 1000 })); // A4 less its margins
  await openAll(page);
  await page.waitForSelector("#lesson-code path", { visible: true });
  await waitFor(page, "slow-now", /ms after the release/);
  await page.emulateMediaType("print");
  const cut = await page.evaluate(() => {
    const all = [...document.querySelectorAll("body *")].filter((each) => each.checkVisibility() && !each.closest("svg *, .unseen, .skip"));
    const hides = (each) => each.clientWidth > 0 && each.scrollWidth > each.clientWidth + 1 && getComputedStyle(each).overflowX !== "visible";
    const beyond = (each) => each.getBoundingClientRect().right > innerWidth + 1;
    const fields = ["INPUT", "SELECT", "TEXTAREA"];
    return all.filter((each) => beyond(each) || (hides(each) && !fields.includes(each.tagName))).map((each) => `${each.tagName} ${each.id} ${each.className}`);
  });
  assert.deepEqual(cut, []);
});
