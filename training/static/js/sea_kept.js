/*
 * The pages that people took along, each person's apart.
 *
 * A page is kept as the site answered, by its address, with what is known of it in headers of its
 * own. What belongs to a page, such as its prints, is kept beside it without a name.
 */

const PAGES = "pages ";
const ABOUT = ["at", "what", "title", "bytes", "page", "part"]; // each in a header of that name
export const SITE_VERSION = "Site-Version";

export const pagesOf = (person) => `${PAGES}${person}`;

function isHtml(response) {
  return (response.headers.get("Content-Type") ?? "").startsWith("text/html");
}

/** Return what is known of a kept `response`. */
export function aboutKept({ headers }) {
  const told = Object.fromEntries(ABOUT.map((name) => [name, headers.get(`kept-${name}`) ?? ""]));
  return {
    ...told,
    title: decodeURIComponent(told.title),
    at: Number(told.at),
    bytes: Number(told.bytes),
    version: headers.get(SITE_VERSION) ?? "",
  };
}

/** Keep `response` for `person` at `address`, with what is known of it in `about`: {what, title, part, at}. */
export async function keep(person, address, response, about) {
  const body = isHtml(response) ? new Blob([await response.text()]) : await response.blob();
  const headers = new Headers(response.headers);
  // The body is as it was before it was packed for the way.
  for (const name of ["content-encoding", "content-length", "vary"]) headers.delete(name);
  const page = isHtml(response) ? (/data-page="([^"]*)"/.exec(await body.text())?.[1] ?? "") : "";
  const told = { ...about, title: encodeURIComponent(about.title ?? ""), bytes: body.size, page };
  for (const name of ABOUT) headers.set(`kept-${name}`, told[name] ?? "");
  await (await caches.open(pagesOf(person))).put(address, new Response(body, { status: 200, headers }));
}

/** Return what is kept of `person` at `address`, undefined if nothing is. */
export async function keptAt(person, address) {
  if (!person || !(await caches.has(pagesOf(person)))) return undefined;
  return caches.match(address, { cacheName: pagesOf(person), ignoreVary: true });
}

/** Return the kept page of `person` that answers a visit to `url`; what a query asks is left out. */
export async function keptPage(person, url) {
  return (await keptAt(person, url.pathname + url.search)) ?? keptAt(person, url.pathname);
}

/** Return all that is kept of `person`: its address and what is known of it. */
export async function allKept(person) {
  if (!person || !(await caches.has(pagesOf(person)))) return [];
  const cache = await caches.open(pagesOf(person));
  const requests = await cache.keys();
  return Promise.all(
    requests.map(async (request) => {
      const { pathname, search } = new URL(request.url);
      return { address: pathname + search, ...aboutKept(await cache.match(request, { ignoreVary: true })) };
    }),
  );
}

/** Forget what is kept of `person` at `address`. */
export async function dropKept(person, address) {
  await (await caches.open(pagesOf(person))).delete(address, { ignoreVary: true });
}

/** Return for whom anything is kept. */
export async function keptFor() {
  return (await caches.keys()).filter((name) => name.startsWith(PAGES)).map((name) => Number(name.slice(PAGES.length)));
}

/** Forget all that is kept of `person`. */
export async function freeAll(person) {
  await caches.delete(pagesOf(person));
}

/** Return the kept page `response` as it is shown: it says since when it is on the phone. */
export async function asShown(response) {
  if (!isHtml(response)) return response;
  const moment = new Date(aboutKept(response).at).toISOString();
  const text = (await response.text()).replace("<html ", `<html data-kept-at="${moment}" `);
  return new Response(text, { status: 200, headers: response.headers });
}
