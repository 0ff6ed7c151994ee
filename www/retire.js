// Ends offline use: put this in place of sw.js on the server, and every browser that comes back lets go of the page.
// Needed when the site moves or closes, or should a broken worker ever have to be withdrawn. Inputs are left alone.

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(letGo()));

async function isOurs(name) {
  const prefix = `clothyard${new URL(registration.scope).pathname}`;
  if (name.startsWith(prefix)) return !name.slice(prefix.length).includes("/");
  // One of an earlier version has no folder in its name.
  return name.startsWith("clothyard-") && Boolean(await (await caches.open(name)).match("./", { ignoreVary: true }));
}

async function letGo() {
  for (const name of await caches.keys()) if (await isOurs(name)) await caches.delete(name);
  await registration.unregister();
}
