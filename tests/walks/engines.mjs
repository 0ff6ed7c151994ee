// Three browsers with the same few hands: Chromium and Firefox by puppeteer, WebKitGTK by plain WebDriver.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { createServer } from "node:net";
import puppeteer from "puppeteer-core";
import { temporaryFolder } from "./support.mjs";

const KEYS = { Enter: "\uE007", Tab: "\uE004", Control: "\uE009", Delete: "\uE017", ArrowRight: "\uE014", End: "\uE010", Home: "\uE011" };

async function freePort() {
  const server = createServer();
  await new Promise((listening) => server.listen(0, "127.0.0.1", listening));
  const { port } = server.address();
  await new Promise((closed) => server.close(closed));
  return port;
}

/** Looks again and again until there is something to see, and gives it. */
export async function until(look, what, timeout = 30_000) {
  const end = Date.now() + timeout;
  for (;;) {
    const found = await look().catch(() => undefined);
    if (found) return found;
    if (Date.now() > end) throw new Error(`waited in vain for ${what}`);
    await new Promise((again) => setTimeout(again, 100));
  }
}

/** Ends a program that we started, and waits until it is gone. */
async function end(program) {
  if (program.exitCode !== null || program.signalCode !== null) return;
  program.kill();
  await once(program, "exit");
}

/**
 * What every engine can do, from what each must bring: going to an address, `run` (a script's text with
 * arguments), `keys`, and tabs.
 */
class Engine {
  constructor(name) {
    this.name = name;
  }

  text(id) {
    return this.run("const e = document.getElementById(arguments[0]); return (e.value || e.textContent || '').trim();", id);
  }

  async waitFor(id, pattern, timeout) {
    let shown = "";
    const look = async () => {
      shown = await this.text(id);
      return pattern.test(shown) ? shown || " " : undefined;
    };
    return until(look, `#${id} to match ${pattern} in ${this.name}`, timeout).catch((error) => {
      throw new Error(`${error.message}: it shows "${shown}"`);
    });
  }

  async type(id, text) {
    await this.leavePlaceFor(id);
    await this.run("const e = document.getElementById(arguments[0]); e.focus(); e.select();", id);
    await this.keys([...text]);
  }

  /** A field of the first screen is out of sight while a tool is open. */
  async leavePlaceFor(id) {
    const hidden = "return document.documentElement.dataset.place !== undefined && !document.getElementById(arguments[0]).closest('#place');";
    if (!(await this.run(hidden, id))) return;
    await this.run("document.getElementById('place-back').click();");
    await until(async () => !(await this.run(hidden, id)), "the first screen");
  }

  async press(id, ...names) {
    await this.run("document.getElementById(arguments[0]).focus();", id);
    await this.keys(names);
  }
}

class ByPuppeteer extends Engine {
  static async start(name, options) {
    const engine = new this(name);
    engine.browser = await puppeteer.launch(options);
    engine.page = await engine.browser.newPage();
    return engine;
  }

  async goTo(url) {
    await this.page.goto(url);
  }

  async reload() {
    await this.page.reload();
  }

  run(script, ...values) {
    // The page's policy forbids making functions of texts; the browser's own door does not ask it.
    return this.page.evaluate(`(function () { ${script} }).apply(null, ${JSON.stringify(values)})`);
  }

  async keys(names) {
    for (const name of names) await this.page.keyboard.press(name);
  }

  async resize(width, height) {
    await this.page.setViewport({ width, height });
  }

  async openTab() {
    this.tabs ??= [this.page];
    this.tabs.push((this.page = await this.browser.newPage()));
  }

  async turnTo(tab) {
    this.page = this.tabs[tab];
    await this.page.bringToFront();
  }

  async stop() {
    await this.browser.close();
  }
}

class ByWebDriver extends Engine {
  static async start(name, command, environment, capabilities) {
    const engine = new this(name);
    const port = await freePort();
    engine.driver = spawn(command, [`--port=${port}`], { stdio: "ignore", env: { ...process.env, ...environment } });
    engine.url = `http://127.0.0.1:${port}/session`;
    const ask = () => engine.call("", { capabilities: { alwaysMatch: capabilities } });
    try {
      const { sessionId } = await until(ask, `${name} to start`);
      engine.url += `/${sessionId}`;
      return engine;
    } catch (error) {
      await end(engine.driver);
      throw error;
    }
  }

  async call(path, body, method = "POST") {
    const signal = AbortSignal.timeout(60_000);
    const answer = await fetch(this.url + path, { method, body: body && JSON.stringify(body), signal });
    const { value } = await answer.json();
    if (value?.error) throw new Error(`${value.error}: ${value.message}`);
    return value;
  }

  goTo(url) {
    return this.call("/url", { url });
  }

  reload() {
    return this.call("/refresh", {});
  }

  run(script, ...args) {
    return this.call("/execute/sync", { script, args });
  }

  keys(names) {
    const actions = names.map((name) => KEYS[name] ?? name).flatMap((value) => [{ type: "keyDown", value }, { type: "keyUp", value }]);
    return this.call("/actions", { actions: [{ type: "key", id: "keys", actions }] });
  }

  resize(width, height) {
    return this.call("/window/rect", { width, height });
  }

  async openTab() {
    this.tabs ??= [await this.call("/window", undefined, "GET")];
    const { handle } = await this.call("/window/new", { type: "tab" });
    this.tabs.push(handle);
    await this.turnTo(this.tabs.length - 1);
  }

  turnTo(tab) {
    return this.call("/window", { handle: this.tabs[tab] });
  }

  async stop() {
    await this.call("", undefined, "DELETE").catch(() => {});
    await end(this.driver);
  }
}

/**
 * A screen for a browser that wants one. It picks a free number itself and tells it once it can be drawn on: with a
 * number of our own the next screen could meet the last one still on its way out.
 */
async function screen() {
  const server = spawn("Xvfb", ["-displayfd", "3", "-screen", "0", "1280x1000x24", "-nolisten", "tcp"], {
    stdio: ["ignore", "ignore", "ignore", "pipe"],
  });
  const [number] = await once(server.stdio[3], "data", { signal: AbortSignal.timeout(30_000) });
  return { display: `:${String(number).trim()}`, stop: () => end(server) };
}

/** How to start each engine; each gives an `Engine`. */
export const ENGINES = {
  Chromium: () =>
    ByPuppeteer.start("Chromium", {
      executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
      userDataDir: temporaryFolder(),
      args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost"],
    }),
  Firefox: () =>
    ByPuppeteer.start("Firefox", {
      browser: "firefox",
      executablePath: process.env.FIREFOX ?? "/usr/bin/firefox-esr",
      userDataDir: temporaryFolder(),
      args: ["--headless"],
      extraPrefsFirefox: { "dom.serviceWorkers.testing.enabled": true, "privacy.reduceTimerPrecision": false },
    }),
  WebKitGTK: async () => {
    const { display, stop } = await screen();
    const environment = { DISPLAY: display, WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: "1", GDK_BACKEND: "x11" };
    const engine = await ByWebDriver.start("WebKitGTK", "WebKitWebDriver", environment, {
      "webkitgtk:browserOptions": { binary: process.env.MINIBROWSER ?? "/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser", args: ["--automation"] },
    }).catch(async (error) => {
      await stop();
      throw error;
    });
    const leave = engine.stop.bind(engine);
    engine.stop = async () => {
      await leave();
      await stop();
    };
    return engine;
  },
};

/** Collects what goes wrong from here on. */
export const LISTEN = `window.complaints = [];
  for (const kind of ["error", "unhandledrejection", "securitypolicyviolation"])
    window.addEventListener(kind, (event) => complaints.push(kind + ": " + (event.message ?? event.reason ?? event.violatedDirective)));`;

const ASKED_ELSEWHERE = `return performance.getEntriesByType("resource").map(({ name }) => name)
  .filter((name) => !name.startsWith(new URL("./", location).href) && !name.startsWith("data:") && !name.startsWith("blob:"));`;

/** Opens a tool by its address, and waits until it is there. */
export async function openTool(engine, id) {
  await engine.run("location.hash = arguments[0];", id);
  await until(() => engine.run("return document.getElementById(arguments[0])?.open ?? false;", id), `the tool ${id}`, 30_000);
}

/** Waits until a page newly opened has its answers. One that is still empty opens its first sample. */
export async function waitForAnswers(engine) {
  const answered = `const state = document.getElementById("answer")?.dataset.state;
    if (document.documentElement.classList.contains("scripted") && ["empty", "one"].includes(state)) {
      const start = document.getElementById("start");
      start.value = "threeD";
      start.dispatchEvent(new Event("change", { bubbles: true }));
    }
    return /\\d/.test(document.getElementById("total-weight")?.textContent ?? "") && document.getElementById("finder") !== null;`;
  await until(() => engine.run(answered), "the answers", 60_000);
}

/**
 * Opens the page in an engine, does there what is asked once it has answers, and closes the engine whatever came of it.
 * Nothing may have gone wrong meanwhile, and the page may have asked nobody but its own server for anything.
 */
export async function visit(name, url, act) {
  const engine = await ENGINES[name]();
  try {
    await engine.goTo(url);
    await waitForAnswers(engine);
    await engine.run(LISTEN);
    await act(engine);
    assert.deepEqual(await engine.run("return window.complaints;"), [], name);
    assert.deepEqual(await engine.run(ASKED_ELSEWHERE), [], name);
  } finally {
    await engine.stop();
  }
}
