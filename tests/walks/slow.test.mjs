// The shot in slow motion: played, scrubbed and stepped through by keyboard; still where nothing may move; on paper.

import assert from "node:assert/strict";
import { test } from "node:test";
import { open, openTool, pause, press, read, result, stage, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

async function openFilm(prepare) {
  const page = await open(here.chromium.browser, here.server.url, prepare);
  await waitForAnswers(page);
  await openTool(page, "slow");
  await waitFor(page, "slow-now", /0\.0 ms after the release: on string and rest/);
  return page;
}

const onButton = (page) => page.$eval("#slow-play", (button) => button.textContent);

test("the film says what it shows, from the loose into flight, by keyboard", async () => {
  const page = await openFilm();
  assert.match(await read(page, "slow-words"), /Max bend [\d.]+\sin, [\d.]+ × its straightness error; it leaves after [\d.]+ ms at \d+\sfps/);
  await page.focus("#slow-on");
  await press(page, "Enter", "Enter");
  await waitFor(page, "slow-now", /^0\.[1-9]/);
  await page.focus("#slow-time");
  await press(page, "End");
  const last = await waitFor(page, "slow-now", /flying free/);
  assert.doesNotMatch(last, /pressed/, "nothing presses a free arrow");
  await press(page, "Home");
  await waitFor(page, "slow-now", /^0\.0 ms/);
  assert.deepEqual(page.complaints, []);
  await page.close();
});

test("it leaves at the launch speed of the page", async () => {
  const page = await openFilm();
  const said = Number((await read(page, "slow-words")).match(/at (\d+)\sfps/)[1]);
  const launch = Number((await result(page, "launchSpeedFps")).match(/\d+/)[0]);
  assert.ok(Math.abs(said - launch) <= 1, `${said} ${launch}`);
  await page.close();
});

test("it plays and stops", async () => {
  const page = await openFilm();
  await page.click("#slow-play");
  assert.equal(await onButton(page), "Stop");
  await waitFor(page, "slow-now", /^([1-9]|\d\d)\.\d ms/);
  await page.click("#slow-play");
  assert.equal(await onButton(page), "Play");
  const stopped = await read(page, "slow-time");
  await pause(300);
  assert.equal(await read(page, "slow-time"), stopped);
  await page.close();
});

test("a weaker shaft bends more", async () => {
  const page = await openFilm();
  const magnified = async () => Number((await read(page, "slow-words")).match(/, ([\d.]+) × its/)[1]);
  await type(page, "staticSpineThousandths", "300");
  await waitFor(page, "slow-words", /Max bend/);
  await pause(200);
  const stiff = await magnified();
  await type(page, "staticSpineThousandths", "420");
  await page.waitForFunction((before) => Number(document.querySelector("#slow-words").textContent.match(/, ([\d.]+) ×/)[1]) > before, {}, stiff);
  await page.close();
});

test("off the fingers it tells the swings on the string", async () => {
  const page = await openFilm();
  await page.select("#start", "recurve");
  const words = await waitFor(page, "slow-words", /Finger release/);
  const swings = Number(words.match(/makes ([\d.]+) swings/)[1]);
  assert.ok(swings > 0.5 && swings < 1.5, words); // Kooi 1998: near one value for arrows that fly well
  await page.close();
});

test("a held setup is above the page's own, in the same scale", async () => {
  const page = await openFilm();
  await openTool(page, "beside");
  await page.waitForSelector("#beside-hold", { visible: true });
  await page.click("#beside-hold");
  await openTool(page, "slow");
  await waitFor(page, "slow-words", /A, saved: .* B, current: /);
  await type(page, "pointGr", "200");
  const arrows = (count) => page.waitForFunction((wanted) => document.querySelectorAll("#slow-marks polygon.arrow").length === wanted, {}, count);
  await arrows(2);
  await openTool(page, "beside");
  await page.click("#beside-let-go");
  await openTool(page, "slow");
  await arrows(1);
  assert.doesNotMatch(await read(page, "slow-words"), /A, saved/);
  await page.evaluate(() => localStorage.removeItem("clothyard.held"));
  await page.close();
});

test("a shaft that ends behind the rest has no film, and the page says so", async () => {
  const page = await openFilm();
  await type(page, "cutLengthIn", "20");
  await waitFor(page, "slow-words", /cannot be worked out|cannot be calculated|no launch speed/);
  assert.equal(await read(page, "slow-now"), "");
  await type(page, "cutLengthIn", "28");
  await waitFor(page, "slow-now", /ms after the release/);
  await page.close();
});

test("where nothing may move there is a strip of stills in place of playing", async () => {
  const page = await openFilm((fresh) => fresh.emulateMediaFeatures([{ name: "prefers-reduced-motion", value: "reduce" }]));
  assert.equal(await page.$eval("#slow-play", (button) => button.hidden), true);
  assert.equal(await page.$eval("#slow-strip", (strip) => strip.open), true);
  assert.equal(await page.$$eval("#slow-stills-marks polygon.arrow", (all) => all.length), 6);
  await page.close();
});

test("printing shows the stills in place of the film", async () => {
  const page = await openFilm();
  await page.emulateMediaType("print");
  const shown = (id) => page.$eval(id, (element) => element.getBoundingClientRect().height > 0);
  assert.deepEqual([await shown("#slow-film"), await shown("#slow-stills")], [false, true]);
  await page.close();
});

test("frames are drawn within a frame's time while it plays on a browser four times slower", async () => {
  const page = await openFilm();
  await page.emulateCPUThrottling(4);
  const longest = await page.evaluate(async () => {
    document.querySelector("#slow-play").click();
    const gaps = [];
    let last = performance.now();
    for (let count = 0; count < 60; count += 1) {
      await new Promise((next) => requestAnimationFrame(next));
      gaps.push(performance.now() - last);
      last = performance.now();
    }
    document.querySelector("#slow-play").click();
    return gaps.sort((a, b) => a - b);
  });
  console.log(`frames while playing at 4x, ms: median ${longest[30].toFixed(1)}, most ${longest[59].toFixed(1)}`);
  assert.ok(longest[30] < 25, `${longest[30]}`); // every 16.7 ms, and room for a noisy machine
  await page.close();
});

test("the same moment is the same picture, and another moment another", async () => {
  const pictureAt = async (frame) => {
    const page = await openFilm();
    await page.$eval("#slow-time", (slider, value) => {
      slider.value = value;
      slider.dispatchEvent(new Event("input", { bubbles: true }));
    }, String(frame));
    const film = await page.$("#slow-film");
    const picture = Buffer.from(await film.screenshot());
    await page.close();
    return picture;
  };
  const [one, again, later] = [await pictureAt(80), await pictureAt(80), await pictureAt(140)];
  assert.ok(one.equals(again), "pixel for pixel");
  assert.ok(!one.equals(later));
});
