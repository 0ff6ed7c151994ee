// Keeps the setup on disk. What the browser's storage takes at once is lost if the browser is killed within seconds; its
// database says when the disk has it. At the next visit the newer of the two counts.

const SETUP = "clothyard.setup";
// When the setup in the storage was stored.
const TIME = "clothyard.setup.time";
const STORE = "records";
const KEY = "setup";

const inFolder = (name) => name + (document.documentElement.dataset.folder ?? "");

// A later change that is not saved yet has its own end to wait for.
function say(words) {
  const state = document.getElementById("save-state");
  if (!state.hasAttribute("data-unsaved")) state.textContent = words;
}

function done(request, ready) {
  return new Promise((resolve, reject) => {
    request[ready] = () => resolve(request.result);
    request.onerror = request.onabort = () => reject(request.error);
  });
}

async function openDatabase() {
  const request = indexedDB.open(inFolder("clothyard"), 1);
  request.onupgradeneeded = () => request.result.createObjectStore(STORE);
  return done(request, "onsuccess");
}

// Calls `load` with a setup that is newer in the database than what the storage has, and stores from then on whenever
// the calculator has.
export async function keepSetup(load) {
  const database = await openDatabase().catch(() => undefined);
  window.addEventListener("clothyard-saved", () => store(database));
  if (!database) return;
  database.onversionchange = () => database.close();
  await restore(database, load);
}

async function restore(database, load) {
  const kept = await done(database.transaction(STORE).objectStore(STORE).get(KEY), "onsuccess");
  if (!kept || kept.time <= Number(localStorage.getItem(inFolder(TIME)))) {
    const text = localStorage.getItem(inFolder(SETUP)); // stored before this file was there, or by an earlier version
    if (text && text !== kept?.text) await store(database);
    return;
  }
  localStorage.setItem(inFolder(SETUP), kept.text);
  localStorage.setItem(inFolder(TIME), kept.time);
  if (!sessionStorage.getItem(inFolder("clothyard.setup.link"))) load(JSON.parse(kept.text).build);
}

async function store(database) {
  const kept = { time: Date.now(), text: localStorage.getItem(inFolder(SETUP)) };
  try {
    localStorage.setItem(inFolder(TIME), kept.time);
    const transaction = database.transaction(STORE, "readwrite", { durability: "strict" });
    transaction.objectStore(STORE).put(kept, KEY);
    await done(transaction, "oncomplete");
    say("Saved in this browser.");
  } catch {
    say("Saved in this browser, if it is closed in the usual way.");
  }
}

// What an earlier version stored has no folder in its name; the first visit copies it. Without room for the copies
// the page stays with what is there.
export function copyStoreTo(folder) {
  const copied = [];
  try {
    const names = Object.keys(localStorage).filter((name) => name.startsWith("clothyard"));
    if (names.some((name) => name.endsWith(folder))) return true;
    for (const name of names.filter((each) => !each.includes("/"))) {
      localStorage.setItem(name + folder, localStorage.getItem(name));
      copied.push(name + folder);
    }
    return true;
  } catch {
    for (const name of copied) localStorage.removeItem(name);
    return false;
  }
}
