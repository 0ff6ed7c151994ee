// Shared by the walks: a browser, a server that can be stopped, and functions to use and read the page.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { appendFileSync, cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { extname, join, normalize } from "node:path";
import { after, afterEach, before, beforeEach } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import puppeteer from "puppeteer-core";

const require = createRequire(import.meta.url);

export const project = fileURLToPath(new URL("../..", import.meta.url));
export const site = join(project, "dist/site");
export const singleFile = pathToFileURL(join(project, "dist/clothyard.html")).href;

const MEDIA_TYPES = {
  ".css": "text/css",
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
};

const folders = [];
process.once("exit", () => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
});

/** An empty folder that goes away when the walks end. */
export function temporaryFolder() {
  folders.push(mkdtempSync(join(tmpdir(), "clothyard-")));
  return folders.at(-1);
}

function listen(server, port) {
  return new Promise((resolve, reject) => server.once("error", reject).listen(port, "127.0.0.1", resolve));
}

/** Closes the server and every connection to it, as when a machine is switched off. */
function close(server) {
  if (!server.listening) return;
  const closed = new Promise((resolve) => server.close(resolve));
  server.closeAllConnections();
  return closed;
}

/**
 * Serves a folder on localhost. `stop` and `start` act on the same port, so that to the browser it is one server that
 * went away and came back; `folder` can be changed meanwhile; `requests` lists the paths asked for; `mediaTypes`
 * and `headers` can be changed to try a server that is set up otherwise; paths in `silent` get no answer at all.
 */
export async function serve(folder = site) {
  const served = { folder, requests: [], silent: [], mediaTypes: { ...MEDIA_TYPES }, headers: {} };
  const answer = (request, response) => {
    const { pathname } = new URL(request.url, "http://localhost");
    served.requests.push(pathname);
    if (served.silent.includes(pathname)) return;
    const name = normalize(pathname.endsWith("/") ? `${pathname}index.html` : pathname);
    try {
      const file = readFileSync(join(served.folder, name));
      const content = served.headers["content-encoding"] === "gzip" ? gzipSync(file) : file;
      const type = served.mediaTypes[extname(name)] ?? "application/octet-stream";
      // Plain hosts of static pages let browsers keep files for a while, which must not mix two builds.
      response.writeHead(200, { "content-type": type, "cache-control": "max-age=600", ...served.headers });
      response.end(content);
    } catch {
      response.writeHead(404).end();
    }
  };
  let server;
  served.start = async () => {
    server = createServer(answer);
    await listen(server, served.port ?? 0);
    served.port = server.address().port;
    served.url = `http://localhost:${served.port}/`;
  };
  served.stop = () => close(server);
  await served.start();
  return served;
}

/** A copy of the site with some of its files changed: `null` for a file that is missing, else the text added to it. */
export function sabotaged(changes) {
  const folder = temporaryFolder();
  cpSync(site, folder, { recursive: true });
  for (const [name, more] of Object.entries(changes)) {
    if (more === null) rmSync(join(folder, name));
    else appendFileSync(join(folder, name), more);
  }
  return folder;
}

/** The same site as another build: one comment more in its style sheet. */
export function otherBuild() {
  const sources = join(temporaryFolder(), "www");
  cpSync(join(project, "www"), sources, { recursive: true });
  appendFileSync(join(sources, "style.css"), "/* another build */\n");
  const dist = temporaryFolder();
  execFileSync("python3", [join(project, "scripts/assemble.py"), sources, site, dist]);
  return join(dist, "site");
}

/** The site withdrawn: retire.js in the place of its worker. */
export function retired() {
  const folder = sabotaged({});
  cpSync(join(project, "www/retire.js"), join(folder, "sw.js"));
  return folder;
}

/**
 * What pages and their workers asked of other machines, by Chromium's own log. What the browser asks for itself has no
 * origin there and is left out.
 */
function askedElsewhere(log) {
  const { constants, events } = JSON.parse(readFileSync(log, "utf8"));
  const started = constants.logEventTypes.URL_REQUEST_START_JOB;
  const local = (url) => ["localhost", ""].includes(new URL(url).hostname);
  return events
    .filter(({ type, params }) => type === started && params?.url && params.initiator !== "not an origin")
    .map(({ params }) => params.url)
    .filter((url) => !local(url));
}

/**
 * Starts Chromium as a new process, with its own empty profile or with one used before. `stop` ends it and gives every
 * request that a page made to another machine than this.
 */
export async function launch({ profile = temporaryFolder(), args = [] } = {}) {
  const log = join(temporaryFolder(), "requests.json");
  const browser = await puppeteer.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    userDataDir: profile,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost",
      `--log-net-log=${log}`,
      ...args,
    ],
  });
  const stop = async () => {
    await browser.close();
    return askedElsewhere(log);
  };
  return { browser, profile, stop };
}

/** Ends a browser; no page of it may have asked another machine for anything. */
export async function leave(chromium) {
  assert.deepEqual(await chromium.stop(), [], "no page may ask another machine for anything");
}

/** A server and a browser, once for all tests of a file or new for each; there when the tests run. */
export function stage({ forEachTest = false } = {}) {
  const here = {};
  const [begin, end] = forEachTest ? [beforeEach, afterEach] : [before, after];
  begin(async () => {
    here.server = await serve();
    here.chromium = await launch();
  });
  end(async () => {
    await here.server.stop();
    await leave(here.chromium);
  });
  return here;
}

/** Opens an address in a new tab. `page.complaints` collects what the console and uncaught errors say. */
export async function open(browser, url, prepare = async () => {}) {
  const page = await browser.newPage();
  page.complaints = [];
  page.on("pageerror", (error) => page.complaints.push(String(error)));
  page.on("console", (message) => {
    if (["error", "warn"].includes(message.type())) page.complaints.push(message.text());
  });
  await prepare(page);
  await page.goto(url);
  return page;
}

/** The text an element shows, trimmed; the value, where it is a field. */
export function read(page, id) {
  return page.$eval(`#${id}`, (element) => (element.value ?? element.textContent).trim());
}

/** Whether an element can be seen. */
export function shown(page, id) {
  return page.$eval(`#${id}`, (element) => element.checkVisibility());
}

/** The rows of a table: what each cell says. */
export function rows(page, id) {
  return page.$$eval(`#${id} tbody tr`, (all) => all.map((row) => [...row.cells].map((cell) => cell.textContent.trim())));
}

/** The number that words begin with: the page shows one below zero with a minus sign, not a hyphen. */
export function number(words) {
  return Number.parseFloat(words.replace("−", "-"));
}

/** What the page keeps in this browser under a name. */
export function stored(page, key) {
  return page.evaluate((name) => JSON.parse(localStorage.getItem(name)), key);
}

/** What the page keeps by name, each list with the newest first. */
export async function records(page) {
  const all = await page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const opened = indexedDB.open(`clothyard${document.documentElement.dataset.folder ?? ""}`);
        opened.onupgradeneeded = () => opened.transaction.abort(); // the page makes it
        opened.onerror = () => reject(opened.error);
        opened.onsuccess = () => {
          const transaction = opened.result.transaction("records");
          const store = transaction.objectStore("records");
          const [keys, texts] = [store.getAllKeys(), store.getAll()];
          transaction.oncomplete = () => {
            opened.result.close();
            resolve(keys.result.map((key, place) => [key, texts.result[place]]).reverse());
          };
        };
      }),
  );
  const of = (kind) => all.filter(([key]) => key.startsWith(kind)).map(([, text]) => JSON.parse(text));
  return { kept: of("setup/"), drawer: of("part/"), lessons: of("lesson/") };
}

export function pause(milliseconds) {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}

/** Waits until an element's text or value matches, and gives it. */
export async function waitFor(page, id, pattern, timeout = 10_000) {
  const look = (name, source, flags) => {
    const element = document.getElementById(name);
    const text = (element?.value ?? element?.textContent ?? "").trim();
    return new RegExp(source, flags).test(text) ? text : false;
  };
  try {
    const found = await page.waitForFunction(look, { timeout, polling: 50 }, id, pattern.source, pattern.flags);
    return await found.jsonValue();
  } catch (error) {
    const shown = await read(page, id).catch(() => "no such element");
    throw new Error(`#${id} did not come to match ${pattern}: it shows "${shown}"`, { cause: error });
  }
}

/** Waits until the page has its answers, and what follows them. A page that is still empty, and opens no link, opens its first sample. */
export async function waitForAnswers(page) {
  await page.waitForSelector("html.scripted");
  const linked = await page.evaluate(() => location.hash.startsWith("#v="));
  if (!linked && (await page.$("#answer:not([data-state=answered], [data-state=danger])"))) await page.select("#start", "threeD");
  await waitFor(page, "total-weight", /\d/);
  await page.waitForSelector("#finder");
}

/** Brings a field into view: opens the part of the arrow that it belongs to, or puts it in the place of its twin. */
export async function reveal(page, id) {
  await page.evaluate((key) => {
    const field = document.getElementById(key);
    const part = field.closest("#part-fields > fieldset");
    if (part?.checkVisibility() === false) {
      const { group } = part.dataset;
      const name = document.querySelector(`[data-part=${group}][aria-expanded]`);
      if (!name) document.querySelector("[data-part=nock][aria-expanded=false]")?.click();
      (name ?? document.querySelector(`#part-list [data-part=${group}]`)).click();
    }
    for (let around = field.closest("details"); around; around = around.parentElement.closest("details")) around.open = true;
    const twin = { armSpanIn: "armSpan", drawLengthIn: "measured" }[key];
    if (twin && !field.checkVisibility()) document.querySelector(`[name=drawLengthFrom][value=${twin}]`).click();
  }, id);
}

/** Does something with a field where it is: one of the first screen out of the tool that may be open. */
async function inPlaceOf(page, id, act) {
  const inTool = await page.$eval(`#${id}`, (field) => field.closest("#place") !== null);
  return inTool ? act() : onFirstScreen(page, act);
}

/** Replaces what a field holds, as a person would: by entering it and typing. */
export async function type(page, id, text) {
  await inPlaceOf(page, id, async () => {
    await reveal(page, id);
    await page.focus(`#${id}`);
    await press(page, "Control+A", "Delete");
    await page.keyboard.type(text);
  });
}

/** Chooses an answer of a field, by its value. */
export async function choose(page, id, value) {
  await inPlaceOf(page, id, async () => {
    await reveal(page, id);
    if (await page.$(`select#${id}`)) await page.select(`#${id}`, value);
    else await page.$eval(`[name=${id}][value=${value}]`, (radio) => radio.click());
  });
}

/** Presses one of the buttons that go with the field in hand: less, plus, sign, back or meant. */
export async function pressBeside(page, id, button) {
  await inPlaceOf(page, id, async () => {
    await reveal(page, id);
    await page.focus(`#${id}`);
    await page.waitForSelector(`#help[data-field=${id}] .${button}:not([hidden])`);
    await page.$eval(`#help .${button}`, (each) => each.click());
  });
}

/** Whose value a field holds, in the words that a screen reader has. */
export function whose(page, id) {
  return page.$eval(`#${id}`, (field) => {
    const words = field.getAttribute("aria-describedby").split(" ").find((name) => name.startsWith("is-"));
    return document.getElementById(words).textContent;
  });
}

/** A folder that takes what a tab saves. */
export async function downloads(page) {
  const folder = temporaryFolder();
  const session = await page.createCDPSession();
  await session.send("Page.setDownloadBehavior", { behavior: "allow", downloadPath: folder });
  return folder;
}

/** The text of the file that a button saves. */
export function saves(page, id) {
  return page.evaluate(
    (button) =>
      new Promise((resolve) => {
        const create = URL.createObjectURL;
        URL.createObjectURL = (blob) => {
          URL.createObjectURL = create;
          blob.text().then(resolve);
          return create(blob);
        };
        document.getElementById(button).click();
      }),
    id,
  );
}

/** The file whose name ends so, once it has been saved whole: a browser may put an empty one in its place first. */
export async function saved(folder, ending) {
  let before = 0;
  for (let tries = 0; tries < 200; tries += 1) {
    const names = readdirSync(folder);
    const name = names.find((each) => each.endsWith(ending));
    const size = name ? statSync(join(folder, name)).size : 0;
    if (size > 0 && size === before && !names.some((each) => each.endsWith(".crdownload"))) return join(folder, name);
    before = size;
    await pause(50);
  }
  throw new Error(`no file ending in ${ending} was saved`);
}

/** Presses keys one after the other; "Shift+Tab" holds the first while it presses the second. */
export async function press(page, ...keys) {
  for (const chord of keys) {
    const held = chord.split("+");
    const last = held.pop();
    for (const key of held) await page.keyboard.down(key);
    await page.keyboard.press(last);
    for (const key of held.reverse()) await page.keyboard.up(key);
  }
}

/** Opens a tool, or a section of them, by its address, and waits until it is there. */
export async function openTool(page, id) {
  await page.evaluate((tool) => (location.hash = tool), id);
  await page.waitForSelector(`[data-place="${id}"] #${id}:is([data-view], [open])`, { timeout: 30_000 });
}

/** Opens every tool at once, beside the first screen: to look at all there is. */
export async function openEverything(page) {
  await openTool(page, "flight");
  await page.evaluate(() => {
    delete document.documentElement.dataset.place;
    document.getElementById("place").classList.remove("one");
    for (const each of document.querySelectorAll("#place > section, #place .view")) each.classList.add("here");
    for (const each of document.querySelectorAll("details")) each.open = true;
  });
}

/** Does something on the first screen: leaves the tool that is open, if one is, and returns to it by the browser's Back. */
export async function onFirstScreen(page, act) {
  const tool = await page.evaluate(() => document.documentElement.dataset.place);
  if (!tool) return act();
  await page.click("#place-back");
  const done = await act();
  await page.evaluate(() => history.back());
  await page.waitForSelector(`[data-place="${tool}"]`);
  return done;
}

/** What an element of the tool with every result says, by its id; the tool that was open before is open again afterwards. */
export async function result(page, id) {
  const tool = await page.evaluate(() => document.documentElement.dataset.place);
  await openTool(page, "results");
  await pause(200);
  const said = await read(page, id);
  if (tool) await openTool(page, tool);
  else await page.click("#place-back");
  return said;
}

/** What reaches beyond the page's right edge: only boxes that scroll of themselves, and the insides of drawings, may. */
export function tooWide(page) {
  return page.evaluate(() => {
    const beyond = [...document.querySelectorAll("body *")]
      .filter((each) => !each.closest(".scroll, svg *, .unseen, .skip") && each.checkVisibility())
      .filter((each) => each.getBoundingClientRect().right > innerWidth + 1)
      .map((each) => `${each.tagName} ${each.id} ${each.className}`);
    return document.documentElement.scrollWidth > innerWidth ? [...beyond, "the page scrolls sideways"] : beyond;
  });
}

/**
 * What axe-core finds wrong, one line each, with the page's own policy lifted to let axe in. `prepare` brings the
 * page into the state to look at; `rules` changes which of axe's rules are asked.
 */
export async function audit(browser, url, prepare = async () => {}, rules = {}) {
  const page = await open(browser, url, (fresh) => fresh.setBypassCSP(true));
  await waitForAnswers(page);
  await prepare(page);
  await page.evaluate(readFileSync(require.resolve("axe-core/axe.min.js"), "utf8"));
  const { violations } = await page.evaluate((more) =>
    axe.run({
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
      rules: { "target-size": { enabled: true }, "color-contrast-enhanced": { enabled: true }, ...more },
    }),
    rules,
  );
  await page.close();
  return violations.flatMap((rule) => rule.nodes.map((node) => `${rule.id}: ${node.target} ${node.failureSummary}`));
}
