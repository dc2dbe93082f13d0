// Keeps the gauging pages for when the bench is out of range. Figures are not its business: the
// page keeps and sends those itself.
//
// It has the whole bench for its scope, for a tag's address stands outside the gauging pages; it
// answers for these alone, and leaves every other page to the bench.

const ASSETS = ["ASSETS"];
const SHELL = "/gauging/-/shell";
// A new version has other addresses, and so a name of its own.
const VERSION = ASSETS.join().split("").reduce((sum, c) => (Math.imul(sum, 31) + c.charCodeAt(0)) | 0, 7);
const CACHE = `pinchbar-gauging-${VERSION >>> 0}`;
// What can be gauged goes by these addresses: the pages themselves, and what is printed on tags and
// gauge sheets.
const OURS = /^\/(gauging(\/feature)?(\/[^/]+)?|(tag|thing|gauge)\/[^/]+)\/?$/;
// So long is waited for a page before the kept one is shown.
const PATIENCE_MS = 4000;

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(CACHE);
    await cache.addAll(ASSETS);
    const shell = await fetch(SHELL, { cache: "no-store", redirect: "error" });
    if (!shell.ok) throw new Error("the page could not be kept");
    await cache.put(SHELL, shell);
    await self.skipWaiting();
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("pinchbar-gauging-") && name !== CACHE) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

async function page(request) {
  const shell = async () => (await caches.match(SHELL)) ?? Response.error();
  const slow = new Promise((yes) => setTimeout(yes, PATIENCE_MS, null));
  try {
    return (await Promise.race([fetch(request), slow])) ?? (await shell());
  } catch {
    return shell();
  }
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (request.mode === "navigate") {
    if (OURS.test(address.pathname)) event.respondWith(page(request));
  } else if (ASSETS.includes(address.pathname)) {
    // Their address has a hash of their content: the kept one is the right one.
    event.respondWith((async () => (await caches.match(address.pathname)) ?? fetch(request))());
  }
});
