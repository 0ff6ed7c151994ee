// A club puts the page into its own: an iframe with a setup in the fragment, as high as what it holds.

import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { open, serve, stage, temporaryFolder, waitFor } from "./support.mjs";

const here = stage();

/** A page of another origin, with the calculator in a frame and the few lines that size it. */
async function clubPage(fragment) {
  const folder = temporaryFolder();
  writeFileSync(
    join(folder, "index.html"),
    `<!doctype html><html lang="en"><title>Sallow Field</title><link rel="icon" href="data:,"><h1>Our arrows</h1>
    <iframe title="Clothyard" src="${here.server.url}${fragment}" width="1000" height="200"></iframe>
    <script src="frame.js"></script>`,
  );
  writeFileSync(
    join(folder, "frame.js"),
    `addEventListener("message", ({ data, source }) => {
      const frame = document.querySelector("iframe");
      if (source === frame.contentWindow && data?.clothyard === "height") frame.height = data.pixels;
    });`,
  );
  return serve(folder);
}

test("the setup of the fragment is in the frame, which is as high as its content", async (context) => {
  const club = await clubPage("#v=1&name=Club%20bow&peakDrawWeightLb=44&drawLengthIn=27&pointGr=90");
  context.after(() => club.stop());
  const page = await open(here.chromium.browser, club.url);
  const frame = await (await page.waitForSelector("iframe")).contentFrame();
  await waitFor(frame, "total-weight", /\d/);
  await waitFor(frame, "setup-name", /^Club bow$/);
  await waitFor(frame, "link-said", /^Setup from a link\. Your own setup is unchanged\.$/);
  assert.equal(await frame.evaluate(() => localStorage.getItem("clothyard.setup")), null, "the frame plants nothing");
  await page.waitForFunction(() => Number(document.querySelector("iframe").height) > 1000);
  const [outside, inside] = [
    await page.$eval("iframe", (element) => element.clientHeight),
    await frame.evaluate(() => document.documentElement.scrollHeight),
  ];
  assert.ok(Math.abs(outside - inside) <= 2, `${outside} ${inside}`);
  assert.deepEqual(page.complaints, []);
  await page.close();
});
