// Keeps the page for use without a connection: after one visit everything is here, whole, or nothing is.
// The build writes in its own hash and the list of files with theirs, so a new build is a new worker and a new cache.
// The cache has the page's folder in its name, so that two pages on one host leave each other alone.

const FOLDER = new URL(registration.scope).pathname;
const PREFIX = `clothyard${FOLDER}`;
const CACHE = PREFIX + "BUILD";
const FILES = "FILES";
const PAGE = "./";
// Whatever headers a server sends, there is one version of each file.
const ANY = { ignoreSearch: true, ignoreVary: true };

// The file of this page that an address names, if it is one.
function fileAt(url) {
  const { origin, pathname } = new URL(url);
  if (origin !== location.origin || !pathname.startsWith(FOLDER)) return undefined;
  const name = pathname.slice(FOLDER.length);
  if (name === "" || name === "index.html") return PAGE;
  return Object.hasOwn(FILES, name) ? name : undefined;
}

// Past the browser's own cache, and only with the bytes of this build: a half-finished upload is not kept.
const whole = (name) => new Request(name, { cache: "reload", integrity: FILES[name] });

async function keepAll() {
  await (await caches.open(CACHE)).addAll(Object.keys(FILES).map(whole));
}

// Browsers lose files: what is missing is fetched again, and the page is told whether all of it is here.
async function fillHoles() {
  const cache = await caches.open(CACHE);
  const fill = async (name) => (await cache.match(name, ANY)) ?? cache.add(whole(name));
  const tried = await Promise.allSettled(Object.keys(FILES).map(fill));
  return tried.every(({ status }) => status === "fulfilled");
}

// A cache of an earlier version had no folder in its name; it is this page's if this page is in it.
async function isOlder(name) {
  if (name.startsWith(PREFIX)) return name !== CACHE && !name.slice(PREFIX.length).includes("/");
  return name.startsWith("clothyard-") && Boolean(await (await caches.open(name)).match(PAGE, ANY));
}

async function dropOlder() {
  for (const name of await caches.keys()) if (await isOlder(name)) await caches.delete(name);
  await clients.claim();
}

async function answer(name, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(name, ANY)) ?? fetchMissing(cache, name, request);
}

// A file that is lost comes from the server, if it still has this build. If it has another, all of this build is let
// go, so that the next load is of one build.
async function fetchMissing(cache, name, request) {
  try {
    const found = await fetch(whole(name));
    if (found.ok) await cache.put(name, found.clone()).catch(() => {});
    return found;
  } catch {
    const other = await fetch(request);
    const mixed = other.ok && name !== PAGE && (await cache.match(PAGE, ANY));
    if (!mixed) return other;
    await caches.delete(CACHE);
    return Response.error();
  }
}

self.addEventListener("install", (event) => event.waitUntil(keepAll()));
self.addEventListener("activate", (event) => event.waitUntil(dropOlder()));
self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
  if (event.data === "look after") event.waitUntil(fillHoles().then((done) => event.ports[0].postMessage(done)));
});
self.addEventListener("fetch", (event) => {
  const name = event.request.method === "GET" && fileAt(event.request.url);
  if (name) event.respondWith(answer(name, event.request));
});
