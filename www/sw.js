// Keeps the page for use without a connection: after one visit everything is here, whole, or nothing is.
// The build writes in its own hash and the list of files with theirs, so a new build is a new worker and a new cache.

const PREFIX = "clothyard-";
const CACHE = PREFIX + "BUILD";
const FILES = "FILES";

async function keepAll() {
  const cache = await caches.open(CACHE);
  // Past the browser's own cache, and only with the bytes of this build: a half-finished upload is not kept.
  const whole = ([name, integrity]) => new Request(name, { cache: "reload", integrity });
  await cache.addAll(Object.entries(FILES).map(whole));
}

async function dropOthers() {
  const old = (name) => name.startsWith(PREFIX) && name !== CACHE;
  await Promise.all((await caches.keys()).filter(old).map((name) => caches.delete(name)));
  await clients.claim();
}

async function answer(request) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(request, { ignoreSearch: true });
  if (kept) return kept;
  // However the page was reached (index.html, an old link), it is the same page.
  return (request.mode === "navigate" && (await cache.match("./"))) || fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(keepAll()));
self.addEventListener("activate", (event) => event.waitUntil(dropOthers()));
self.addEventListener("message", (event) => event.data === "take over" && self.skipWaiting());
self.addEventListener("fetch", (event) => {
  const ours = new URL(event.request.url).origin === location.origin;
  if (ours && event.request.method === "GET") event.respondWith(answer(event.request));
});
