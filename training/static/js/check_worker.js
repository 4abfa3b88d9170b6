/* global PAGE, PARTS, SIGN_IN */
/*
 * Keeps the check sheet's page at hand, so that it opens without a connection, and at once on a
 * weak one.
 *
 * The site writes the page's address, the list of its parts and where one signs in above this
 * script. Only that page and what it is made of are kept: no other page, no sheet, no photo.
 * What is kept is shown at once. Behind it the site is asked, and what it has now is kept for the
 * next time, all of it or nothing, so that no page runs with the parts of another.
 */

const KEPT = "check sheet page";

/** Return what the site has at `name`; throw if that is not what was asked for. */
async function asked(name) {
  const response = await fetch(name, { cache: "no-cache" });
  // A way to sign in instead is not.
  if (!response.ok || response.redirected || response.type !== "basic") throw new Error(`not ${name}`);
  return response;
}

/** Fetch the page and all its parts, and keep them in place of what was kept. */
async function fetchAll(page = null) {
  const fetched = [[PAGE, page ?? (await asked(PAGE))]];
  for (const part of PARTS) fetched.push([part, await asked(part)]);
  const cache = await caches.open(KEPT);
  for (const [name, response] of fetched) await cache.put(name, response);
  for (const request of await cache.keys()) {
    const { pathname } = new URL(request.url);
    if (pathname !== PAGE && !PARTS.includes(pathname)) await cache.delete(request);
  }
}

function kept(name) {
  return caches.match(name, { cacheName: KEPT, ignoreVary: true });
}

/** Return the version of the page that `response` holds. */
async function versionOf(response) {
  return /data-page="([^"]*)"/.exec(await response.clone().text())?.[1];
}

/** Tell the open pages which version is kept now: they know their own. */
async function tellPages() {
  const response = await kept(PAGE);
  if (!response) return;
  const version = await versionOf(response);
  for (const client of await self.clients.matchAll()) client.postMessage({ version });
}

/** Look behind the page that is shown whether the site has another. */
async function refresh() {
  const [page, before] = [await asked(PAGE), await kept(PAGE)];
  if (before && (await versionOf(page)) === (await versionOf(before))) await (await caches.open(KEPT)).put(PAGE, page);
  else await fetchAll(page);
  await tellPages();
}

/** Answer with the site's page, with what is kept if the site does not answer. */
async function siteFirst(event, before) {
  try {
    const response = await fetch(event.request);
    // Rather none than a page of somebody else.
    if (response.ok && !response.redirected) event.waitUntil(fetchAll(response.clone()).catch(() => caches.delete(KEPT)));
    return response;
  } catch (error) {
    if (before) return before;
    throw error;
  }
}

async function answer(event, name) {
  const before = await kept(name);
  if (name !== PAGE) return before ?? fetch(event.request);
  // Who has just signed in may be another than the one whose page is kept.
  const { referrer } = event.request;
  const isNew = referrer && new URL(referrer).pathname === SIGN_IN;
  if (isNew || !before) return siteFirst(event, before);
  event.waitUntil(refresh().catch(() => {})); // no signal: the next time
  return before;
}

async function begin() {
  await fetchAll();
  await self.skipWaiting();
}

async function arrive() {
  await self.clients.claim();
  await tellPages();
}

self.addEventListener("install", (event) => event.waitUntil(begin()));
self.addEventListener("activate", (event) => event.waitUntil(arrive()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const path = new URL(request.url).pathname;
  if (request.method !== "GET") return;
  if (path === PAGE || PARTS.includes(path)) event.respondWith(answer(event, path));
});
