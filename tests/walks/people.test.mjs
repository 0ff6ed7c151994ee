// The page for people of all kinds: by keyboard alone, at 320 px, in the dark, with forced colors, on paper, and as
// axe-core sees it in every state.

import assert from "node:assert/strict";
import { test } from "node:test";
import { audit, open, openEverything, openTool, pause, press, read, stage, tooWide, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

const STATES = {
  "as it opens": async () => {},
  "with nothing given": (page) => page.select("#start", "blank"),
  "with everything open": openEverything,
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

/** Only a walk opens the first screen and the tools at once. */
const TWO_MAINS = ["landmark-no-duplicate-main", "landmark-unique"];

for (const [state, prepare] of Object.entries(STATES)) {
  test(`axe-core finds nothing ${state}`, async () => {
    // Nobody taps on paper.
    const off = state === "on paper" ? ["target-size"] : state === "with everything open" ? TWO_MAINS : [];
    const rules = Object.fromEntries(off.map((rule) => [rule, { enabled: false }]));
    assert.deepEqual(await audit(await here.chromium.browser.createBrowserContext(), here.server.url, prepare, rules), []);
  });
}

test("the job by keyboard alone", async () => {
  const page = await fresh();
  await page.select("#start", "blank");
  const at = () => page.evaluate(() => document.activeElement.id);
  await page.evaluate(() => document.querySelector(".skip").focus());
  await press(page, "Enter");
  assert.equal(await at(), "answer", "the first link leads to the answer");
  const reach = async (id, direction) => {
    for (let tabs = 0; tabs < 40 && (await at()) !== id; tabs += 1) await press(page, direction);
    assert.equal(await at(), id);
    const hidden = await page.evaluate(() => {
      const box = document.activeElement.getBoundingClientRect();
      const over = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
      return !(over && (document.activeElement.contains(over) || over.contains(document.activeElement)));
    });
    assert.equal(hidden, false, `${id} has the focus and can be seen`);
  };
  await reach("peakDrawWeightLb", "Shift+Tab");
  await page.keyboard.type("55");
  await reach("drawLengthIn", "Tab");
  await page.keyboard.type("28");
  await reach("pointGr", "Tab");
  await page.keyboard.type("110");
  await press(page, "Tab");
  assert.match(await read(page, "match-words"), /match|weak|stiff/i);
  await page.focus("[data-part=nock]");
  await press(page, "Enter");
  assert.equal(await page.evaluate(() => document.activeElement.closest("#part-list") !== null), true, "a part that opens takes the focus");
  await reach("nockGr", "Tab");
  await page.keyboard.type("12");
  assert.match(await read(page, "part-nock"), /^12/);
});

test("nothing scrolls sideways at 320 px, nor at 400% zoom", async () => {
  const page = await fresh((page) => page.setViewport({ width: 320, height: 640 }));
  await openEverything(page);
  // The views fill what is opened: the last of them to be there is the lesson's code.
  await page.waitForSelector("#lesson-code path");
  await waitFor(page, "slow-now", /ms after the release/);
  assert.deepEqual(await tooWide(page), []);
  // 1280 px at 400% is 320 px wide and a fourth as high.
  await page.setViewport({ width: 320, height: 225, deviceScaleFactor: 4 });
  assert.deepEqual(await tooWide(page), []);
});

test("below zero a number begins with a minus sign, not with a hyphen", async () => {
  const page = await fresh();
  await openEverything(page);
  await waitFor(page, "distances-words", /\S/);
  await waitFor(page, "side-words", /\S/);
  const words = await page.evaluate(() => document.body.innerText);
  assert.match(words, /(^|\s)−\d/);
  assert.doesNotMatch(words, /(^|[\s(])-\d/);
});

test("nothing that has the focus lies under what is fixed over the page", async () => {
  for (const viewport of [{ width: 320, height: 640 }, { width: 390, height: 844 }, { width: 1280, height: 720 }]) {
    const page = await fresh((each) => each.setViewport(viewport));
    await type(page, "staticSpineThousandths", "600");
    await pause(400);
    const hidden = [];
    for (const direction of ["Tab", "Shift+Tab"]) {
      for (let tabs = 0; tabs < 60; tabs += 1) {
        await press(page, direction);
        const under = await page.evaluate(() => {
          const one = document.activeElement;
          if (!one || one === document.body || one.closest(".skip, #help")) return null;
          const box = one.getBoundingClientRect();
          const over = document.elementFromPoint(box.x + box.width / 2, box.y + Math.min(box.height / 2, 20));
          return over?.closest("#help, #line") ? one.id || one.className || one.tagName : null;
        });
        if (under) hidden.push(`${viewport.width}: ${under}`);
      }
    }
    assert.deepEqual(hidden, []);
    await page.close();
  }
});

test("on a phone the answer stays in sight while one of the questions is answered", async () => {
  const page = await fresh((page) => page.setViewport({ width: 390, height: 844 }));
  for (const id of ["peakDrawWeightLb", "drawLengthIn", "pointGr"]) {
    await page.focus(`#${id}`);
    const seen = await page.evaluate((field) => {
      const [answer, own] = ["answer", field].map((name) => document.getElementById(name).getBoundingClientRect());
      return answer.top >= 0 && own.top >= answer.bottom - 8 && own.bottom <= document.getElementById("help").getBoundingClientRect().top;
    }, id);
    assert.ok(seen, id);
  }
});

test("questions and answer are side by side on a desktop", async () => {
  const page = await fresh((page) => page.setViewport({ width: 1280, height: 900 }));
  const left = (selector) => page.$eval(selector, (element) => element.getBoundingClientRect().left);
  assert.ok((await left("#questions")) < (await left("#answer")));
});

test("a touch on the drawing leads to the fields, and a field outlines its part", async () => {
  const page = await fresh();
  await page.$eval('#arrow [data-group="point"].point', (shape) => shape.dispatchEvent(new MouseEvent("click", { bubbles: true })));
  assert.equal(await page.$eval("#group-point", (fields) => fields.checkVisibility()), true);
  await page.focus("#pointKind");
  assert.ok(await page.$("#arrow .point.touched"));
});

test("where the reader sets the colors, every drawing is in them, whatever looks were chosen", async () => {
  const page = await fresh();
  await page.select("#looks", "light");
  const session = await page.createCDPSession();
  const features = [{ name: "forced-colors", value: "active" }, { name: "prefers-color-scheme", value: "dark" }];
  await session.send("Emulation.setEmulatedMedia", { features });
  await openEverything(page);
  await page.waitForSelector("#lesson-code path");
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

test("every target is at least 44 px", async () => {
  const page = await fresh((page) => page.setViewport({ width: 390, height: 844 }));
  await openEverything(page);
  const small = await page.evaluate(() =>
    [...document.querySelectorAll("button, :not(.field) > select, summary, input[type=range], .box, .field")]
      .filter((each) => each.checkVisibility())
      .filter((each) => each.getBoundingClientRect().height < 44)
      .map((each) => `${each.tagName} ${each.id} ${each.className} ${each.getBoundingClientRect().height}`),
  );
  assert.deepEqual(small, []);
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
  await page.focus("#cutLengthIn-slider");
  for (let step = 0; step < 30; step += 1) {
    await press(page, "ArrowLeft");
    await pause(80);
  }
  await pause(1200);
  const said = await page.evaluate(() => window.said);
  assert.ok(said.length >= 2);
  said.slice(1).forEach(([time], place) => assert.ok(time - said[place][0] >= 950, `${time - said[place][0]} ms apart`));
  assert.match(said.at(-1)[1], /Spine \d+, cut .*gr\.$/);
});

test("what is printed is one page to order and cut by, with the drawing", async () => {
  const page = await fresh();
  await page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
  await page.emulateMediaType("print");
  const text = await page.evaluate(() => document.body.innerText);
  for (const part of [/Shaft: .*spine \d+/, /Cut length: /, /Point: 125/, /Your values: draw weight 62/, /Defaults:/, /Finished arrow: \d+/, /Clothyard 0\.\d+\.\d+, build [0-9a-f]{12}/]) {
    assert.match(text, part);
  }
  assert.doesNotMatch(text, /Undo|Find|Copy/);
  assert.ok(await page.$("#arrow .cut"));
  const pdf = Buffer.from(await page.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1");
  assert.equal(pdf.match(/\/Type\s*\/Page\b/g).length, 1);
});

test("on a sheet of A4 nothing is cut off, with everything open", async () => {
  const page = await fresh((each) => each.setViewport({ width: 703, height: 1000 })); // A4 less its margins
  await openEverything(page);
  await page.waitForSelector("#lesson-code path");
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
