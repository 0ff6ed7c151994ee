// Paper: every tool printed from its own place, without controls, in letters that can be read, with name and date.

import assert from "node:assert/strict";
import { test } from "node:test";
import { open, openTool, pause, stage, waitForAnswers } from "./support.mjs";

const here = stage();

/** 7 pt in CSS pixels. */
const LEAST_PX = (7 / 72) * 96;

/** What is seen of a tool: its heading, controls, and letters that are too small. */
const seen = (page, tool) =>
  page.evaluate(
    (id, least) => {
      const visible = (selector) => [...document.getElementById(id).querySelectorAll(selector)].filter((each) => each.checkVisibility());
      const words = (each) => [...each.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
      return {
        heading: visible("h3").map((each) => each.textContent),
        controls: visible("select, textarea, input:not([data-step-of])").map((each) => each.id || each.outerHTML.slice(0, 60)),
        small: visible("*")
          .filter((each) => !each.closest("svg, .unseen") && words(each) && Number.parseFloat(getComputedStyle(each).fontSize) < least - 0.01)
          .map((each) => `${each.tagName} ${each.textContent.slice(0, 30)}`),
      };
    },
    tool,
    LEAST_PX,
  );

for (const tool of ["combine", "effects", "sweep", "solve", "results", "distances", "steady"]) {
  test(`${tool} on paper`, async () => {
    const page = await open(here.chromium.browser, here.server.url);
    await waitForAnswers(page);
    await openTool(page, tool);
    await pause(800);
    const pdf = Buffer.from(await page.pdf({ format: "A4" })).toString("latin1");
    assert.ok(pdf.match(/\/Type\s*\/Page\b(?!s)/g).length <= 3, "no empty pages");
    const foot = await page.evaluate(() => document.adoptedStyleSheets[0].cssRules[0].cssText);
    assert.ok(foot.includes(await page.evaluate(() => new Date().toLocaleDateString())), foot);
    await page.emulateMediaType("print");
    const { heading, controls, small } = await seen(page, tool);
    assert.equal(heading.length, 1);
    assert.deepEqual(controls, []);
    assert.deepEqual(small, []);
    assert.equal(await page.$eval("footer", (each) => each.checkVisibility()), false, "no page of its own for the footer");
    assert.deepEqual(page.complaints, []);
  });
}
