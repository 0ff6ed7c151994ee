// The coach's view: the ready lesson by keys alone, its quiz, motion that is unwelcome, type that can be read from afar,
// a lesson of one's own that is prepared, kept, sent by link and by file, and what cannot be read.

import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { audit, downloads, open, openTool, pause, press, read, records, saved, shown, singleFile, stage } from "./support.mjs";
import { temporaryFolder, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

const somebody = () => here.chromium.browser.createBrowserContext();
const still = [{ name: "prefers-reduced-motion", value: "reduce" }];
const words = (page, id) => page.$eval(`#${id}`, (element) => element.textContent);
const lessons = records;
const fragment = (page) => page.$eval("#lesson-link", (field) => new URL(field.value).hash);
const big = (page, place = 0) =>
  page.$$eval("#projector-facts .number", (all, at) => Number(all[at].textContent), place);
const moved = (page) => page.$eval("#projector-facts .change", (element) => element.textContent);

/** The desk, open, in a browser that may know somebody already. */
async function desk(context, { url = here.server.url, prepare } = {}) {
  const page = await open(context, url, prepare);
  await waitForAnswers(page);
  await openTool(page, "lessons");
  await waitFor(page, "lesson-choice", /\S/);
  await page.waitForSelector("#lesson-steps li");
  return page;
}

async function choose(page, id, value) {
  assert.deepEqual(await page.select(`#${id}`, value), [value]);
}

/** A lesson of two steps of one's own, made as a person would. */
async function prepareTwo(page) {
  await page.click("#lesson-new");
  await waitFor(page, "lesson-said", /^New lesson/);
  await type(page, "lesson-title", "Vanes & speed");
  await type(page, "step-heading", "Heavier vanes");
  await page.focus("#step-words");
  await press(page, "Control+A");
  await page.keyboard.type("They pull the balance back.");
  await choose(page, "step-field", "vaneGr");
  await type(page, "step-from", "5");
  await press(page, "Tab");
  await type(page, "step-to", "12,5");
  await press(page, "Tab");
  await choose(page, "step-result-2", "totalWeightGr");
  await choose(page, "step-question", "frontOfCentrePercent");
  await page.click("#lesson-add");
  await waitFor(page, "lesson-said", /^Step 2 uses/);
  await type(page, "step-heading", "And far out");
  await choose(page, "step-picture", "path");
  await choose(page, "step-result-1", "farDropIn");
  assert.ok(await page.$("#step-preview-marks .path"), "the preview is beside the fields");
}

test("the ready lesson is shown by keys alone", async () => {
  const page = await desk(await somebody());
  await page.focus("#lesson-choice");
  await press(page, "Tab", "Enter");
  await waitFor(page, "projector-place", /^Step 1 of 7$/);
  assert.equal(await page.evaluate(() => document.activeElement.id), "projector-heading");
  assert.match(await read(page, "projector-caption"), /^The arrow to scale.*balance point/);

  const start = await big(page);
  await press(page, "ArrowUp", "ArrowUp", "ArrowUp");
  assert.match(await read(page, "projector-value"), /^125\sgr$/);
  assert.ok((await big(page)) > start, "a heavier point balances further forward");
  const by = (await big(page)) - start;
  assert.match(await moved(page), /^\+\d\.\d\d\sin$/);
  assert.ok(Math.abs(Number.parseFloat(await moved(page)) - by) < 0.0101, "by how much is said, to the last digit shown");
  await press(page, "ArrowDown", "ArrowDown", "ArrowDown", "ArrowDown");
  assert.match(await read(page, "projector-value"), /^110\sgr$/);

  const places = [];
  for (const key of ["PageDown", "ArrowRight", "Space", "PageUp", "ArrowLeft", "End", "ArrowRight", "Home"]) {
    await press(page, key);
    places.push(await read(page, "projector-place"));
  }
  assert.deepEqual(places.map((words) => Number(words.split(" ")[1])), [2, 3, 4, 3, 2, 7, 7, 1]);

  await press(page, "End");
  assert.match(await read(page, "projector-caption"), /weak.* To match: /);
  for (let step = 0; step < 20; step += 1) await press(page, "ArrowUp");
  assert.match(await read(page, "projector-caption"), /[Gg]ood match/);
  await press(page, "Escape");
  assert.equal(await shown(page, "projector"), false);
  assert.equal(await page.evaluate(() => document.activeElement.id), "lesson-show", "the focus comes back");
  assert.deepEqual(page.complaints, []);
});

test("every picture says what it shows, and the path falls as its words say", async () => {
  const prepare = async (fresh) => {
    await fresh.emulateMediaFeatures(still);
    await fresh.setViewport({ width: 1024, height: 768 });
  };
  const page = await desk(await somebody(), { prepare });
  await page.click("#lesson-show");
  await press(page, "End", "PageUp");
  const lowest = () => page.$eval("#projector-marks .path", (line) => line.getBoundingClientRect().bottom);
  const [before, high] = [await big(page), await lowest()];
  for (let step = 0; step < 30; step += 1) await press(page, "ArrowUp");
  assert.ok((await big(page)) > before && (await lowest()) > high + 10, "it falls where the room sees it");
  assert.match(await read(page, "projector-caption"), new RegExp(`hits ${await big(page)}\\sin low at 40\\syd, .* lower than at the start of the slider`));
});

test("type, numbers and lines can be read from afar", async () => {
  const page = await desk(await somebody(), { prepare: (fresh) => fresh.setViewport({ width: 1024, height: 768 }) });
  await page.click("#lesson-show");
  for (let step = 0; step < 7; step += 1) {
    const sizes = await page.evaluate(() => {
      const size = (element) => Number.parseFloat(getComputedStyle(element).fontSize);
      const all = (selector) => [...document.querySelectorAll(`#projector ${selector}`)].filter((each) => each.checkVisibility());
      const room = document.getElementById("projector-room");
      return {
        heading: size(document.getElementById("projector-heading")),
        least: Math.min(...all("*").filter((each) => [...each.childNodes].some((node) => node.nodeType === 3 && node.data.trim()) && !each.closest(".unseen, svg")).map(size)),
        numbers: Math.min(...all(".number").filter((each) => each.closest("dl")).map(size)),
        lines: Math.min(...all("#projector-marks :is(line, polygon)").map((each) => Number.parseFloat(getComputedStyle(each).strokeWidth))),
        drawing: document.getElementById("projector-picture").getBoundingClientRect().height,
        beyond: room.scrollHeight - innerHeight,
        wide: room.scrollWidth - innerWidth,
      };
    });
    assert.ok(sizes.heading >= 44 && sizes.numbers >= 64 && sizes.lines >= 4 && sizes.least >= 33, JSON.stringify(sizes));
    assert.ok(sizes.drawing >= 150 && sizes.beyond <= 0 && sizes.wide <= 0, `step ${step + 1} fits: ${JSON.stringify(sizes)}`);
    await press(page, "PageDown");
  }
});

test("the quiz asks without its answer in sight, plays, tells, and ends with a tally", async () => {
  const page = await desk(await somebody());
  await page.click("#lesson-quiz");
  assert.match(await read(page, "projector-question"), /^What happens to the balance point when the point weight rises from 110\sgr to 240\sgr\?$/);
  const seen = () => page.$eval("#projector", (dialog) => dialog.innerText);
  assert.doesNotMatch(await seen(), /moves forward/, "the heading would answer");
  assert.match(await seen(), /1\s*Farther forward[^]*2\s*Farther back[^]*3\s*No change/);
  assert.equal(await shown(page, "projector-facts"), false);
  await press(page, "ArrowUp");
  assert.match(await read(page, "projector-value"), /^110\sgr$/, "nothing moves before the answer");
  await press(page, "2");
  assert.match(await read(page, "projector-happened"), /^Your answer: farther back\. Not this time\. Balance point: farther forward, from \S+\sin to \S+\sin \(\+\S+\sin\)\.$/);
  assert.equal(await read(page, "projector-heading"), "Balance point moves forward");
  await waitFor(page, "projector-value", /^1[0-9]{2}\sgr$/);
  await waitFor(page, "projector-value", /^240\sgr$/);
  assert.ok(await shown(page, "projector-facts"));

  await press(page, "PageDown");
  assert.ok(await shown(page, "projector-quiz"), "the next step asks again");
  await page.click("#projector [data-way='0']");
  assert.match(await read(page, "projector-happened"), /^Your answer: more\. Correct\. FOC: more, from/);
  await press(page, "End", "PageDown");
  assert.equal(await read(page, "projector-heading"), "End of the quiz");
  assert.equal(await read(page, "projector-words"), "1 of 2 correct.");
  assert.equal(await shown(page, "projector-next"), false);
  await press(page, "PageUp");
  assert.ok(await shown(page, "projector-quiz"), "what was not answered is asked still");
});

test("the handout and the quiz have each step once, on paper only", async () => {
  const page = await desk(await somebody());
  await page.evaluate(() => (window.print = () => (window.printed = document.getElementById("lesson-paper").textContent)));
  const printed = () => page.evaluate(() => window.printed);
  await page.click("#lesson-print");
  assert.equal((await printed()).split("The shaft bends more").length, 2, "each step once");
  assert.match(await printed(), /Point weight: 110\sgr to 240\sgr/);
  await page.click("#lesson-print-quiz");
  assert.doesNotMatch(await printed(), /The shaft bends more/);
  assert.match(await printed(), /☐ more☐ less☐ no change/);
  assert.equal(await shown(page, "lesson-paper"), false);
  await page.emulateMediaType("print");
  assert.ok((await shown(page, "lesson-paper")) && !(await shown(page, "lesson-show")));
});

test("playing goes there and back, and a key stops it", async () => {
  const page = await desk(await somebody());
  await page.click("#lesson-show");
  await page.click("#projector-play");
  assert.equal(await words(page, "projector-play"), "Pause");
  const seen = new Set();
  for (let look = 0; look < 10; look += 1) {
    seen.add(await read(page, "projector-value"));
    await pause(60);
  }
  assert.ok(seen.size > 4, [...seen].join());
  await press(page, "ArrowUp");
  assert.equal(await words(page, "projector-play"), "Play");
  const at = await read(page, "projector-value");
  await pause(300);
  assert.equal(await read(page, "projector-value"), at);
});

test("where motion is unwelcome nothing moves by itself", async () => {
  const page = await desk(await somebody(), { prepare: (fresh) => fresh.emulateMediaFeatures(still) });
  await page.click("#lesson-quiz");
  await press(page, "1");
  assert.match(await read(page, "projector-value"), /^240\sgr$/, "the end at once");
  await press(page, "Escape");
  await page.click("#lesson-show");
  assert.equal(await words(page, "projector-play"), "Next step");
  await press(page, "p");
  const at = await read(page, "projector-value");
  assert.match(at, /^136\sgr$/);
  await pause(400);
  assert.equal(await read(page, "projector-value"), at);
});

test("what is told aloud comes at most once a second", async () => {
  const page = await desk(await somebody());
  await page.click("#lesson-show");
  await page.evaluate(() => {
    window.said = [];
    const status = document.getElementById("projector-status");
    new MutationObserver(() => window.said.push([performance.now(), status.textContent])).observe(status, { childList: true, characterData: true, subtree: true });
  });
  for (let step = 0; step < 30; step += 1) {
    await press(page, step % 5 === 4 ? "PageDown" : "ArrowUp");
    await pause(90);
  }
  await pause(1200);
  const said = await page.evaluate(() => window.said);
  assert.ok(said.length >= 3);
  said.slice(1).forEach(([time], place) => assert.ok(time - said[place][0] >= 950, `${time - said[place][0]} ms apart`));
  assert.match(said.at(-1)[1], /^Step 7 of 7: Fix the match\..*Best-match draw weight \S+ lb.*Matches about/s);
});

test("the screen is kept awake during a lesson and let go after it", async () => {
  const asked = (fresh) =>
    fresh.evaluateOnNewDocument(() => {
      window.locks = [];
      const request = async (kind) => {
        const lock = { kind, released: false, release: async () => (lock.released = true) };
        window.locks.push(lock);
        return lock;
      };
      Object.defineProperty(navigator, "wakeLock", { value: { request } });
    });
  const page = await desk(await somebody(), { prepare: asked });
  await page.click("#lesson-show");
  await page.waitForFunction(() => window.locks.length === 1);
  assert.deepEqual(await page.evaluate(() => window.locks.map(({ kind, released }) => [kind, released])), [["screen", false]]);
  await pause(100);
  await press(page, "Escape");
  await page.waitForFunction(() => window.locks.every((lock) => lock.released));
});

test("filling the screen is asked for and not forced", async () => {
  const page = await desk(await somebody());
  await page.click("#lesson-show");
  const full = () => page.evaluate(() => document.fullscreenElement?.id);
  assert.equal(await full(), undefined);
  await page.click("#projector-full");
  await page.waitForFunction(() => document.fullscreenElement);
  assert.equal(await full(), "projector-room");
  await press(page, "PageDown");
  assert.match(await read(page, "projector-place"), /^Step 2/);
  await page.click("#projector-leave");
  await page.waitForFunction(() => !document.fullscreenElement);
  assert.equal(await shown(page, "projector"), false);
});

test("a lesson of one's own is kept, and goes by link into a browser that knows nothing", async () => {
  const context = await somebody();
  const page = await desk(context);
  await prepareTwo(page);
  const [kept] = (await lessons(page)).lessons;
  assert.equal(kept.lesson.title, "Vanes & speed");
  assert.deepEqual(kept.lesson.steps.map((step) => [step.heading, step.picture]), [["Heavier vanes", "arrow"], ["And far out", "path"]]);
  assert.deepEqual(kept.lesson.steps[0].slide, { field: "vaneGr", from: 5, to: 12.5 });

  await page.reload();
  await waitForAnswers(page);
  await openTool(page, "lessons");
  await waitFor(page, "lesson-choice", /\S/);
  const value = await page.$eval("#lesson-choice option:last-child", (option) => option.value);
  await choose(page, "lesson-choice", value);
  await waitFor(page, "lesson-title", /^Vanes & speed$/);
  assert.ok(await shown(page, "lesson-code"), "a code of the link is drawn");

  const link = await fragment(page);
  assert.match(link, /^#lesson=1&title=Vanes%20%26%20speed&step=/);
  assert.ok(link.length <= 2000);
  const other = await open(await somebody(), here.server.url + link);
  await waitForAnswers(other);
  await waitFor(other, "lesson-said", /^Opened from the link, not saved: “Vanes & speed”, 2 steps\. Duplicate/);
  assert.deepEqual((await lessons(other)).lessons, [], "a link plants nothing");
  assert.equal(await other.evaluate(() => location.hash), "#lessons", "the lesson is taken out of the address");
  await other.click("#lesson-show");
  await waitFor(other, "projector-heading", /^Heavier vanes$/);
  const before = await big(other);
  await press(other, "ArrowUp", "ArrowUp");
  assert.ok((await big(other)) < before, "vanes pull the balance back");
  await press(other, "PageDown");
  assert.match(await read(other, "projector-caption"), /^Trajectory from the side/);
  await other.reload();
  await waitFor(other, "lesson-choice", /\S/);
  await choose(other, "lesson-choice", "link");
  await other.click("#lesson-copy");
  await waitFor(other, "lesson-title", /^Vanes & speed \(copy\)$/);
  assert.deepEqual((await lessons(other)).lessons[0].lesson.steps, kept.lesson.steps, "nothing is lost on the way");
  assert.deepEqual(other.complaints, []);
});

test("steps are moved, taken out and changed; a lesson is deleted and brought back", async () => {
  const page = await desk(await somebody());
  await page.click("#lesson-copy");
  const headings = () => page.$$eval("#lesson-steps b", (all) => all.map((each) => each.textContent));
  assert.equal((await headings()).length, 7);
  await page.click("[data-act=down][data-place='0']");
  assert.deepEqual((await headings()).slice(0, 2), ["FOC goes up", "Balance point moves forward"]);
  assert.equal(await page.evaluate(() => document.activeElement.getAttribute("data-place")), "1", "the focus goes along");
  await page.click("[data-act=remove][data-place='1']");
  assert.equal((await headings()).length, 6);

  await page.click("[data-act=change][data-place='0']");
  await type(page, "step-to", "9000");
  await press(page, "Tab");
  assert.match(await read(page, "step-said"), /^Point weight: 9000 is out of range; enter 10 to 600\sgr\.$/);
  await choose(page, "step-result-3", "frontOfCentrePercent");
  assert.match(await read(page, "step-said"), /^Results: one to 3, each once\.$/);
  assert.deepEqual((await lessons(page)).lessons[0].lesson.steps[0].slide.to, 240, "the last good one stays");
  await choose(page, "step-result-3", "");
  await choose(page, "step-field", "");
  assert.equal((await lessons(page)).lessons[0].lesson.steps[0].question, undefined, "no slider, no question");

  await page.click("#step-load");
  await waitFor(page, "sightedAtYd", /^20$/);
  await page.click("#lesson-delete");
  await waitFor(page, "lesson-said", /^Deleted /);
  assert.deepEqual((await lessons(page)).lessons, []);
  await page.click("#lesson-bring-back");
  await waitFor(page, "lesson-said", /^Restored\.$/);
  assert.equal((await headings()).length, 6);
});

test("a lesson goes out as a file and comes in the same; what is damaged or newer changes nothing", async () => {
  const page = await desk(await somebody());
  const folder = await downloads(page);
  await prepareTwo(page);
  await page.click("#lesson-save");
  const file = await saved(folder, ".json");
  const other = await desk(await somebody());
  const bring = async (path, words) => {
    await (await other.$("#lesson-file")).uploadFile(path);
    return waitFor(other, "lesson-said", words);
  };
  await bring(file, /^Imported as a copy: “Vanes & speed”, 2 steps\.$/);
  assert.deepEqual((await lessons(other)).lessons[0].lesson, JSON.parse(readFileSync(file, "utf8")));
  await bring(file, /already saved/);

  const changed = (change) => {
    const lesson = JSON.parse(readFileSync(file, "utf8"));
    change(lesson);
    const path = join(temporaryFolder(), "lesson.json");
    writeFileSync(path, JSON.stringify(lesson));
    return path;
  };
  await bring(changed((lesson) => (lesson.schemaVersion = 2)), /nothing was changed\. schemaVersion 2: .* newer page/);
  await bring(changed((lesson) => (lesson.steps[1].picture = "oil")), /Step 2, picture: “oil” is not one of arrow, match, path/);
  await bring(changed((lesson) => (lesson.steps[0].slide.to = 9000)), /Step 1, slide: .*9000 is out of range/);
  await bring(changed((lesson) => (lesson.steps[0].build.inputs.wonder = 1)), /wonder/);
  await bring(changed((lesson) => (lesson.extra = 1)), /extra/);
  assert.equal((await lessons(other)).lessons.length, 1);
});

test("lessons that cannot be read are left as they are, and can be put aside", async () => {
  const page = await open(await somebody(), here.server.url);
  await waitForAnswers(page);
  await page.evaluate(() => localStorage.setItem("clothyard.lessons", '{"schemaVersion":1,"lessons":[{'));
  await openTool(page, "lessons");
  await waitFor(page, "lesson-unread-why", /not JSON/);
  await page.click("#lesson-new");
  await waitFor(page, "lesson-said", /^New lesson/);
  assert.equal(await page.evaluate(() => localStorage.getItem("clothyard.lessons")), '{"schemaVersion":1,"lessons":[{');
  await page.click("#lesson-new-list");
  assert.equal(await shown(page, "lesson-unread"), false);
  assert.equal(await page.evaluate(() => localStorage.getItem("clothyard.lessons.unread")), '{"schemaVersion":1,"lessons":[{');
});

test("a damaged link changes nothing and says why", async () => {
  const page = await open(await somebody(), `${here.server.url}#lesson=1&title=a&step=b&picture=oil&show=columnLoad`);
  await waitForAnswers(page);
  await waitFor(page, "lesson-said", /^The link could not be opened, and nothing was changed: Step 1, picture/);
  assert.deepEqual((await lessons(page)).lessons, []);
});

test("what could do harm is said on the projector too", async () => {
  const page = await desk(await somebody());
  await type(page, "cutLengthIn", "24");
  await press(page, "Tab");
  await page.click("#lesson-new");
  await page.click("#lesson-show");
  assert.match(await read(page, "projector-danger"), /^Do not shoot: /);
});

for (const [state, prepare] of Object.entries({
  "the desk with a lesson of one's own": prepareTwo,
  "the projector": async (page) => {
    await page.click("#lesson-show");
    await press(page, "PageDown", "PageDown", "ArrowUp");
  },
  "the projector in the dark": async (page) => {
    await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: "dark" }]);
    await page.click("#lesson-show");
  },
  "the projector on a phone": async (page) => {
    await page.setViewport({ width: 320, height: 640 });
    await page.click("#lesson-show");
    const wide = await page.$eval("#projector-room", (room) => room.scrollWidth - innerWidth);
    assert.ok(wide <= 0, `${wide} px too wide`);
  },
  "the quiz": (page) => page.click("#lesson-quiz"),
})) {
  test(`axe-core finds nothing on ${state}`, async () => {
    const found = await audit(await somebody(), here.server.url, async (page) => {
      await openTool(page, "lessons");
      await page.waitForSelector("#lesson-steps li");
      await prepare(page);
    });
    assert.deepEqual(found, []);
  });
}

test("it works in the single file too", async () => {
  const page = await desk(await somebody(), { url: singleFile });
  await page.click("#lesson-show");
  await press(page, "PageDown", "ArrowUp");
  assert.match(await moved(page), /^\+\d/);
  await press(page, "Escape");
  assert.match(await read(page, "lesson-note"), /opened from disk/);
  assert.deepEqual(page.complaints, []);
});
