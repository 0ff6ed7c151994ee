// The page without a connection: one visit is enough, updates wait to be asked for, and the worker can be withdrawn.
// "Offline" here means that the server is stopped.

import assert from "node:assert/strict";
import { cpSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { launch, leave, open, openTool, otherBuild, read, retired, sabotaged, shown, singleFile, site, stage } from "./support.mjs";
import { temporaryFolder, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage({ forEachTest: true });

const WEIGHED = "pointGr";

const buildOf = (page) => page.$eval('meta[name="build"]', (meta) => meta.content);
const filesKept = (page) => page.evaluate(() => caches.keys());

test("the single file is fetched only when it is asked for", async () => {
  const page = await firstVisit();
  assert.ok(!here.server.requests.includes("/clothyard.html"), "not by the worker that keeps the page");
  const file = await page.evaluate(async () => (await fetch("clothyard.html")).text());
  assert.equal(file, readFileSync(join(site, "clothyard.html"), "utf8"));
});

async function firstVisit() {
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  await waitFor(page, "offline-state", /^Ready to work offline$/);
  return page;
}

/** The whole browser goes and comes back, as after a phone was switched off; what it stored stays. */
async function restart() {
  const { profile } = here.chromium;
  await leave(here.chromium);
  here.chromium = await launch({ profile });
}

test("after one visit, a cold start with the server stopped has everything", async () => {
  await firstVisit();
  await here.server.stop();
  await restart();

  // Without the browser's own cache, which might replace ours.
  const page = await open(here.chromium.browser, here.server.url, (fresh) => fresh.setCacheEnabled(false));
  await waitForAnswers(page);
  const before = await read(page, "total-weight");
  await type(page, WEIGHED, "137");
  await page.waitForFunction((old) => document.getElementById("total-weight").textContent.trim() !== old, {}, before);
  assert.equal(await read(page, "offline-state"), "", "that it is ready is said once, on the first visit");

  await openTool(page, "results");
  await waitFor(page, "totalWeightGr", /\d/);
  await page.goto(`${here.server.url}index.html?from=elsewhere`);
  await waitForAnswers(page);
  assert.deepEqual(page.complaints, []);
});

test("a file that differs from its build is not kept", async () => {
  here.server.folder = sabotaged({ "icon.svg": "<!-- from another build -->" });
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  await waitFor(page, "offline-state", /^Offline use is not ready/);
});

test("a server that names the wasm's type wrongly still gives a working page", async () => {
  here.server.mediaTypes[".wasm"] = "application/octet-stream";
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
});

test("a page that cannot start says so and leaves the form readable", async () => {
  const refusal = "() => Promise.reject(new Error('no wasm here'))";
  here.server.folder = sabotaged({
    "clothyard.js": `\nWebAssembly.instantiateStreaming = WebAssembly.instantiate = ${refusal};\n`,
  });
  const page = await open(here.chromium.browser, here.server.url);
  await waitFor(page, "start-failed", /could not start.*no wasm here/);
  assert.ok(await shown(page, "start-failed"));
  assert.ok(await shown(page, WEIGHED));
});

test("an update waits until it is asked for, and what was typed survives it", async () => {
  const page = await firstVisit();
  const first = await buildOf(page);
  here.server.folder = otherBuild();

  await page.reload();
  await waitFor(page, "offline-state", /^Update ready$/);
  assert.equal(await buildOf(page), first, "still the build that was there");
  assert.ok(await shown(page, "update"));
  await page.click("#update-later");
  assert.ok(!(await shown(page, "update")));

  await page.reload();
  await waitFor(page, "offline-state", /^Update ready$/);
  assert.equal(await buildOf(page), first, "later means later");
  await type(page, WEIGHED, "137");
  await Promise.all([page.waitForNavigation(), page.click("#update-now")]);
  await waitForAnswers(page);
  assert.notEqual(await buildOf(page), first);
  assert.match(await read(page, WEIGHED), /^137\b/);
  assert.deepEqual(await filesKept(page), [`clothyard/${await buildOf(page)}`], "the old build's files are gone");
  assert.deepEqual(page.complaints, []);
});

test("an update works offline as the first build did", async () => {
  const page = await firstVisit();
  here.server.folder = otherBuild();
  await page.reload();
  await waitFor(page, "offline-state", /^Update ready$/);
  await Promise.all([page.waitForNavigation(), page.click("#update-now")]);
  await waitForAnswers(page);
  const updated = await buildOf(page);
  await here.server.stop();
  await restart();
  const again = await open(here.chromium.browser, here.server.url, (fresh) => fresh.setCacheEnabled(false));
  await waitForAnswers(again);
  assert.equal(await buildOf(again), updated);
});

test("two builds under one host live side by side, each with its own files and its own setup", async () => {
  const host = temporaryFolder();
  const other = otherBuild();
  cpSync(site, join(host, "a"), { recursive: true });
  cpSync(other, join(host, "b"), { recursive: true });
  cpSync(join(site, "icon.svg"), join(host, "a/notes.svg"));
  here.server.folder = host;
  const earlier = await open(here.chromium.browser, `${here.server.url}a/notes.svg`);
  const inputs = { peakDrawWeightLb: 44, drawLengthIn: 28, pointGr: 111 };
  await earlier.evaluate(
    (build) => localStorage.setItem("clothyard.setup", JSON.stringify({ build, drafts: {} })),
    { schemaVersion: 1, inputs },
  );
  const visit = async (folder) => {
    const page = await open(here.chromium.browser, here.server.url + folder);
    await waitForAnswers(page);
    return page;
  };
  const [a, b] = [await visit("a/"), await visit("b/")];
  for (const page of [a, b]) {
    await waitFor(page, "offline-state", /^Ready to work offline$/);
    assert.match(await read(page, WEIGHED), /^111\b/, "what an earlier version stored without a folder is read");
  }
  await type(a, WEIGHED, "137");
  await a.waitForFunction(() => localStorage.getItem("clothyard.setup/a/")?.includes(":137"), { polling: 100 });
  const builds = [await buildOf(a), await buildOf(b)];
  assert.notEqual(builds[0], builds[1]);
  assert.deepEqual((await filesKept(a)).sort(), [`clothyard/a/${builds[0]}`, `clothyard/b/${builds[1]}`]);

  await earlier.goto(`${here.server.url}a/notes.svg`);
  assert.doesNotMatch(await earlier.title(), /Clothyard/, "another page of the folder is not ours to answer");
  await here.server.stop();
  await restart();
  const [again, beside] = [await visit("a/"), await visit("b/")];
  assert.match(await read(again, WEIGHED), /^137\b/);
  assert.match(await read(beside, WEIGHED), /^111\b/);
  assert.deepEqual([await buildOf(again), await buildOf(beside)], builds);
});

test("what the browser has lost is fetched again at the next visit, whatever the server says of its files", async () => {
  here.server.headers = { vary: "Cookie, Accept-Language" };
  await firstVisit();
  const count = (page) =>
    page.evaluate(async () => (await (await caches.open((await caches.keys())[0])).keys()).length);
  const lose = (page, whole) =>
    page.evaluate(async (all) => {
      const [name] = await caches.keys();
      if (all) return caches.delete(name);
      const cache = await caches.open(name);
      for (const lost of ["clothyard_bg.wasm", "boot.js", "icon.svg"]) await cache.delete(lost, { ignoreVary: true });
    }, whole);
  for (const whole of [false, true]) {
    const page = await open(here.chromium.browser, here.server.url);
    await waitForAnswers(page);
    const all = await count(page);
    await lose(page, whole);
    await page.reload();
    await waitForAnswers(page);
    await page.waitForFunction(
      async (wanted) => (await (await caches.open((await caches.keys())[0])).keys()).length === wanted,
      { polling: 100 },
      all,
    );
    assert.equal(await read(page, "offline-state"), "");
  }
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  await lose(page, false);
  here.server.folder = sabotaged({ "icon.svg": null });
  await page.reload();
  await waitFor(page, "offline-state", /^Offline use is not ready$/);
  here.server.folder = site;
  await page.reload();
  await waitForAnswers(page);
  await here.server.stop();
  await restart();
  const cold = await open(here.chromium.browser, here.server.url, (fresh) => fresh.setCacheEnabled(false));
  await waitForAnswers(cold);
  assert.deepEqual(cold.complaints, []);
});

test("a lost file that the server has from another build lets the whole old build go", async () => {
  const page = await firstVisit();
  const first = await buildOf(page);
  await page.evaluate(async () => (await caches.open((await caches.keys())[0])).delete("style.css"));
  here.server.folder = otherBuild();
  // The other build's style sheet is not for this page: at the next load all is of the other build.
  assert.equal(await page.evaluate(() => fetch("style.css").then(() => "came", () => "refused")), "refused");
  const next = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(next);
  assert.notEqual(await buildOf(next), first);
});

test("within five seconds a page that cannot start says so, and tries again when asked", async () => {
  for (const [name, silent] of [["boot.js", true], ["clothyard_bg.wasm", true], ["clothyard.js", false]]) {
    if (silent) here.server.silent = [`/${name}`];
    else here.server.folder = sabotaged({ [name]: null });
    const page = await here.chromium.browser.newPage();
    await page.setCacheEnabled(false);
    await page.setBypassServiceWorker(true);
    page.goto(here.server.url).catch(() => {}); // it may never come to an end
    const seen = () => document.getElementById("start-failed")?.checkVisibility({ visibilityProperty: true });
    await page.waitForFunction(seen, { timeout: 8_000, polling: 100 });
    assert.match(await read(page, "start-failed"), /not running yet/);
    here.server.silent = [];
    here.server.folder = site;
    await Promise.all([page.waitForNavigation(), page.click("#start-again")]);
    await waitForAnswers(page);
    assert.ok(!(await shown(page, "start-failed")));
    await page.close();
  }
});

test("tools that do not come are said within five seconds, and come when asked again", async () => {
  here.server.silent = ["/clothyard_views_bg.wasm"];
  const page = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(page);
  await page.evaluate(() => (location.hash = "distances"));
  await waitFor(page, "tools-failed-why", /not arrived yet/, 6_000);
  assert.ok(await shown(page, "tools-failed"));
  here.server.silent = [];
  await page.click("#tools-again");
  await waitFor(page, "distances-words", /\d/, 30_000);
  assert.ok(!(await shown(page, "tools-failed")));
});

test("tools that break do not claim that the calculator could not start", async () => {
  here.server.folder = sabotaged({ "clothyard_views.js": "\nthrow new Error('broken tools');\n" });
  const page = await open(here.chromium.browser, `${here.server.url}#distances`);
  await waitFor(page, "tools-failed-why", /broken tools/);
  assert.ok(!(await shown(page, "start-failed")));
  await waitForAnswers(page);
});

test("a tab from before an update that another tab took says that a reload would help", async () => {
  await firstVisit();
  const page = await open(here.chromium.browser, here.server.url);
  const old = await open(here.chromium.browser, here.server.url);
  await waitForAnswers(old);
  here.server.folder = otherBuild();
  await page.bringToFront();
  await page.reload();
  await waitFor(page, "offline-state", /^Update ready$/);
  await Promise.all([page.waitForNavigation(), page.click("#update-now")]);
  await waitFor(old, "offline-state", /^Updated in another tab. Reload to use it$/);
  await old.evaluate(() => (location.hash = "distances"));
  await waitFor(old, "tools-failed-why", /updated in another tab; reload it/);
  await old.bringToFront();
  await Promise.all([old.waitForNavigation(), old.$eval("#update-now", (button) => button.click())]);
  await waitFor(old, "distances-words", /\d/, 30_000);
  assert.equal(await buildOf(old), await buildOf(page));
});

test("retire.js in place of sw.js lets go of everything", async () => {
  const page = await firstVisit();
  here.server.folder = retired();
  await page.reload();
  await page.waitForFunction(async () => (await caches.keys()).length === 0, { polling: 100 });
  await page.waitForFunction(async () => !(await navigator.serviceWorker.getRegistration()), { polling: 100 });
  here.server.requests.length = 0;
  await page.reload();
  await waitForAnswers(page);
  assert.ok(here.server.requests.includes("/"), "the page comes from the server again");
  await waitFor(page, "offline-state", /^Offline use is not ready$/);
});

test("a request to another machine would be noticed", async () => {
  const straying = await launch();
  for (const url of [here.server.url, singleFile]) {
    const page = await open(straying.browser, url, (fresh) => fresh.setBypassCSP(true));
    await page.evaluate(() => fetch("https://elsewhere.invalid/").catch(() => {}));
  }
  assert.deepEqual(await straying.stop(), ["https://elsewhere.invalid/", "https://elsewhere.invalid/"]);
});

test("the single file runs from the disk", async () => {
  const page = await open(here.chromium.browser, singleFile);
  await waitForAnswers(page);
  const before = await read(page, "total-weight");
  await type(page, WEIGHED, "137");
  await page.waitForFunction((old) => document.getElementById("total-weight").textContent.trim() !== old, {}, before);
  assert.equal(await page.$("#single-file"), null, "it does not offer itself");
  assert.deepEqual(page.complaints, []);
  assert.deepEqual(here.server.requests, []);
});
