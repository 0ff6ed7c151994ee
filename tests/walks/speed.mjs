// How fast the page answers, on a machine made four times slower: printed a figure a line, or measured by a walk.

import { pathToFileURL } from "node:url";
import { launch, open, openTool, serve, waitFor, waitForAnswers } from "./support.mjs";

const median = (list) => list.toSorted((a, b) => a - b)[Math.floor(list.length / 2)];

/** Moves a slider many times; gives the handler's time and the time until the next frame has been painted. */
async function drag(page, id = "cutLengthIn-slider", [from, over] = [24, 5]) {
  const play = async (name, least, span) => {
    const slider = document.getElementById(name);
    const painted = () =>
      new Promise((resolve) => {
        requestAnimationFrame(() => {
          const channel = new MessageChannel();
          channel.port1.onmessage = resolve;
          channel.port2.postMessage(0);
        });
      });
    const list = [];
    for (let step = 0; step < 60; step += 1) {
      slider.value = least + ((step * 7) % span);
      const start = performance.now();
      slider.dispatchEvent(new Event("input", { bubbles: true }));
      const handled = performance.now();
      await painted();
      list.push([handled - start, performance.now() - start]);
    }
    return list;
  };
  const times = await page.evaluate(play, id, from, over);
  const painted = times.map(([, all]) => all);
  return { handler: median(times.map(([handled]) => handled)), paint: median(painted), worst: Math.max(...painted) };
}

/** The slider of the ready lesson dragged on each of its steps: the slowest, in milliseconds. */
async function teach(page) {
  await openTool(page, "lessons");
  await waitFor(page, "lesson-choice", /\S/);
  await page.click("#lesson-show");
  let slowest = 0;
  for (let step = 1; step <= 6; step += 1) {
    await waitFor(page, "projector-place", new RegExp(`^Step ${step} `));
    slowest = Math.max(slowest, (await drag(page, "projector-slider", [0, 40])).paint);
    await page.keyboard.press("PageDown");
  }
  return slowest;
}

const SETUP = { build: { schemaVersion: 1, name: "", inputs: { peakDrawWeightLb: 68, drawLengthIn: 29 } } };

/** Before any script of the page: a setup is stored, and the page notes when it first shows an answer. */
function noteAnswer(setup) {
  if (!location.protocol.startsWith("http")) return;
  localStorage.setItem("clothyard.setup", JSON.stringify(setup));
  const look = () => {
    if (/\d/.test(document.getElementById("total-weight")?.textContent ?? "")) window.answeredAt ??= performance.now();
  };
  new MutationObserver(look).observe(document, { childList: true, characterData: true, subtree: true });
}

const answeredAt = async (page) => (await page.waitForFunction(() => window.answeredAt, { polling: 20 })).jsonValue();

/** From the start of loading to the answer of a stored setup: a first visit, then a restart without the server. */
async function start(page, server) {
  await page.evaluateOnNewDocument(noteAnswer, SETUP);
  await page.goto(server.url);
  const first = await answeredAt(page);
  const touched = await drag(page);
  await waitFor(page, "offline-state", /^Ready to work offline/, 60_000);
  await server.stop();
  await page.reload();
  const offline = await answeredAt(page);
  await server.start();
  return { first, offline, worst: touched.worst };
}

/** Starts, and sliders dragged on the page and in a lesson, in milliseconds at 4x throttle. */
export async function measure() {
  const server = await serve();
  const chromium = await launch();
  const page = await open(chromium.browser, "about:blank");
  await page.setViewport({ width: 390, height: 844 });
  await page.emulateCPUThrottling(4);
  const started = await start(page, server);
  await waitForAnswers(page);
  const dragged = await drag(page);
  await openTool(page, "sweep");
  await waitFor(page, "sweep-at", /^At /);
  const swept = await drag(page);
  const taught = await teach(page);
  await chromium.stop();
  await server.stop();
  return { ...dragged, ...started, swept: swept.paint, taught };
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const { first, offline, worst, handler, paint, swept, taught } = await measure();
  console.log(`page at 4x throttle, cold start to first answer, ms ${first.toFixed(0)}`);
  console.log(`page at 4x throttle, restart without the server to the answer, ms ${offline.toFixed(0)}`);
  console.log(`page at 4x throttle, handler of a slider's step, ms ${handler.toFixed(1)}`);
  console.log(`page at 4x throttle, slider's step to painted, ms ${paint.toFixed(1)}`);
  console.log(`page at 4x throttle, slowest of the first sixty, first touch included, ms ${worst.toFixed(1)}`);
  console.log(`page at 4x throttle, the same with a chart open, ms ${swept.toFixed(1)}`);
  console.log(`page at 4x throttle, a lesson's slider, slowest of its steps, ms ${taught.toFixed(1)}`);
}
