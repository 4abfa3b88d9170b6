/* global VERSION, CORE, STATICS, AT */
/*
 * The worker of the whole site: opens what was taken along when the site does not answer.
 *
 * The site writes its version, what its pages are made of and some addresses above this script,
 * and the modules that it imports before it. What is sent to the site passes through untouched.
 */

import { dropFact, fact, setFact } from "./sea_facts.js";
import { aboutKept, allKept, asShown, dropKept, keep, keptAt, keptFor, keptPage, SITE_VERSION } from "./sea_kept.js";
import { beginLeaving, endLeaving, freePerson, known, loadKnown, lookAtKept, noteSent, setHolder } from "./sea_known.js";
import { bringParts, onlyPartsOf, partOf, partOfAny } from "./sea_parts.js";

const PATIENCE = 4000; // milliseconds that the site has before a kept page is shown
const BETWEEN_LOOKS = 600000; // milliseconds between two looks for whether an account is still there
const WHOSE = "Whose-Page";
const SAID_ONCE = "Said-Once"; // the page tells something that is told once
const GONE = [403, 404, 410];

/** Why something is not kept: no answer, error, signed out, gone, no room, new version. */
class NotKept extends Error {
  constructor(why) {
    super(why);
    this.why = why;
  }
}

const pause = (milliseconds) => new Promise((go) => setTimeout(go, milliseconds));
const begun = loadKnown();
let bringing = null; // the parts, while they are on their way
const versions = new Map(); // of the open pages, by the name of their window

function noteVersion(event, version) {
  if (!version || !event.resultingClientId) return;
  if (versions.size > 100) versions.clear();
  versions.set(event.resultingClientId, version);
}

/** Tell the open pages which version of the page at `address` is kept now: it knows its own. */
async function tellPages(address) {
  const found = await keptAt(known.holder, address);
  const version = found && aboutKept(found).page;
  if (version) for (const client of await self.clients.matchAll()) client.postMessage({ page: address, version });
}

// Who is there, and which version

let lookedAt = 0;

/** Ask the site whether those who left pages here still have an account; forget the pages if not. */
async function lookForGone() {
  if (Date.now() - lookedAt < BETWEEN_LOOKS) return;
  lookedAt = Date.now();
  for (const person of await keptFor()) {
    const token = await fact(`token ${person}`);
    if (!token) continue;
    const response = await fetch(AT.still, { method: "POST", body: new URLSearchParams({ token }), credentials: "omit" });
    if (!response.ok || (await response.json()).still) continue;
    await freePerson(person);
    await setFact("gone", [...new Set([...(await fact("gone", [])), person])]);
  }
}

/** Take in whom the site names in `response`, and which version of it answered. */
async function named(response) {
  const [whose, version] = [response.headers.get(WHOSE), response.headers.get(SITE_VERSION)];
  if (version && version !== VERSION) self.registration.update().catch(() => {});
  if (whose === null) return;
  if (Number(whose) !== known.holder) await setHolder(Number(whose));
  if (!known.holder) lookForGone().catch(() => {});
}

// Keeping

/** Return what the site answers `person` at `address`; throw NotKept if that is not to be kept. */
async function asked(person, address) {
  let response;
  try {
    // What the site has to tell once waits for a page that is looked at.
    response = await fetch(address, { cache: "no-cache", redirect: "manual", headers: { "For-Later": "1" } });
  } catch {
    throw new NotKept("no answer");
  }
  if (response.type === "opaqueredirect") throw new NotKept("signed out");
  await named(response);
  if (GONE.includes(response.status)) throw new NotKept("gone");
  if (!response.ok) throw new NotKept("error");
  return checked(person, response);
}

/** Return `response` if it is the page of `person`, of the version that this worker has the parts of. */
function checked(person, response) {
  const [whose, version] = [response.headers.get(WHOSE), response.headers.get(SITE_VERSION)];
  if (whose === null ? version : Number(whose) !== person) throw new NotKept("signed out");
  if (version && version !== VERSION) throw new NotKept("new version");
  return response;
}

/** Have all that pages are made of on the phone; what asks at the same time waits for the same. */
function haveParts() {
  bringing ??= bringParts(VERSION, STATICS).finally(() => (bringing = null));
  return bringing;
}

async function put(person, address, response, about) {
  try {
    await haveParts();
    await keep(person, address, response, about);
  } catch (error) {
    throw new NotKept(error.name === "QuotaExceededError" ? "no room" : "no answer");
  }
  // Somebody else may have come in between.
  if (person !== known.holder) await freePerson(person);
  else known.paths.add(address);
}

/** Keep a part of what is taken along: what belongs to it first, so that it is not named without. */
async function keepPart(person, { what, title, address, more = [] }) {
  // As old as when the site was asked: what is sent in between is not in it for sure.
  const at = Date.now();
  for (const each of more) await put(person, each, await asked(person, each), { part: address, at });
  await put(person, address, await asked(person, address), { what, title, at });
}

/** Keep the site's `response`, asked for `at` a moment, in place of `before`, kept of `person`. */
async function keepAgain(person, address, response, before, at) {
  await put(person, address, checked(person, response), { ...aboutKept(before), at });
  await tellPages(address);
}

/** Look behind a kept page that is shown whether the site has another. */
async function renew(person, address, before) {
  const at = Date.now();
  try {
    await keepAgain(person, address, await asked(person, address), before, at);
  } catch (error) {
    if (error.why === "gone" && person === known.holder) await drop(person, address);
  }
}

async function drop(person, address) {
  await dropKept(person, address);
  await lookAtKept();
}

// Answering

/** Return whether a kept page may be shown before the site is asked. */
function isAtOnce(kept) {
  const { what, at, page } = aboutKept(kept);
  return Boolean(page) || (what === "lessons" && at > known.sent);
}

function shown(event, kept) {
  noteVersion(event, aboutKept(kept).version);
  return asShown(kept);
}

/** Return the site's own page for when it cannot be reached, or for `why` else. */
async function noSignal(event, why = "no answer") {
  const found = (await partOf(VERSION, AT.noSignal)) ?? (await partOfAny(AT.noSignal));
  if (!found) return Response.error();
  noteVersion(event, VERSION);
  const text = (await found.text()).replace('data-why=""', `data-why="${why}"`);
  return new Response(text, { status: 503, headers: found.headers });
}

/** Return what the site answers to a visit, null if it does not; keep it if the page was kept. */
async function visited(event, person, url, before) {
  const at = Date.now();
  let response;
  try {
    response = await fetch(event.request);
  } catch {
    return null;
  }
  if (response.type === "opaqueredirect") return response;
  noteVersion(event, response.headers.get(SITE_VERSION));
  await named(response);
  if (before && !url.search && person === known.holder) {
    if (response.ok && !response.headers.has(SAID_ONCE)) {
      event.waitUntil(keepAgain(person, url.pathname, response.clone(), before, at).catch(() => {}));
    }
    if (GONE.includes(response.status)) event.waitUntil(drop(person, url.pathname));
  }
  return response;
}

async function navigate(event) {
  const url = new URL(event.request.url);
  const person = known.holder;
  const before = await keptPage(person, url);
  if (before && isAtOnce(before)) {
    event.waitUntil(renew(person, url.pathname, before));
    return shown(event, before);
  }
  const visit = visited(event, person, url, before);
  event.waitUntil(visit);
  const response = await (before ? Promise.race([visit, pause(PATIENCE)]) : visit);
  if (response && response.status < 500) return response;
  // It may have been kept, or somebody else have come in, while the site was asked.
  const kept = before && person === known.holder ? before : await keptPage(known.holder, url);
  if (kept) return shown(event, kept);
  // What the site itself says of an error is told; what stands before it speaks for nobody.
  if (response?.headers.has(WHOSE)) return response;
  return noSignal(event, response ? "error" : "no answer");
}

/** Answer a form that was sent by hand: with the site's page for no signal, if it does not arrive. */
async function sendForm(event) {
  try {
    return await fetch(event.request);
  } catch {
    return noSignal(event, "not sent");
  }
}

async function part(event) {
  const { clientId, request } = event;
  const version = versions.get(clientId) ?? VERSION;
  const found = await partOf(version, request.url);
  if (found) return found;
  try {
    const response = await fetch(request);
    if (response.ok || response.status < 500) return response;
    return (await partOfAny(request.url)) ?? response;
  } catch {
    return (await partOfAny(request.url)) ?? Response.error();
  }
}

/** Answer what a page asks for besides its parts: the site first, else what is kept. */
async function siteFirst(event) {
  const { pathname, search } = new URL(event.request.url);
  const person = known.holder;
  const kept = async () => (person === known.holder ? keptAt(person, pathname + search) : undefined);
  const asking = fetch(event.request).then(async (response) => {
    if (response.type === "basic") await named(response);
    return response;
  });
  try {
    const response = await Promise.race([asking, pause(PATIENCE)]);
    if (response && response.status < 500) return response;
    return (await kept()) ?? asking;
  } catch {
    return (await kept()) ?? Response.error();
  }
}

// Signing out

async function signOut(event) {
  const sent = { address: AT.signOut, body: await event.request.clone().text() };
  try {
    const response = await fetch(event.request);
    if (response.status >= 500) throw new Error("not now");
    if (response.type === "opaqueredirect" || response.ok) {
      await freePerson(known.holder);
      await setHolder(0);
    }
    return response;
  } catch {
    await beginLeaving(sent);
    return Response.redirect(AT.signedOut, 303);
  }
}

/** Return the page of one who is signed in, as text, null if nobody is any more. */
async function signedInPage() {
  const response = await fetch(AT.ready, { redirect: "manual" });
  if (response.type === "opaqueredirect") return null;
  if (!response.ok) throw new Error("not now");
  return response.text();
}

async function postLeaving(body) {
  const headers = { "Content-Type": "application/x-www-form-urlencoded" };
  const response = await fetch(known.leaving.address, { method: "POST", body, headers, redirect: "manual" });
  if (response.status === 429 || response.status >= 500) throw new Error("not now");
  return response.status !== 403;
}

/** Tell the site; the form that the sign-out was sent by may have aged since. */
async function tellLeaving() {
  if (await postLeaving(known.leaving.body)) return;
  const page = await signedInPage();
  const token = page && /name="csrfmiddlewaretoken" value="([^"]*)"/.exec(page)?.[1];
  if (token && !(await postLeaving(new URLSearchParams({ csrfmiddlewaretoken: token }).toString()))) throw new Error("refused");
}

let leaving = null;

/** Tell the site of a sign-out that it has not heard of; return whether it has now. */
function leave() {
  leaving ??= tellLeaving()
    .then(endLeaving)
    .then(
      () => true,
      () => false,
    )
    .finally(() => (leaving = null));
  return leaving;
}

/** Let a request through once the site has heard of the sign-out before it. */
async function afterLeaving(event) {
  if (await leave()) return (wayOf(event) ?? (() => fetch(event.request)))(event);
  return event.request.mode === "navigate" ? noSignal(event) : Response.error();
}

// Requests

/** Return what answers the request of `event`, null if the browser does without this worker. */
function wayOf(event) {
  const { method, mode, url } = event.request;
  const { pathname, search } = new URL(url);
  if (STATICS.includes(pathname) || pathname.startsWith(AT.statics)) return method === "GET" ? part : null;
  if (pathname === AT.signedOut && method === "GET") return part;
  if (known.leaving) return afterLeaving;
  if (pathname === AT.signOut && method === "POST") return signOut;
  if (method !== "GET") return mode === "navigate" ? sendForm : null;
  if (mode === "navigate") return navigate;
  return known.paths.has(pathname + search) ? siteFirst : null;
}

function answered(event) {
  const { method, url } = event.request;
  if (new URL(url).origin !== self.location.origin) return;
  if (!["GET", "HEAD"].includes(method)) event.waitUntil(noteSent());
  if (!known.isLoaded) {
    event.respondWith(begun.then(() => (wayOf(event) ?? (() => fetch(event.request)))(event)));
    return;
  }
  const way = wayOf(event);
  if (way) event.respondWith(way(event));
}

// What the pages ask of it

const QUESTIONS = {
  /** A page from the site says whose it is. */
  async here({ person }) {
    if (!known.leaving && person !== known.holder) await setHolder(person);
  },

  /** Keep a part; say why not if that fails. */
  async keep({ person, part: wanted }) {
    try {
      await keepPart(person, wanted);
      await tellPages(wanted.address);
      return { kept: true };
    } catch (error) {
      if (!(error instanceof NotKept)) throw error;
      return { kept: false, why: error.why };
    }
  },

  /** Keep a page that opens without signal once it was opened with it. */
  async keepOpened({ person, part: wanted }) {
    const before = await keptAt(person, wanted.address);
    return before ? { kept: true } : QUESTIONS.keep({ person, part: wanted });
  },

  /** Say what the holder has here. */
  async list() {
    const { holder } = known;
    const [kept, taken] = [await allKept(holder), await fact(`taken ${holder}`)];
    return { person: holder, kept, taken, version: VERSION, leaving: Boolean(known.leaving) };
  },

  /** Note how far taking along came, `taken`; `token` says later who it was. */
  async taken({ person, taken, token }) {
    await setFact(`taken ${person}`, taken);
    if (token) await setFact(`token ${person}`, token);
  },

  /** Forget all that is kept of `person` but `addresses` and what belongs to them. */
  async only({ person, addresses }) {
    for (const { address, part: of, what } of await allKept(person)) {
      if (!addresses.includes(of || address) && (of || what)) await dropKept(person, address);
    }
    await lookAtKept();
    await onlyNeeded();
  },

  async free({ person }) {
    await freePerson(person);
    await onlyNeeded();
  },

  async gone() {
    return fact("gone", []);
  },

  async forgetGone({ person }) {
    const left = (await fact("gone", [])).filter((each) => each !== person);
    await (left.length ? setFact("gone", left) : dropFact("gone"));
  },
};

/** Forget the parts of versions of which no page is kept any more. */
async function onlyNeeded() {
  const all = await Promise.all((await keptFor()).map(allKept));
  await onlyPartsOf([VERSION, ...all.flat().map(({ version }) => version)]);
}

async function replied({ data, ports }) {
  await begun;
  const said = await QUESTIONS[data.ask](data).catch((error) => ({ failed: String(error) }));
  ports[0]?.postMessage(said ?? {});
}

// Its own life

async function begin() {
  await bringParts(VERSION, CORE);
  // What is kept is renewed under this version: its parts have to be there before.
  if ((await keptFor()).length) await bringParts(VERSION, STATICS);
  await self.skipWaiting();
}

async function arrive() {
  await begun;
  await onlyNeeded();
  await self.clients.claim();
}

self.addEventListener("install", (event) => event.waitUntil(begin()));
self.addEventListener("activate", (event) => event.waitUntil(arrive()));
self.addEventListener("message", (event) => QUESTIONS[event.data?.ask] && event.waitUntil(replied(event)));
self.addEventListener("fetch", answered);
