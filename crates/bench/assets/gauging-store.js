// What this phone keeps: figures waiting to be sent, what was sent, and what it was told of the
// engine. It stays when the tab is closed and when the phone is started again.

const NAME = "pinchbar-gauging";
let opened;

const done = (request) => new Promise((yes, no) => {
  request.onsuccess = () => yes(request.result);
  request.onerror = () => no(request.error);
});

function open() {
  opened ??= new Promise((yes, no) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("waiting", { keyPath: "key" });
      asked.result.createObjectStore("sent", { keyPath: "key" });
      asked.result.createObjectStore("kept");
    };
    asked.onsuccess = () => {
      // A newer page in another tab may need another shape: let it.
      asked.result.onversionchange = () => { asked.result.close(); opened = undefined; };
      yes(asked.result);
    };
    asked.onerror = () => { opened = undefined; no(asked.error); };
  });
  return opened;
}

/** Does something with stores in one transaction; what it gives is given once it is on the disk. */
async function together(names, act) {
  const db = await open();
  const tx = db.transaction(names, "readwrite", { durability: "strict" });
  const settled = new Promise((yes, no) => {
    tx.oncomplete = yes;
    tx.onabort = () => no(tx.error ?? new Error("not kept"));
  });
  const result = await act(...names.map((n) => tx.objectStore(n)));
  await settled;
  return result;
}

export const keep = (name, value) => together(["kept"], (kept) => done(kept.put(value, name)));
export const kept = (name) => together(["kept"], (store) => done(store.get(name)));

/** Figures waiting, oldest first. */
export async function waiting() {
  const all = await together(["waiting"], (store) => done(store.getAll()));
  return all.sort((a, b) => a.at - b.at);
}

/** What was sent in the last days, newest first. */
export async function sent() {
  const all = await together(["sent"], (store) => done(store.getAll()));
  return all.sort((a, b) => b.at - a.at);
}

/** A key that no other entry has. */
export function freshKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}

let last = 0;
/** Puts a figure in the queue; once this is done it survives. */
export function add(item) {
  last = Math.max(last + 1, Date.now());
  const whole = { ...item, key: item.key ?? freshKey(), at: last, tried: false, refused: null };
  return together(["waiting"], (store) => done(store.add(whole))).then(() => whole);
}

/** Takes back what has not been sent; false when it has, or may have been. */
export const takeBack = (key) => together(["waiting"], async (store) => {
  const item = await done(store.get(key));
  if (!item || (item.tried && !item.refused)) return false;
  await done(store.delete(key));
  return true;
});

/** Notes that it is about to be sent as this person; false when it was taken back meanwhile. */
export const aboutToSend = (key, author) => together(["waiting"], async (store) => {
  const item = await done(store.get(key));
  if (!item || item.refused) return false;
  await done(store.put({ ...item, author: item.author ?? author, tried: true }));
  return true;
});

/** Notes why it was refused; it stays. */
export const refuse = (key, refused) => together(["waiting"], async (store) => {
  const item = await done(store.get(key));
  if (item) await done(store.put({ ...item, refused }));
});

/** Tries a refused one again. */
export const tryAgain = (key) => together(["waiting"], async (store) => {
  const item = await done(store.get(key));
  if (item) await done(store.put({ ...item, refused: null }));
});

const KEPT_SENT = 300;
/** It is in the book: out of the queue and into the list of what was sent, at once. */
export const written = (item, answer) => together(["waiting", "sent"], async (queue, list) => {
  await done(queue.delete(item.key));
  await done(list.put({ ...item, entry: answer.entry, hash: answer.hash }));
  const all = await done(list.getAll());
  const old = all.sort((a, b) => b.at - a.at).slice(KEPT_SENT);
  for (const o of old) await done(list.delete(o.key));
});
