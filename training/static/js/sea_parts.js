/*
 * What pages are made of: scripts, styles, icons, and the site's own pages for when there is no signal.
 *
 * They are nobody's. Each version of the site has a set of its own, so that no page runs with the
 * parts of another; a set stays as long as a page that was kept under its version.
 */

const PARTS = "parts ";

const setOf = (version) => `${PARTS}${version}`;

async function partFetched(address) {
  // Whoever is signed in, these are the same for all.
  const response = await fetch(address, { cache: "no-cache", credentials: "omit", redirect: "manual" });
  if (!response.ok) throw new Error(`not ${address}`);
  return response;
}

/** Bring all of `addresses` that the set of `version` lacks; throw if one cannot be had. */
export async function bringParts(version, addresses) {
  const cache = await caches.open(setOf(version));
  const there = new Set((await cache.keys()).map((request) => new URL(request.url).pathname));
  await Promise.all(
    addresses
      .filter((address) => !there.has(address))
      .map(async (address) => cache.put(address, await partFetched(address))),
  );
}

/** Return what the set of `version` has at `address`, undefined if it has nothing there. */
export function partOf(version, address) {
  return caches.match(address, { cacheName: setOf(version), ignoreVary: true });
}

/** Return what any set has at `address`, undefined if none has it. */
export async function partOfAny(address) {
  for (const name of await caches.keys()) {
    const found = name.startsWith(PARTS) && (await caches.match(address, { cacheName: name, ignoreVary: true }));
    if (found) return found;
  }
  return undefined;
}

/** Forget the sets of all versions but those in `versions`. */
export async function onlyPartsOf(versions) {
  const wanted = versions.map(setOf);
  for (const name of await caches.keys()) if (name.startsWith(PARTS) && !wanted.includes(name)) await caches.delete(name);
}
