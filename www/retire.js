// Ends offline use: put this in place of sw.js on the server, and every browser that comes back lets go of the page.
// Needed when the site moves or closes, or should a broken worker ever have to be withdrawn. Inputs are left alone.

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(letGo()));

async function letGo() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith("clothyard-")).map((name) => caches.delete(name)));
  await registration.unregister();
}
