/* global PAGE, PARTS */
/*
 * Keeps the check sheet's page at hand, so that it opens without a connection.
 *
 * The site writes the page's address and the list of its parts above this script.
 * Only that page and what it is made of are kept: no other page, no sheet, no photo. What
 * is on the site comes first; what is kept stands in when the site does not answer.
 */

const KEPT = "check sheet page";
const PATIENCE = 6000; // milliseconds for which a weak signal is waited for

/** Keep `response` if it is what was asked for: a way to sign in instead is not. */
async function keep(request, response) {
  if (response.ok && !response.redirected && response.type === "basic") {
    const cache = await caches.open(KEPT);
    await cache.put(request, response.clone());
  }
  return response;
}

/** Ask the site; what is kept stands in if it fails or takes too long. */
async function siteFirst(request, name) {
  const asked = fetch(request).then((response) => keep(name, response));
  const kept = await caches.match(name, { cacheName: KEPT, ignoreVary: true });
  if (!kept) return asked;
  const late = new Promise((resolve) => setTimeout(() => resolve(kept), PATIENCE));
  return Promise.race([asked.catch(() => kept), late]);
}

async function begin() {
  for (const part of [PAGE, ...PARTS]) await keep(part, await fetch(part));
  await self.skipWaiting();
}

self.addEventListener("install", (event) => event.waitUntil(begin()));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const path = new URL(request.url).pathname;
  if (request.method !== "GET") return;
  if (path === PAGE || PARTS.includes(path)) event.respondWith(siteFirst(request, path));
});
