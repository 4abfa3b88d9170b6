/*
 * Ends the worker that once kept the check sheet's page at hand, and what it kept.
 *
 * The worker of the whole site does that now. What was written on this phone stays: it is not here.
 */

const BEFORE = "check sheet page"; // the name of what it kept

async function end() {
  await caches.delete(BEFORE);
  await self.registration.unregister();
}

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(end()));
