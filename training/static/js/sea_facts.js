/* What the worker of the site remembers from one of its lives to the next, each fact by its name. */

const FACTS = "facts";

const factAt = (name) => `/facts/${encodeURIComponent(name)}`;

/** Return the fact `name`, `otherwise` if there is none. */
export async function fact(name, otherwise = null) {
  const found = await (await caches.open(FACTS)).match(factAt(name));
  return found ? found.json() : otherwise;
}

export async function setFact(name, value) {
  await (await caches.open(FACTS)).put(factAt(name), new Response(JSON.stringify(value)));
}

export async function dropFact(name) {
  await (await caches.open(FACTS)).delete(factAt(name));
}
