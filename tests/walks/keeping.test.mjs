// Keep and share: setups by name and their undo, the drawer, files out and in, damaged and newer texts, links that
// open as copies, and two tabs side by side.

import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { test } from "node:test";
import { audit, downloads, launch, open, openTool, press, project, read, records, saved, shown, singleFile, stage, stored, whose } from "./support.mjs";
import { temporaryFolder, tooWide, type, waitFor, waitForAnswers } from "./support.mjs";

const here = stage();

const somebody = () => here.chromium.browser.createBrowserContext();

async function openView(page) {
  await waitForAnswers(page);
  await openViewAsItIs(page);
}

/** The same where too little is given for an answer, as after a link with few values. */
async function openViewAsItIs(page) {
  await openTool(page, "keeping");
  await waitFor(page, "share-link", /#v=1/);
}

/** The view, open, in a browser that may know somebody already. */
async function look(context, url = here.server.url) {
  const page = await open(context, url);
  await openView(page);
  return page;
}

const names = (page) => page.$$eval("#kept li b", (all) => all.map((each) => each.textContent));
const act = (page, list, name, words) => page.click(`#${list} [aria-label="${words}: ${name}"]`);

async function keep(page, name) {
  await type(page, "keep-name", name);
  await press(page, "Enter");
  await waitFor(page, "keeping-said", new RegExp(`^Saved as “${name}`));
}

async function point(page, grains) {
  await type(page, "pointGr", grains);
  await press(page, "Tab");
}

const today = (page) =>
  page.evaluate(() => {
    const now = new Date();
    const two = (number) => String(number).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  });

async function paste(page, text) {
  await page.$eval("#import-text", (field, content) => (field.value = content), text);
  await page.click("#import-it");
}

test("a setup is kept, loaded, renamed, deleted and brought back", async () => {
  const context = await somebody();
  const page = await look(context);
  await point(page, "125");
  await keep(page, "Range bow");
  await waitFor(page, "keeping-lasting", /^(The|This) browser (will keep|may clear) it/);
  assert.match(await read(page, "kept"), /Range bow.*lb at .*in, point 125\sgr, spine/s);
  assert.match(await read(page, "kept"), new RegExp(await today(page)));

  await point(page, "200");
  await act(page, "kept", "Range bow", "Open");
  assert.equal(await read(page, "pointGr"), "125");
  await page.$eval("#undo", (button) => button.click());
  assert.equal(await read(page, "pointGr"), "200", "loading can be undone");

  await keep(page, "Range bow");
  assert.deepEqual(await names(page), ["Range bow (2)", "Range bow"], "a name that is taken gets a number");

  await act(page, "kept", "Range bow", "Rename");
  await type(page, "rename-name", "Old bow");
  await press(page, "Enter");
  await waitFor(page, "keeping-said", /^Renamed to “Old bow”/);
  assert.deepEqual(await names(page), ["Range bow (2)", "Old bow"]);
  assert.equal(await page.evaluate(() => document.activeElement.ariaLabel), "Rename: Old bow");

  const before = await records(page);
  await act(page, "kept", "Range bow (2)", "Delete");
  assert.deepEqual(await names(page), ["Old bow"]);
  await press(page, "Enter"); // the way back has the focus
  assert.deepEqual(await names(page), ["Range bow (2)", "Old bow"]);
  assert.deepEqual(await records(page), before);

  await page.close();
  const next = await look(context);
  assert.deepEqual(await names(next), ["Range bow (2)", "Old bow"], "it is there at the next visit");
  assert.deepEqual(next.complaints, []);
});

test("the keys for undo belong to a name while it is typed", async () => {
  const page = await look(await somebody());
  await point(page, "125");
  await type(page, "keep-name", "abc");
  await press(page, "Control+z");
  assert.equal(await read(page, "pointGr"), "125");
});

test("a part goes into the drawer and on another arrow", async () => {
  const page = await look(await somebody());
  await point(page, "150");
  await type(page, "drawer-name", "Heavy point");
  await press(page, "Enter");
  await waitFor(page, "drawer", /Heavy point.*Point: 150\sgr, Field or target point, point length 1\.2\sin/s);
  await page.select("#drawer-kind", "nock");
  await page.click("#drawer-put");
  await waitFor(page, "drawer", /Nock \d+\sgr/);

  await page.select("#start", "blank");
  await act(page, "drawer", "Heavy point", "Apply");
  assert.equal(await read(page, "pointGr"), "150");
  assert.equal(await whose(page, "pointGr"), "your value");
  assert.equal(await whose(page, "pointLengthIn"), "your value");
  assert.equal(await whose(page, "nockGr"), "default");
  await page.$eval("#undo", (button) => button.click());
  assert.equal(await whose(page, "pointGr"), "default");

  await act(page, "drawer", "Heavy point", "Delete");
  assert.doesNotMatch(await read(page, "drawer"), /Heavy/);
  await page.click("#keeping-put-back");
  assert.match(await read(page, "drawer"), /Heavy/);
  assert.deepEqual(page.complaints, []);
});

test("a backup written and read in elsewhere is the same", async () => {
  const page = await look(await somebody());
  await keep(page, "First");
  await point(page, "131");
  await keep(page, "Second");
  await page.click("#drawer-put");
  await waitFor(page, "drawer", /131/);
  await point(page, "137");
  await type(page, "keep-name", "Now");
  const folder = await downloads(page);
  await page.click("#backup-all");
  const file = await saved(folder, `clothyard-backup-${await today(page)}.json`);
  const backup = JSON.parse(readFileSync(file, "utf8"));
  const mine = await records(page);
  assert.deepEqual([backup.kept, backup.drawer], [mine.kept, mine.drawer]);
  assert.equal(backup.current.inputs.pointGr, 137);

  const other = await look(await somebody());
  const field = await other.$("#import-file");
  await field.uploadFile(file);
  await waitFor(other, "keeping-said", /^Added: Second; First; Now\. 1 added to My parts\.$/);
  const there = await records(other);
  assert.deepEqual(there.kept.slice(1), mine.kept);
  assert.deepEqual(there.drawer, mine.drawer);
  assert.deepEqual(there.kept[0].build, backup.current);

  await paste(other, readFileSync(file, "utf8"));
  await waitFor(other, "keeping-said", /^Added: Now \(2\)\. 3 already saved/);
  assert.deepEqual((await records(other)).kept.slice(1), there.kept, "what is kept is never overwritten");
  assert.deepEqual([...page.complaints, ...other.complaints], []);
});

test("one setup alone is a saved build, and is read in under a free name", async () => {
  const page = await look(await somebody());
  await keep(page, "Bow");
  const folder = await downloads(page);
  await page.click("#backup-one");
  const file = await saved(folder, "clothyard-Bow.json");
  const build = JSON.parse(readFileSync(file, "utf8"));
  assert.deepEqual(build, (await records(page)).kept[0].build);
  const report = JSON.parse(execFileSync(join(project, "scripts/evaluate"), [file], { encoding: "utf8" }));
  assert.equal(report.matchSentence, await read(page, "match-sentence"));
  await paste(page, JSON.stringify(build));
  await waitFor(page, "keeping-said", /^Added: Bow \(2\)\.$/);
  assert.deepEqual(await names(page), ["Bow (2)", "Bow"]);
});

test("a newer text is refused by name, and a name that is too long by its length, in a large file too", async () => {
  const page = await look(await somebody());
  await keep(page, "Bow");
  const before = await records(page);
  const newer = JSON.stringify({ schemaVersion: 2, kept: [{ wonder: 1 }] });
  await paste(page, newer);
  await waitFor(page, "keeping-said", /nothing was changed\. schemaVersion 2: this version reads 1 to 1/);
  assert.equal(await read(page, "import-text"), newer, "the text stays");
  await paste(page, JSON.stringify({ schemaVersion: 9, name: "x", marvel: true }));
  await waitFor(page, "keeping-said", /schemaVersion 9/);

  const file = join(temporaryFolder(), "large.json");
  writeFileSync(file, `{"schemaVersion":1,"name":"${"x".repeat(1_000_000)}"}`);
  await (await page.$("#import-file")).uploadFile(file);
  await waitFor(page, "keeping-said", /nothing was changed\. .*name: at most 80\.$/);
  assert.deepEqual(await records(page), before);
});

test("a damaged text is shown with what is wrong, and changes nothing", async () => {
  const page = await look(await somebody());
  await keep(page, "Bow");
  const before = await records(page);
  for (const [text, why] of [
    ['{"schemaVersion":1,"kept":[', /not JSON/],
    ['{"schemaVersion":1,"inputs":{"pointGr":-5}}', /pointGr.*10 to 600/],
    ['{"schemaVersion":1,"inputs":{"pointGr":"heavy"}}', /pointGr/],
    ['{"schemaVersion":1,"inputs":{"wonder":5}}', /wonder/],
    ['{"schemaVersion":1,"wonder":5,"kept":[]}', /wonder/],
    ['{"schemaVersion":1,"kept":[{"id":"a\\"b","keptOn":"","build":{"schemaVersion":1}}]}', /kept\[0\]\.id/],
    ['{"schemaVersion":1,"drawer":[{"id":"a","kind":"nock","name":"N","inputs":{"pointGr":5}}]}', /“N”: pointGr/],
    ['{"schemaVersion":1,"__proto__":{"kept":[]}}', /__proto__/],
    ["[]", /object/],
    ["17", /object/],
  ]) {
    await paste(page, text);
    await waitFor(page, "recovery-why", why);
    assert.equal(await read(page, "recovery-text"), text);
    assert.ok(await shown(page, "recovery"));
    await page.click("#recovery-close");
    assert.ok(!(await shown(page, "recovery")));
  }
  assert.deepEqual(await records(page), before);
  assert.deepEqual(page.complaints, []);
});

test("a list of an earlier version that is damaged is left as it is until it is put aside, and stops nothing", async () => {
  const context = await somebody();
  const page = await look(context);
  await keep(page, "Bow");
  const damaged = '{"schemaVersion":1,"kept":[{"id":"a","keptOn":"2026-05';
  await page.evaluate((text) => localStorage.setItem("clothyard.kept", text), damaged);
  const next = await look(context);
  await waitFor(next, "recovery-why", /Saved setups: .*not JSON/);
  assert.equal(await read(next, "recovery-text"), damaged);
  await keep(next, "Another");
  assert.equal(await next.evaluate(() => localStorage.getItem("clothyard.kept")), damaged);

  const folder = await downloads(next);
  await next.click("#recovery-save");
  assert.equal(readFileSync(await saved(folder, "clothyard-unread.txt"), "utf8"), damaged);
  await next.click("#recovery-drop");
  assert.equal(await next.evaluate(() => localStorage.getItem("clothyard.kept.unread")), damaged);
  assert.deepEqual(await names(next), ["Another", "Bow"]);
});

test("what an earlier version stored is moved entry by entry; one that cannot be read stays alone, and reachable", async () => {
  const context = await somebody();
  const page = await open(context, here.server.url);
  await waitForAnswers(page);
  const build = (name, inputs) => ({ schemaVersion: 1, name, inputs });
  await page.evaluate(
    (kept, drawer) => localStorage.setItem("clothyard.kept", JSON.stringify({ schemaVersion: 1, kept, drawer })),
    [
      { id: "18c-3", keptOn: "2026-05-03", build: build("Third", { pointGr: 125 }) },
      { id: "18b-2", keptOn: "2026-05-02", build: build("Second", { pointGr: -5 }) },
      { id: "18a-1", keptOn: "2026-05-01", build: build("First", { pointGr: 100 }) },
    ],
    [{ id: "18a-4", kind: "nock", name: "Pin", inputs: { nockGr: 9 } }],
  );
  await openView(page);
  await waitFor(page, "kept", /Third.*First/s);
  await waitFor(page, "drawer", /Pin/);
  await waitFor(page, "unread-records", /Cannot be read.*pointGr.*10 to 600/s);
  assert.equal(await page.evaluate(() => localStorage.getItem("clothyard.kept")), null);
  await keep(page, "Fourth");
  const folder = await downloads(page);
  await page.click('#unread-records [aria-label^="Save as file"]');
  assert.match(readFileSync(await saved(folder, "clothyard-unread.txt"), "utf8"), /"name":"Second"/);
  await page.reload();
  await openView(page);
  await waitFor(page, "kept", /Fourth.*Third.*First/s);
  await page.click('#unread-records [aria-label^="Delete"]');
  await waitFor(page, "keeping-said", /^Deleted\.$/);
  assert.deepEqual((await records(page)).kept.map(({ build: { name } }) => name), ["Fourth", "Third", "First"]);
  assert.deepEqual(page.complaints, []);
});

test("a setup of an earlier visit that cannot be read is shown until it is let go", async () => {
  const context = await somebody();
  const first = await open(context, here.server.url);
  await waitForAnswers(first);
  const damaged = '{"build":{"schemaVersion":1,"inputs":{"pointGr":';
  // Whatever the page keeps as it is left comes first.
  await first.goto("about:blank");
  await first.goto(`${here.server.url}style.css`);
  await first.evaluate((text) => localStorage.setItem("clothyard.setup", text), damaged);
  const page = await look(context);
  await waitFor(page, "recovery-why", /earlier visit could not be read/);
  assert.equal(await read(page, "recovery-text"), damaged);
  await page.click("#recovery-drop");
  assert.ok(!(await shown(page, "recovery")));
  assert.equal(await page.evaluate(() => localStorage.getItem("clothyard.setup.unread")), null);
});

test("a setup that a newer page left is shown and kept aside, and so is the next", async () => {
  const context = await somebody();
  const kept = (page, name) => page.evaluate((name) => localStorage.getItem(name), name);
  const newer = [2, 3].map((version) => `{"build":{"schemaVersion":${version},"marvel":true},"drafts":{}}`);
  for (const [place, text] of newer.entries()) {
    const first = await open(context, `${here.server.url}style.css`);
    await first.evaluate((text) => localStorage.setItem("clothyard.setup", text), text);
    await first.close();
    const page = await open(context, here.server.url);
    await waitForAnswers(page);
    await waitFor(page, "unread-why", new RegExp(`schemaVersion ${place + 2}: .*newer`));
    assert.equal(await read(page, "unread-text"), text);
    await point(page, "133");
    await page.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":133'));
    assert.equal(await kept(page, "clothyard.setup.unread"), newer[0]);
    await openView(page);
    await waitFor(page, "recovery-why", /earlier visit could not be read: schemaVersion 2/);
    await page.goto("about:blank");
    await page.close();
  }
  const page = await look(context);
  assert.equal(await kept(page, "clothyard.setup.unread.2"), newer[1], "no copy is written over another");
  assert.equal(await read(page, "pointGr"), "133");
});

test("a list written by a newer page is left for it", async () => {
  const context = await somebody();
  const page = await look(context);
  const newer = '{"schemaVersion":3,"shelves":[]}';
  await page.evaluate((text) => localStorage.setItem("clothyard.kept", text), newer);
  const next = await look(context);
  await waitFor(next, "recovery-why", /schemaVersion 3/);
  assert.ok(!(await shown(next, "recovery-drop")));
  await keep(next, "Bow");
  assert.equal(await next.evaluate(() => localStorage.getItem("clothyard.kept")), newer);
});

test("what the browser refuses to keep is said aloud", async () => {
  const page = await look(await somebody());
  await page.evaluate(() => {
    IDBObjectStore.prototype.put = () => {
      throw new DOMException("full", "QuotaExceededError");
    };
  });
  await type(page, "keep-name", "Bow");
  await press(page, "Enter");
  await waitFor(page, "keeping-said", /^Not saved: browser storage is full/);
});

test("a link opens beside one's own setup, and undo brings that back", async () => {
  const sender = await look(await somebody());
  await sender.select("#start", "blank");
  await type(sender, "peakDrawWeightLb", "47");
  await point(sender, "133");
  await type(sender, "keep-name", "Copy, of a bow & more");
  await waitFor(sender, "share-link", /name=Copy%2C%20of%20a%20bow%20%26%20more.*pointGr=133/);
  const link = await read(sender, "share-link");
  assert.ok(link.slice(link.indexOf("#")).length <= 2000);
  assert.match(link, /#v=1&name=.*&peakDrawWeightLb=47&/);

  const context = await somebody();
  const mine = await look(context);
  await point(mine, "201");
  await keep(mine, "Mine");
  await mine.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":201'));
  const before = await stored(mine, "clothyard.setup");
  await mine.close();

  const page = await open(context, link);
  await waitFor(page, "link-said", /^Setup from a link\. Your own setup is unchanged\.$/);
  assert.equal(await read(page, "pointGr"), "133");
  assert.equal(page.url(), here.server.url, "to load the page again does not open the link again");
  assert.deepEqual(await stored(page, "clothyard.setup"), before);
  await openViewAsItIs(page);
  assert.equal(await read(page, "keep-name"), "Copy, of a bow & more");
  assert.deepEqual(await names(page), ["Mine"]);
  await page.$eval("#undo", (button) => button.click());
  assert.equal(await read(page, "pointGr"), "201");
  await page.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":201'));
  assert.ok(!(await shown(page, "link")));
  await page.$eval("#redo", (button) => button.click());
  await page.waitForFunction(() => localStorage.getItem("clothyard.setup.link")?.includes('"pointGr":133'));
  assert.deepEqual(await stored(page, "clothyard.setup"), before);

  // One link after the other, and changes in both.
  await point(page, "134");
  await page.goto(`${here.server.url}#v=1&pointGr=77`);
  await waitFor(page, "pointGr", /^77$/);
  await point(page, "78");
  await page.waitForFunction(() => localStorage.getItem("clothyard.setup.link")?.includes('"pointGr":78'));
  await page.reload();
  await waitFor(page, "pointGr", /^78$/);
  assert.match(await read(page, "link-said"), /^Setup from a link/, "a reload keeps it where it was");
  assert.deepEqual(await stored(page, "clothyard.setup"), before);
  await page.click("#visit-leave");
  assert.equal(await read(page, "pointGr"), "201");
  assert.ok(!(await shown(page, "link")));

  await openViewAsItIs(page);
  await page.click("#keeping-load-link");
  assert.equal(await read(page, "pointGr"), "78", "it can be opened again");
  assert.deepEqual(page.complaints, []);
});

test("a setup from a link takes the place of one's own when asked, which can be restored", async () => {
  const context = await somebody();
  const mine = await look(context);
  await point(mine, "201");
  await mine.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":201'));
  await mine.close();
  const tab = await open(context, `${here.server.url}#v=1&pointGr=77`);
  await waitFor(tab, "link-said", /^Setup from a link/);
  const beside = await open(context, `${here.server.url}#v=1&pointGr=88`);
  await waitFor(beside, "link-said", /^Setup from a link/);
  await tab.bringToFront();
  await tab.click("#visit-keep");
  assert.ok(!(await shown(tab, "link")));
  assert.equal((await stored(tab, "clothyard.setup")).build.inputs.pointGr, 77);
  await openViewAsItIs(tab);
  await tab.click("#keeping-load-before");
  await waitFor(tab, "pointGr", /^201$/);
  await beside.bringToFront();
  await beside.reload();
  await waitFor(beside, "pointGr", /^88$/);
  const plain = await open(context, here.server.url);
  await waitFor(plain, "pointGr", /^201$/);
});

test("text of any length does not widen the page", async () => {
  const page = await look(await somebody());
  await page.setViewport({ width: 390, height: 800 });
  await keep(page, "W".repeat(80));
  await type(page, "drawer-name", "W".repeat(80));
  await press(page, "Enter");
  await page.$eval("#pointGr", (field) => {
    field.value = "9".repeat(10_000);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
  await paste(page, "x".repeat(10_000));
  await act(page, "kept", "W".repeat(80), "Open");
  for (const tool of ["keeping", "beside", "lessons", "sheet"]) {
    await openTool(page, tool);
    assert.deepEqual(await tooWide(page), [], tool);
  }
  await page.click("#place-back");
  assert.deepEqual(await tooWide(page), []);
  await page.goto(`${here.server.url}#v=1&${"w".repeat(1500)}=1`);
  await waitFor(page, "link-said", /could not be opened/);
  assert.deepEqual(await tooWide(page), []);
});

test("a bad link says what is wrong and leaves the setup alone", async () => {
  const context = await somebody();
  const mine = await look(context);
  await point(mine, "201");
  await mine.waitForFunction(() => localStorage.getItem("clothyard.setup")?.includes('"pointGr":201'));
  const before = await stored(mine, "clothyard.setup");
  await mine.close();
  for (const [fragment, why] of [
    ["v=2&pointGr=100", /version 2/],
    ["v=1&pointGr=-5", /pointGr.*10 to 600/],
    ["v=1&wonder=1", /wonder/],
    ["v=1&pointGr=NaN", /pointGr/],
    ["v=1&name=%E0%A4%A", /name/],
    [`v=1&name=${"a".repeat(2500)}`, /2500|2000/],
  ]) {
    const page = await open(context, `${here.server.url}#${fragment}`);
    await waitFor(page, "link-said", /^The link could not be opened, and nothing was changed: /);
    assert.match(await read(page, "link-said"), why);
    assert.ok(await page.$eval("#link", (notice) => notice.getBoundingClientRect().bottom < innerHeight), "where one looks");
    assert.equal(await read(page, "pointGr"), "201");
    assert.equal(page.url(), here.server.url);
    assert.deepEqual(await stored(page, "clothyard.setup"), before);
    assert.deepEqual(page.complaints, []);
    await page.close();
  }
});

test("numbers that no decimal writes short come through a link to the last bit", async () => {
  const context = await somebody();
  const page = await look(context);
  await type(page, "drawLengthIn", "72 cm");
  await press(page, "Tab");
  await waitFor(page, "share-link", /drawLengthIn=28\.34/);
  const link = await read(page, "share-link");
  const other = await open(await somebody(), link);
  await waitFor(other, "link-said", /^Setup from a link/);
  const { drawLengthIn } = (await stored(other, "clothyard.setup.link")).build.inputs;
  assert.equal(drawLengthIn, (await stored(page, "clothyard.setup")).build.inputs.drawLengthIn);
});

test("two tabs add to each other's list", async () => {
  const context = await somebody();
  const one = await look(context);
  const two = await look(context);
  await keep(one, "From one");
  await two.bringToFront();
  await waitFor(two, "kept", /From one/);
  await keep(two, "From two");
  await one.bringToFront();
  await waitFor(one, "kept", /From two/);
  await act(one, "kept", "From one", "Delete");
  await two.bringToFront();
  await type(two, "drawer-name", "Point of two");
  await press(two, "Enter");
  await waitFor(two, "drawer", /Point of two/);
  await one.bringToFront();
  await one.click("#keeping-put-back");
  await waitFor(one, "drawer", /Point of two/);
  assert.deepEqual((await names(one)).sort(), ["From one", "From two"]);
  const { kept, drawer } = await records(two);
  assert.deepEqual([kept.length, drawer.length], [2, 1]);
});

test("five tabs that save at once lose nothing of each other", async () => {
  const context = await somebody();
  const tabs = [];
  for (let tab = 0; tab < 5; tab += 1) tabs.push(await look(context));
  const save = (page, tab) =>
    page.evaluate(async (number) => {
      for (let count = 0; count < 20; count += 1) {
        document.getElementById("keep-name").value = `Bow ${number} ${count}`;
        document.getElementById("keep-form").requestSubmit();
        await new Promise((next) => setTimeout(next, 5));
      }
    }, tab);
  await Promise.all(tabs.map(save));
  for (const page of tabs) {
    await page.waitForFunction(() => document.querySelectorAll("#kept li").length === 100, { polling: 100 });
  }
  const { kept } = await records(tabs[0]);
  assert.equal(new Set(kept.map(({ build }) => build.name)).size, 100);
});

test("what was said to be saved is there after the browser was killed", async () => {
  const first = await launch();
  const page = await open(first.browser, here.server.url);
  await openView(page);
  await point(page, "137");
  await waitFor(page, "save-state", /^Saved in this browser\.$/);
  await keep(page, "Bow");
  await act(page, "kept", "Bow", "Rename");
  await type(page, "rename-name", "Kept bow");
  await press(page, "Enter");
  await waitFor(page, "keeping-said", /^Renamed to “Kept bow”/);
  const gone = new Promise((done) => first.browser.process().once("exit", done));
  first.browser.process().kill("SIGKILL");
  await gone;
  const second = await launch({ profile: first.profile });
  try {
    const again = await open(second.browser, here.server.url);
    await waitFor(again, "pointGr", /^137$/); // the database's setup comes a moment after the empty page
    await openView(again);
    await waitFor(again, "kept", /Kept bow/);
    assert.equal(await read(again, "pointGr"), "137");
  } finally {
    await second.browser.close();
  }
});

test("the link is copied, and drawn as a code", async () => {
  const context = await somebody();
  await context.overridePermissions(new URL(here.server.url).origin, ["clipboard-read", "clipboard-sanitized-write"]);
  const page = await look(context);
  await page.click("#share-copy");
  await waitFor(page, "keeping-said", /^Copied\.$/);
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), await read(page, "share-link"));
  assert.ok(await shown(page, "share-code"));
  // ISO/IEC 18004: a side of 17 cells and 4 for each version, within a margin of 4.
  const side = await page.$eval("#share-code", (code) => code.viewBox.baseVal.width);
  assert.ok(side >= 29 && (side - 8 - 17) % 4 === 0, side);
});

test("it works from the disk too", async () => {
  const page = await look(await somebody(), singleFile);
  await keep(page, "Bow");
  assert.match(await read(page, "share-note"), /opened from disk/);
  const folder = await downloads(page);
  await page.click("#backup-one");
  assert.equal(JSON.parse(readFileSync(await saved(folder, "clothyard-Bow.json"), "utf8")).name, "Bow");
  await page.goto(`${singleFile}#v=1&pointGr=77`);
  await waitFor(page, "pointGr", /^77$/);
  assert.equal(page.url(), singleFile);
  assert.deepEqual(page.complaints, []);
});

for (const [state, prepare] of Object.entries({
  empty: async () => {},
  "with entries, a name being changed and a text that cannot be read": async (page) => {
    await keep(page, "One");
    await keep(page, "Two");
    await page.click("#drawer-put");
    await paste(page, "no");
    await act(page, "kept", "One", "Rename");
  },
  "in the dark": (page) => page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: "dark" }]),
  "at 320 px": async (page) => {
    await page.setViewport({ width: 320, height: 640 });
    await keep(page, "A name that is long enough to need more than one line");
    await page.click("#drawer-put");
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
  },
})) {
  test(`axe-core finds nothing in the view ${state}`, async () => {
    const into = async (page) => {
      await openView(page);
      await prepare(page);
      await page.evaluate(() => scrollTo(0, 0)); // what is scrolled half under the bar has not too small a target
    };
    assert.deepEqual(await audit(await somebody(), here.server.url, into), []);
  });
}

test("printing shows the saved setups and no more of the view", async () => {
  const page = await look(await somebody());
  await keep(page, "Bow");
  await page.emulateMediaType("print");
  const printed = await page.$$eval(".keeping > *", (all) => all.filter((each) => each.checkVisibility()).map((each) => each.id));
  assert.deepEqual(printed, ["kept-setups"]);
  assert.match(await read(page, "kept"), /Bow/);
  assert.ok(!(await shown(page, "kept button")));
});
