// What the page's policy is for, tried in three engines: code smuggled in does not run, and nothing is asked of, or
// told to, another machine. The same tries on a page without a policy show that they are real.

import assert from "node:assert/strict";
import { after, before, beforeEach, test } from "node:test";
import { ENGINES, openTool, visit } from "./engines.mjs";
import { sabotaged, serve, singleFile } from "./support.mjs";

let server;
let elsewhere;
before(async () => {
  server = await serve(sabotaged({ "bare.html": `<meta charset="utf-8"><p id="total-weight">0</p>` }));
  elsewhere = await serve();
});
beforeEach(() => {
  elsewhere.requests.length = 0;
});
after(() => Promise.all([server.stop(), elsewhere.stop()]));

// Run by a timer, since what a test tool evaluates itself is let past the policy.
const TRIES = `
  const add = (tag, values) => document.body.appendChild(Object.assign(document.createElement(tag), values));
  const done = (what) => "(window.ran ??= []).push('" + what + "')";
  const there = (name) => arguments[0] + name;
  const tries = {
    eval: () => eval(done("eval")),
    function: () => new Function(done("function"))(),
    timer: () => setTimeout(done("timer")),
    script: () => add("script", { textContent: done("script") }),
    markup: () => (add("div").innerHTML = '<img src="nothing.png" onerror="' + done("markup") + '">'),
    attribute: () => { const button = add("button"); button.setAttribute("onclick", done("attribute")); button.click(); },
    address: () => add("a", { href: "javascript:" + done("address") }).click(),
    policy: () => { trustedTypes.createPolicy("mine", {}); (window.ran ??= []).push("policy"); },
    fetch: () => fetch(there("fetch"), { mode: "no-cors" }).catch(() => {}),
    beacon: () => navigator.sendBeacon(there("beacon"), "told"),
    picture: () => add("img", { src: there("picture") }),
    sheet: () => add("link", { rel: "stylesheet", href: there("sheet") }),
    code: () => add("script", { src: there("code") }),
    module: () => import(there("module")).catch(() => {}),
    frame: () => add("iframe", { src: there("frame") }),
    base: () => { document.head.appendChild(document.createElement("base")).href = there("base/"); fetch("under", { mode: "no-cors" }).catch(() => {}); },
    form: () => { add("iframe", { name: "answer" }); add("form", { action: there("form"), method: "post", target: "answer" }).submit(); },
  };
  for (const [name, attempt] of Object.entries(tries))
    setTimeout(() => { try { attempt(); } catch (error) { (window.refused ??= []).push(name + ": " + error.message); } });`;

const RUN = ["eval", "function", "timer", "script", "markup", "attribute", "address"];
const ASKED = ["/fetch", "/beacon", "/picture", "/sheet", "/code", "/module", "/frame", "/base/under", "/form"];

const settle = () => new Promise((settled) => setTimeout(settled, 1500));

for (const name of Object.keys(ENGINES)) {
  test(`${name}: where there is no policy, all of it happens`, async () => {
    const engine = await ENGINES[name]();
    try {
      await engine.goTo(`${server.url}bare.html`);
      await engine.run(TRIES, elsewhere.url);
      await settle();
      const ran = await engine.run("return window.ran;");
      for (const each of RUN) assert.ok(ran.includes(each), `${each} ran: ${ran}`);
      for (const each of ASKED) assert.ok(elsewhere.requests.includes(each), `${each} was asked: ${elsewhere.requests}`);
    } finally {
      await engine.stop();
    }
  });

  for (const [where, address] of [
    ["the site", () => server.url],
    ["the single file", () => singleFile],
  ]) {
    test(`${name}: ${where} runs nothing smuggled in, and asks and tells nobody anything`, () =>
      visit(name, address(), async (engine) => {
        const before = await engine.run("return document.baseURI;");
        await engine.run(TRIES, elsewhere.url);
        await settle();
        assert.equal(await engine.run("return window.ran ?? null;"), null);
        assert.equal(await engine.run("return document.baseURI;"), before);
        assert.deepEqual(elsewhere.requests, []);
        await engine.run("performance.clearResourceTimings();"); // where some engines note what they refused
        const complaints = await engine.run("return window.complaints.splice(0);");
        for (const each of ["connect-src", "img-src", "style-src", "frame-src", "base-uri", "form-action"]) {
          assert.ok(complaints.some((said) => said.includes(each)), `${each} refused something: ${complaints}`);
        }
        await engine.type("pointGr", "150");
        await engine.waitFor("part-point", /150/);
      }));
  }

  test(`${name}: names that hold markup are shown as they were written`, () =>
    visit(name, server.url, async (engine) => {
      const hostile = `<img src="x" onerror="window.ran=1"><script>window.ran=1</script>"'&`;
      await openTool(engine, "keeping");
      await engine.waitFor("share-link", /#v=1/, 30_000);
      await engine.type("keep-name", hostile);
      await engine.keys(["Enter"]);
      await engine.waitFor("kept", /<img src="x" onerror/);
      const link = await engine.text("share-link");
      await engine.goTo("about:blank");
      await engine.goTo(link);
      await engine.waitFor("total-weight", /\d/, 30_000);
      await engine.run("window.complaints = [];");
      await openTool(engine, "keeping");
      await engine.waitFor("kept", /<img src="x" onerror/, 30_000);
      assert.equal(await engine.run("return window.ran ?? null;"), null);
      assert.equal(await engine.run("return document.querySelectorAll('#keeping img').length;"), 0);
    }));
}
