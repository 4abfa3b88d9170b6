/*
 * Forms that were filled in without signal: each waits on the phone, and is sent once there is.
 *
 * An entry holds all that its form would have sent. The site answers it once, whatever comes of
 * it, and keeps what was typed: then the phone forgets it. Entries go one by one, in the order in
 * which they were noted, and only while their writer is signed in. Whenever something about them
 * changes, `document` hears "noted"; what the site said of one comes with "arrived".
 */

import { stamp } from "./moments.js";
import { madeUp, Outbox, person } from "./outbox.js";
import { NotNow, PATIENCE, post, Sender, SignedOut, told } from "./sending.js";
import { keepUnread } from "./unread.js";

const TOKEN = "/arrived/token/";
const UNPLACED = "/arrived/unplaced/"; // for what no address of the site takes any more
const OTHER_ACCOUNT = 409;
const FAULT = 500;
const SLOW_DOWN = 429;
const NO_PLACE = [403, 404, 405, 410];

function outboxOf(owner) {
  return new Outbox(owner, "noted");
}

function changed() {
  document.dispatchEvent(new Event("noted"));
}

/** Return what `owner` noted on this phone and the site does not have yet, the first first. */
export async function waitingOf(owner) {
  const found = await outboxOf(owner).all();
  return found.sort((one, other) => one.number - other.number || one.noted.localeCompare(other.noted));
}

/**
 * Write down that `owner` filled in a form; return the entry once it is on the phone.
 *
 * `address` is where the form goes, `values` its [name, value] pairs, hidden ones too, and `label`
 * what it is, in words. `page` is where it can be changed, and `shown` its [question, answer] pairs
 * as they were read. With `before`, an entry, this takes its place and its turn.
 */
export async function note(owner, { address, values, label, page = "", shown = [], before = null }) {
  const outbox = outboxOf(owner);
  const waiting = await outbox.all();
  const number = before?.number ?? Math.max(0, ...waiting.map((each) => each.number)) + 1;
  // What was on its way may have arrived: under its key the site would take this for the same.
  const isHere = waiting.some((each) => each.key === before?.key && !each.posted);
  const key = isHere ? before.key : madeUp();
  const entry = await outbox.put(key, { address, values, label, page, shown, number, noted: stamp(), posted: false });
  if (before && !isHere) await outbox.forget(before.key);
  changed();
  return entry;
}

/** Forget `entry`: its writer throws it away. */
export async function throwAway(entry) {
  await outboxOf(entry.person).forget(entry.key);
  changed();
}

/** Return a token for forms of `owner`, fresh from the site; throw SignedOut if it is another's turn. */
export async function freshToken(owner) {
  let response;
  try {
    response = await fetch(TOKEN, { cache: "no-store", redirect: "manual", signal: AbortSignal.timeout(PATIENCE) });
  } catch {
    throw new NotNow();
  }
  if (!response.ok) throw new NotNow(response.status);
  const said = await told(response);
  if (said.person !== owner) throw new SignedOut(said.person ? OTHER_ACCOUNT : 0);
  return said.token;
}

/** Do `action` unless this entry is being changed in some window; return whether it was done. */
function unlessChanged({ key }, action) {
  const done = async () => {
    await action();
    return true;
  };
  if (!navigator.locks) return done();
  return navigator.locks.request(`noted ${key}`, { ifAvailable: true }, (lock) => (lock ? done() : false));
}

/** Keep `entry` from being sent until the function that this resolves to is called. */
export function holdBack({ key }) {
  if (!navigator.locks) return Promise.resolve(() => {});
  return new Promise((resolve) => {
    navigator.locks.request(`noted ${key}`, () => new Promise((release) => resolve(release)));
  });
}

function bodyOf({ values, shown }) {
  const body = new FormData();
  for (const [name, value] of values) body.append(name, value);
  body.append("noted_shown", JSON.stringify({ shown }));
  return body;
}

/** Send `entry`; return what the site said of it. */
async function posted(entry, token) {
  const headers = {
    "X-CSRFToken": token,
    Noted: entry.key,
    "Noted-At": entry.noted,
    "Noted-Label": encodeURIComponent(entry.label),
    "Noted-Address": encodeURI(entry.address),
    "Phone-Now": stamp(),
    Whose: String(entry.person),
  };
  const response = await answered(entry.address, entry, headers);
  // Nothing there takes it, or not from this person any more: the site has a place for that too.
  return NO_PLACE.includes(response.status) ? answered(UNPLACED, entry, headers) : response;
}

async function answered(address, entry, headers) {
  try {
    return await post(address, bodyOf(entry), headers);
  } catch (error) {
    // The token is fresh and its owner signed in: it is this address that is not for them.
    if (error instanceof SignedOut && error.status && address !== UNPLACED) return { status: error.status };
    throw error;
  }
}

async function sendOne({ key, person: owner }, token) {
  const outbox = outboxOf(owner);
  const entry = await outbox.change(key, (each) => (each.posted = true));
  if (!entry) return;
  const response = await posted(entry, token);
  if (response.status === OTHER_ACCOUNT) throw new SignedOut(OTHER_ACCOUNT);
  if (!response.ok) throw new NotNow(response.status);
  const said = await told(response);
  if (!said.outcome) throw new NotNow(); // not this site's answer
  keepUnread(entry, said);
  // Perhaps it was changed meanwhile where windows cannot lock each other out.
  await outbox.forget(key, (each) => each.noted === entry.noted);
  document.dispatchEvent(new CustomEvent("arrived", { detail: { entry, said } }));
  changed();
}

/** Return whether `error` may be about one entry alone, so that the others are sent all the same. */
function isItsOwn({ status }) {
  return status >= 400 && status <= FAULT && status !== SLOW_DOWN;
}

/** Send all that `owner` noted. */
async function sendEach(owner) {
  const waiting = await waitingOf(owner);
  if (!waiting.length) return;
  const token = await freshToken(owner);
  const held = new Set(); // what comes later to the same address waits for what came before
  let failure = null;
  for (const entry of waiting) {
    if (held.has(entry.address)) continue;
    try {
      if (!(await unlessChanged(entry, () => sendOne(entry, token)))) held.add(entry.address);
    } catch (error) {
      if (!(error instanceof NotNow && isItsOwn(error))) throw error;
      await outboxOf(owner).change(entry.key, (each) => (each.failed = error.status));
      held.add(entry.address);
      failure = error;
    }
  }
  if (failure) throw failure;
}

/** Why nothing could be sent the last time: "", "signal", "error" or "signed out". */
export let standing = "";

function failed(error) {
  if (error instanceof SignedOut) standing = "signed out";
  else standing = error.status ? "error" : "signal";
  changed();
}

async function work() {
  await sendEach(person());
  standing = "";
  changed();
}

let sender = null;

/** Send all that waits of who is signed in on this page, now and whenever there is signal again. */
export function sendAll() {
  sender ??= new Sender("noted", work, failed);
  return sender.send();
}
