// What may go wrong around the page, in three engines: an update under the user's hands, files that are missing, a
// browser that has no room or keeps nothing, two tabs, and a site that is withdrawn.

import assert from "node:assert/strict";
import { after, afterEach, before, test } from "node:test";
import { ENGINES, LISTEN, openTool, until, visit, waitForAnswers } from "./engines.mjs";
import { otherBuild, retired, sabotaged, serve, site } from "./support.mjs";

let server;
before(async () => {
  server = await serve();
});
afterEach(() => {
  server.folder = site;
  server.headers = {};
});
after(() => server.stop());

const READY = /^Ready to work offline$/;

const buildOf = (engine) => engine.run(`return document.querySelector('meta[name="build"]').content;`);
const click = (engine, id) => engine.run("document.getElementById(arguments[0]).click();", id);

const follow = (engine, id) => engine.run("location.hash = arguments[0];", id);

/** Waits until a page newly opened has its answers. */
async function settled(engine) {
  await waitForAnswers(engine);
  await engine.run(LISTEN);
}

/** Takes up all that the browser lets this site keep, to the last character. */
const FILL = `for (let size = 1 << 22; size > 0; )
  try { localStorage.setItem("filler", (localStorage.getItem("filler") ?? "") + "x".repeat(size)); } catch { size >>= 1; }`;

async function keepUnder(engine, name) {
  await engine.type("keep-name", name);
  await engine.keys(["Enter"]);
}

for (const name of Object.keys(ENGINES)) {
  test(`${name}: an update comes when it is asked for, and takes along what was typed that moment`, () =>
    visit(name, server.url, async (engine) => {
      await engine.waitFor("offline-state", READY, 60_000);
      const first = await buildOf(engine);
      server.folder = otherBuild();
      await engine.reload();
      await settled(engine);
      await engine.waitFor("offline-state", /^Update ready$/, 60_000);
      assert.equal(await buildOf(engine), first, "still the build that was there");
      await engine.type("pointGr", "137");
      await engine.type("peakDrawWeightLb", "4x");
      await click(engine, "update-now");
      await until(async () => (await buildOf(engine)) !== first, "the other build");
      await engine.waitFor("pointGr", /^137$/, 30_000);
      await engine.waitFor("peakDrawWeightLb", /^4x$/);
      await engine.waitFor("peakDrawWeightLb-said", /unit: lb/);
      await engine.run(LISTEN);
    }));

  test(`${name}: what the server has lost is said, and the rest works`, async () => {
    server.folder = sabotaged({ "clothyard_views_bg.wasm": null, "icon.svg": null });
    await visit(name, server.url, async (engine) => {
      await engine.waitFor("offline-state", /^Offline use is not ready/, 60_000);
      await follow(engine, "distances");
      await engine.waitFor("tools-failed-why", /could not be loaded.*Reason: /);
      const before = await engine.text("total-weight");
      await engine.type("pointGr", "175");
      await until(async () => (await engine.text("total-weight")) !== before, "the weight to follow");
      server.folder = site;
      await click(engine, "tools-again");
      await engine.waitFor("distances-words", /\d/, 30_000);
    });

    for (const lost of ["tools.html", "tools.css", "clothyard_views.js"]) {
      server.folder = sabotaged({ [lost]: null });
      await visit(name, server.url, async (engine) => {
        await follow(engine, "distances");
        await engine.waitFor("tools-failed-why", /could not be loaded/);
        server.folder = site;
        await click(engine, "tools-again");
        await engine.waitFor("distances-words", /\d/, 30_000);
      });
    }

    const unanswered = async (lost, act) => {
      server.folder = sabotaged({ [lost]: null });
      const engine = await ENGINES[name]();
      try {
        await engine.goTo(server.url);
        await act(engine);
      } finally {
        await engine.stop();
      }
    };
    for (const lost of ["more.html", "more.css"]) {
      await unanswered(lost, async (engine) => {
        await engine.waitFor("tools-failed-why", /could not be loaded/, 30_000);
        server.folder = site;
        await click(engine, "tools-again");
        await waitForAnswers(engine);
      });
    }
    await unanswered("clothyard_bg.wasm", (engine) => engine.waitFor("start-failed", /could not start.*Reason: /, 30_000));
  });

  test(`${name}: with no room left the page says so, works on, and keeps again once there is room`, () =>
    visit(name, server.url, async (engine) => {
      await engine.type("pointGr", "131");
      // Not one of its first digits, which is stored as a text that cannot be used and takes more room.
      await until(() => engine.run(`return localStorage.getItem("clothyard.setup")?.includes('"pointGr":131');`), "the point to be stored");
      await engine.run(FILL);
      await openTool(engine, "keeping");
      await engine.waitFor("share-link", /#v=1/, 30_000);
      await keepUnder(engine, "Range bow, with a name of some length");
      await engine.waitFor("keeping-said", /^Saved as/); // records have room of their own
      await engine.type("peakDrawWeightLb", "47.25");
      await engine.type("pointGr", "137.25");
      await engine.waitFor("save-state", /^Not saved: /);
      await engine.waitFor("total-weight", /\d/);
      await engine.run(`localStorage.removeItem("filler");`);
      await engine.type("pointGr", "141");
      await engine.waitFor("save-state", /^Saved in this browser/);
      await engine.reload();
      await settled(engine);
      await engine.waitFor("pointGr", /^141$/);
    }));

  test(`${name}: a browser that keeps nothing at all still does the job`, async () => {
    // A page without an origin of its own is refused every kind of storage.
    server.headers = { "content-security-policy": "sandbox allow-scripts" };
    await visit(name, `${server.url}clothyard.html`, async (engine) => {
      const refused = await engine.run("try { localStorage; return ''; } catch (error) { return error.name; }");
      assert.equal(refused, "SecurityError");
      const before = await engine.text("total-weight");
      await engine.type("pointGr", "175");
      await until(async () => (await engine.text("total-weight")) !== before, "the weight to follow");
      await engine.waitFor("save-state", /^Not saved: /);
    });
  });

  test(`${name}: two tabs add to each other's list`, () =>
    visit(name, server.url, async (engine) => {
      await openTool(engine, "keeping");
      await engine.waitFor("share-link", /#v=1/, 30_000);
      await engine.openTab();
      await engine.goTo(server.url);
      await settled(engine);
      await openTool(engine, "keeping");
      await engine.waitFor("share-link", /#v=1/, 30_000);
      await keepUnder(engine, "From two");
      await engine.waitFor("kept", /From two/);
      await engine.turnTo(0);
      await engine.waitFor("kept", /From two/);
      await keepUnder(engine, "From one");
      await engine.turnTo(1);
      await engine.waitFor("kept", /From one/);
      await engine.waitFor("kept", /From two/);
    }));

  test(`${name}: a site that is withdrawn lets go of everything but what the user typed`, () =>
    visit(name, server.url, async (engine) => {
      await engine.waitFor("offline-state", READY, 60_000);
      await engine.type("pointGr", "137");
      await engine.waitFor("save-state", /^Saved in this browser/);
      server.folder = retired();
      await engine.reload();
      await settled(engine);
      await until(() => engine.run("return caches.keys().then((names) => names.length === 0);"), "the files to be let go");
      const gone = "return navigator.serviceWorker.getRegistration().then((registration) => !registration);";
      await until(() => engine.run(gone), "the worker to be let go");
      server.requests.length = 0;
      await engine.reload();
      await settled(engine);
      assert.ok(server.requests.includes("/"), "the page comes from the server again");
      await engine.waitFor("pointGr", /^137$/);
    }));
}
