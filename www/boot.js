import init, { start, count_changes, current_build, current_evaluation, load_build, current_units } from "./clothyard.js";

// The tools are loaded when one is first opened, so that the first answer does not wait for them. An import that failed
// is remembered under its address, and a request that hangs holds up others for the same, so a second try needs another.
const again = (file, tries) => (tries ? `${file}?${tries}` : file);
const importViews = (tries) => import(again("./clothyard_views.js", tries));

// Starts the calculator; on a site, offline.js keeps it for use without a connection.
// The build puts this file and clothyard.js into the single-file page too, where the wasm is in the page itself.

const element = (id) => document.getElementById(id);

function say(id, text) {
  element(id).textContent = text;
}

// From the page itself in the single file, else from beside it.
function wasm(id, file) {
  const inPage = element(id);
  if (!inPage) return { module_or_path: fetch(file) };
  return { module_or_path: Uint8Array.from(atob(inPage.textContent), (character) => character.charCodeAt(0)) };
}

async function startCalculator() {
  await Promise.all([storeByFolder(), init(wasm("wasm", "clothyard_bg.wasm"))]);
  // Before the calculator hears of a click, what it leads to must be in sight.
  document.addEventListener("click", followFromPlace, { capture: true });
  start();
  element("start-failed").hidden = true;
}

function openFromAddress() {
  import("./keep.js").then(({ keepSetup }) => keepSetup(load_build)).catch(console.error);
  window.addEventListener("hashchange", readLink);
  element("tools-again").addEventListener("click", loadAgain);
  attachRest();
}

// What the first answer did not need follows: the fields of the parts, the list of tools, units, search and help.
function attachRest() {
  loadMore().then(readLink, showFailureToLoad);
}

// Two copies of the page on one host keep apart: what is stored carries the page's folder in its name. A page in the top
// folder needs none, nor does a file on disk, which may be moved.
async function storeByFolder() {
  const folder = location.protocol.startsWith("http") ? new URL(".", location).pathname : "/";
  if (folder === "/") return;
  const { copyStoreTo } = await import("./keep.js");
  if (copyStoreTo(folder)) document.documentElement.dataset.folder = folder;
}

// What is not on the page is a tool, or something in one. A link to a setup or a lesson is read by the part that writes them.
function readLink() {
  const id = location.hash.slice(1);
  if (id && !element(id)) loadTools().then(() => id === location.hash.slice(1) && goTo(id), showFailureToLoad);
  else goTo(id);
}

const isInPlace = (id) => element(id)?.closest("#place");

function goTo(id) {
  if (isInPlace(id)) openPlace(element(id));
  else leavePlace();
}

// Where the page was, and what had the focus, when a tool was opened.
let left;
// The id of the link by which a tool was left for a field: back in the tool, the focus returns to it.
let leftBy = "";

// A tool, or a section of tools, has the window to itself while the address names it or something in it.
function openPlace(target) {
  const root = document.documentElement;
  left ??= { focus: document.activeElement, top: scrollY };
  closePlace();
  const section = target.closest("[data-view]");
  const only = section.querySelectorAll(":scope > .view").length === 1 ? section.querySelector(".view") : null;
  const tool = target.closest(".view") ?? only;
  const place = tool ?? section;
  section.classList.add("here");
  place.classList.add("here");
  if (!tool) section.querySelectorAll(":scope > [data-left-open]").forEach((view) => (view.open = true));
  if (tool) {
    tool.open = true;
    tool.querySelector("summary").tabIndex = -1; // here it is only the heading
  }
  element("place").classList.toggle("one", tool !== null);
  element("place").hidden = false;
  root.dataset.place = place.id;
  const heading = place.querySelector("h2, h3");
  heading.tabIndex = -1;
  const hand = place.contains(target) && target !== place ? target : (place.contains(element(leftBy)) && element(leftBy)) || heading;
  if (hand === heading) scrollTo(0, 0);
  else hand.scrollIntoView({ block: "center" });
  hand.focus({ preventScroll: true });
}

// What a tool holds stays in it; it need not follow the page while it is closed.
function closePlace() {
  for (const each of document.querySelectorAll("#place .here")) {
    each.classList.remove("here");
    each.querySelector("summary").tabIndex = 0;
    for (const view of each.querySelectorAll(":scope > .view")) {
      if (!element("place").classList.contains("one")) view.toggleAttribute("data-left-open", view.open);
      view.open = false;
    }
  }
}

function leavePlace() {
  if (!left) return;
  closePlace();
  element("place").hidden = true;
  delete document.documentElement.dataset.place;
  scrollTo(0, left.top);
  left.focus.focus?.({ preventScroll: true });
  left = undefined;
  window.dispatchEvent(new Event("resize")); // what was out of sight could not be measured
}

// A link to a tool is the browser's own. One from a tool to a field, or back, leaves the tool; the browser's Back returns to it.
function followFromPlace(event) {
  const link = event.target.closest("a[href^='#'], svg [data-group]");
  const id = link?.getAttribute("href")?.slice(1);
  const toTool = id && (!element(id) || isInPlace(id));
  if (left && link && !toTool) {
    if (id === "") event.preventDefault();
    leftBy = link.id;
    history.pushState(null, "", location.href.split("#")[0]);
    leavePlace();
  }
}

// A page that shows nothing for longer than this says why.
const LATE_MS = 4500;

let more;
let tools;
let tries = 0;
// Another tab has brought an update: its files are not for this page.
let outdated = false;

function loadMore() {
  more ??= unlessLate(bringMore(), "Part of the page has not arrived yet; the calculator works without it.");
  return more;
}

function loadTools() {
  if (!tools) {
    element("tools-failed").hidden = true;
    say("tools-state", "Opening the tools …");
    tools = unlessLate(bringTools(), "The tools have not arrived yet; the calculator works without them.");
  }
  return tools;
}

function unlessLate(coming, words) {
  const late = setTimeout(showProblem, LATE_MS, words);
  return coming.finally(() => clearTimeout(late));
}

function forget() {
  if (!element("finder")) more = undefined;
  tools = undefined;
  tries += 1;
}

function loadAgain() {
  forget();
  element("tools-failed").hidden = true;
  attachRest();
}

async function bringMore() {
  const parts = await bringMarkup("more");
  if (element("finder")) return; // an earlier try has come through after all
  for (const part of parts) {
    const place = element(part.id);
    if (place) place.replaceWith(part);
    else document.body.append(part);
  }
  window.dispatchEvent(new Event("clothyard-markup"));
  element("tools-failed").hidden = true;
}

// The page has its tools when all of them is there: markup, style and the views that fill it.
async function bringTools() {
  if (outdated) throw new Error("the page was updated in another tab; reload it");
  const [[place], views] = await Promise.all([bringMarkup("tools"), importViews(tries), loadMore()]);
  await views.default(wasm("wasm-views", again("clothyard_views_bg.wasm", tries)));
  if (!element("place")) startTools(place, views); // an earlier try may have come through after all
  element("tools-failed").hidden = true;
  say("tools-state", "");
}

function startTools(place, views) {
  document.body.append(place);
  try {
    window.dispatchEvent(new Event("clothyard-markup"));
    views.start_views({ count_changes, current_build, current_evaluation, load_build, current_units, start_worker });
  } catch (error) {
    place.remove();
    throw error;
  }
}

// The elements of more.html or tools.html, once their style is there: from the page itself in the single file, else from
// beside it. The page's policy lets no text become markup; a document that the browser has read itself may be taken over.
async function bringMarkup(name) {
  const inPage = element(`${name}-markup`);
  const [whole] = inPage ? [inPage.content] : await Promise.all([readPage(`${name}.html`), addStyle(`${name}.css`)]);
  return [...document.importNode(whole, true).children];
}

async function readPage(file) {
  const request = new XMLHttpRequest();
  request.open("GET", again(file, tries));
  request.responseType = "document";
  await new Promise((done) => {
    request.onloadend = done;
    request.send();
  });
  if (request.status !== 200) throw new Error(`${file} did not come: ${request.status || "no connection"}`);
  return request.response.body;
}

async function addStyle(file) {
  const sheet = Object.assign(document.createElement("link"), { rel: "stylesheet", href: again(file, tries) });
  await new Promise((done, fail) => {
    sheet.onload = done;
    sheet.onerror = () => fail(new Error(`${file} did not come`));
    document.head.append(sheet);
  });
}

function showFailureToLoad(error) {
  console.error(error);
  const what = element("finder") ? "The tools could not be loaded; the calculator works without them." : "Part of the page could not be loaded.";
  forget();
  showProblem(`${what} Reason: ${error}`);
}

function showProblem(words) {
  say("tools-state", "");
  say("tools-failed-why", words);
  element("tools-failed").hidden = false;
  element("tools-failed").scrollIntoView({ block: "nearest" });
}

// A single file has no second one to start a worker from.
function start_worker() {
  return element("wasm") ? undefined : new Worker(workerAddress("views-worker.js"), { type: "module" });
}

function showFailure(error) {
  console.error(error);
  say("start-failed-why", `The calculator could not start, so there are no results. Reason: ${error}`);
  element("start-failed").classList.remove("late");
}

function canWorkOffline() {
  return !element("wasm") && window.isSecureContext && "serviceWorker" in navigator;
}

const WORKERS = ["sw.js", "views-worker.js"];

let policy;

// The page's policy takes a worker's address only from here, and only these.
function workerAddress(name) {
  const createScriptURL = (address) => {
    if (!WORKERS.includes(address)) throw new TypeError(`${address} is no worker of this page`);
    return address;
  };
  policy ??= window.trustedTypes ? trustedTypes.createPolicy("sw", { createScriptURL }) : { createScriptURL };
  return policy.createScriptURL(name);
}

// Inside another page's frame: tells that page how high this one is, so that it need not scroll within.
function tellHeight() {
  const tell = () => window.parent.postMessage({ clothyard: "height", pixels: document.documentElement.scrollHeight }, "*");
  new ResizeObserver(tell).observe(document.body);
}

// The answer in one line, while the answer itself is out of sight; on its side a phone keeps the answer in sight.
new IntersectionObserver(([{ isIntersecting }]) => {
  element("line").hidden = isIntersecting || !element("line").textContent;
}).observe(element("answer"));

element("start-again").addEventListener("click", (event) => {
  event.preventDefault(); // the link itself works without a script, but leaves what the address holds behind
  location.reload();
});

// The foot of every printed page says whose setup it is, and when it was printed.
window.addEventListener("beforeprint", () => {
  const words = [current_build().name, new Date().toLocaleDateString()].filter(Boolean).join(", ");
  const paper = new CSSStyleSheet();
  paper.replaceSync(`@page { @bottom-right { content: ${JSON.stringify(words)}; font: 8pt sans-serif; } }`);
  document.adoptedStyleSheets = [paper];
});

startCalculator().then(openFromAddress, showFailure);
if (window.parent !== window) tellHeight();
if (canWorkOffline()) {
  import("./offline.js")
    .then(({ keepOffline }) => keepOffline(workerAddress, () => (outdated = true)))
    .catch((error) => say("offline-state", `Offline use is not ready: ${error.message}`));
}
