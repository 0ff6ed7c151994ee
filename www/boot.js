import init, { start, count_changes, current_build, current_evaluation, load_build, current_units } from "./clothyard.js";

// The views are loaded when one is first opened, so that the first answer does not wait for them.
const importViews = () => import("./clothyard_views.js");

// Starts the calculator and, on a site, keeps it for use without a connection.
// The build puts this file and clothyard.js into the single-file page too, where the wasm stands in the page itself.

const element = (id) => document.getElementById(id);

function say(text) {
  element("offline-state").textContent = text;
}

// From the page itself in the single file, else from beside it.
function wasm(id, file) {
  const inPage = element(id);
  if (!inPage) return { module_or_path: fetch(file) };
  return { module_or_path: Uint8Array.from(atob(inPage.textContent), (character) => character.charCodeAt(0)) };
}

async function startCalculator() {
  await init(wasm("wasm", "clothyard_bg.wasm"));
  start();
  document.addEventListener("toggle", readOpened, { capture: true });
  window.addEventListener("hashchange", readLink);
  readLink();
  if (document.querySelector("[data-view][open], [data-view] > [open]")) startViews();
}

// The markup says with data-view which sections the views fill.
function readOpened({ target }) {
  if (target.closest("[data-view]")) startViews();
}

// A link to a set-up or a lesson is read by the part that writes them.
function readLink() {
  if (/[#&](v|lesson)=/.test(location.hash)) startViews();
}

// A single file has no second one to start a worker from.
function start_worker() {
  return element("wasm") ? undefined : new Worker(workerAddress("views-worker.js"), { type: "module" });
}

let views;

function startViews() {
  views ??= importViews().then(async ({ default: initViews, start_views }) => {
    await initViews(wasm("wasm-views", "clothyard_views_bg.wasm"));
    start_views({ count_changes, current_build, current_evaluation, load_build, current_units, start_worker });
  });
  views.catch(showFailure);
}

function showFailure(error) {
  console.error(error);
  const message = element("start-failed");
  message.textContent = `The calculator could not start, so nothing below is worked out. The reason given: ${error}`;
  message.hidden = false;
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

async function keepOffline() {
  const registration = await navigator.serviceWorker.register(workerAddress("sw.js"), { updateViaCache: "none" });
  if (registration.active) {
    offerUpdates(registration);
  } else {
    await announceFirst(registration);
  }
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) registration.update().catch(() => {}); // no connection: ask again another time
  });
}

function finished(worker) {
  return new Promise((resolve) => {
    const look = () => ["activated", "redundant"].includes(worker.state) && resolve(worker.state);
    worker.addEventListener("statechange", look);
    look();
  });
}

async function announceFirst(registration) {
  await finished(registration.installing ?? registration.waiting);
  const kept = await caches.match("./");
  say(kept ? "Ready to work offline" : "This page is not kept for use offline");
  if (kept) offerUpdates(registration);
}

// A new version waits until it is asked for, so that nothing changes under somebody's hands.
function offerUpdates(registration) {
  const offer = () => {
    say("Update ready");
    element("update").hidden = false;
  };
  const watch = (worker) => worker?.addEventListener("statechange", () => worker.state === "installed" && offer());
  if (registration.waiting) offer();
  watch(registration.installing);
  registration.addEventListener("updatefound", () => watch(registration.installing));
  element("update-later").addEventListener("click", () => {
    say("");
    element("update").hidden = true;
  });
  element("update-now").addEventListener("click", () => {
    const reload = () => {
      window.dispatchEvent(new Event("clothyard-save"));
      location.reload();
    };
    navigator.serviceWorker.addEventListener("controllerchange", reload, { once: true });
    if (registration.waiting) registration.waiting.postMessage("take over");
    else reload(); // another tab has let it take over already
  });
}

// Inside another page's frame: tells that page how high this one is, so that it need not scroll within.
function tellHeight() {
  const tell = () => window.parent.postMessage({ clothyard: "height", pixels: document.documentElement.scrollHeight }, "*");
  new ResizeObserver(tell).observe(document.body);
}

startCalculator().catch(showFailure);
if (window.parent !== window) tellHeight();
if (canWorkOffline()) keepOffline().catch((error) => say(`This page is not kept for use offline: ${error.message}`));
