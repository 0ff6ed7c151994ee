// Keeps the page for use without a connection, says whether it is kept, and offers updates.

// A worker that does not answer within this time does not know the question.
const ANSWER_MS = 4500;

// The worker that takes over a page on its first visit brings no update.
const controlled = Boolean(navigator.serviceWorker.controller);

const element = (id) => document.getElementById(id);

function say(id, text) {
  element(id).textContent = text;
}

// Fetches the worker; `workerAddress` gives an address that the page's policy lets a worker have, `onOutdated` is called
// when another tab has brought an update.
export async function keepOffline(workerAddress, onOutdated) {
  const registration = await navigator.serviceWorker.register(workerAddress("sw.js"), { updateViaCache: "none" });
  const first = !registration.active;
  if (first) await finished(registration.installing ?? registration.waiting);
  else offerUpdates(registration, onOutdated);
  const whole = registration.active && (await lookAfter(registration.active));
  if (!whole && !registration.waiting) say("offline-state", "Offline use is not ready");
  if (whole && first) {
    say("offline-state", "Ready to work offline");
    offerUpdates(registration, onOutdated);
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

// The worker fetches what the browser has lost, and says whether all is there. One that does not know the question is
// judged by whether it keeps the page.
function lookAfter(worker) {
  const { port1, port2 } = new MessageChannel();
  worker.postMessage("look after", [port2]);
  return new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(() => caches.match("./", { ignoreVary: true }).then(resolve), ANSWER_MS);
  });
}

// A new version waits until it is asked for, so that nothing changes under somebody's hands.
function offerUpdates(registration, onOutdated) {
  const offer = (words) => {
    say("offline-state", words);
    element("update").hidden = false;
  };
  const offerReady = () => offer("Update ready");
  const watch = (worker) => worker?.addEventListener("statechange", () => worker.state === "installed" && offerReady());
  if (registration.waiting) offerReady();
  watch(registration.installing);
  registration.addEventListener("updatefound", () => watch(registration.installing));
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (!controlled) return;
    onOutdated();
    offer("Updated in another tab. Reload to use it");
  });
  element("update-later").addEventListener("click", () => {
    say("offline-state", "");
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
