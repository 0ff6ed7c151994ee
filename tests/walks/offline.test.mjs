// The page without a connection: one visit is enough, updates wait to be asked for, and the worker can be withdrawn.
// "Offline" here means that the server is stopped.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { launch, leave, open, openTool, otherBuild, read, retired, sabotaged, shown, singleFile, site, stage } from "./support.mjs";
import { type, waitFor, waitForAnswers } from "./support.mjs";

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
  assert.deepEqual(await filesKept(page), [`clothyard-${await buildOf(page)}`], "the old build's files are gone");
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
