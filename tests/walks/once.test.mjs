// Each change is evaluated once, whichever views are open.

import assert from "node:assert/strict";
import { test } from "node:test";
import { open, openEverything, pause, press, stage, type, waitForAnswers } from "./support.mjs";

const here = stage();

/** How many setups the page and the views have evaluated in full. */
const counts = (page) =>
  page.evaluate(async () => {
    const [app, views] = await Promise.all(["./clothyard.js", "./clothyard_views.js"].map((name) => import(name)));
    return [app.count_evaluations(), views.count_view_evaluations()];
  });

/** Waits until nothing on the page changes any more. */
const rest = async (page) => {
  const words = () => page.evaluate(() => document.body.textContent);
  for (let before; before !== (before = await words()); ) await pause(700);
};

test("a change is evaluated once, whichever views are open", async () => {
  const page = await open(await here.chromium.browser.createBrowserContext(), here.server.url);
  await waitForAnswers(page);
  await openEverything(page);
  await page.waitForFunction(() => /\S/.test(document.getElementById("reach-words").textContent));
  await rest(page);
  await page.$eval("#beside-hold", (button) => button.click());
  await rest(page);
  const [app, views] = await counts(page);
  assert.equal(views, 0, "the views take the evaluation of the page");
  await type(page, "pointGr", "7");
  await rest(page);
  const [typed, unread] = await counts(page);
  assert.ok(typed >= app + 1 && unread === 0, `${app} ${typed} ${unread}`);
  await press(page, "ArrowUp");
  await rest(page);
  assert.deepEqual(await counts(page), [typed + 1, 0]);
  await page.select("#all-units", "metric");
  await rest(page);
  assert.deepEqual(await counts(page), [typed + 1, 0], "other units need no other evaluation");
});
