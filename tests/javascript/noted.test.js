import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { IDBFactory, IDBKeyRange, IDBObjectStore } from "fake-indexeddb";

const WREN = 1;
const HERON = 2;

globalThis.IDBKeyRange = IDBKeyRange;
globalThis.indexedDB = new IDBFactory();
globalThis.window = new EventTarget();
globalThis.sessionStorage = {
  kept: new Map(),
  getItem: (name) => sessionStorage.kept.get(name) ?? null,
  setItem: (name, text) => sessionStorage.kept.set(name, text),
  removeItem: (name) => sessionStorage.kept.delete(name),
};
globalThis.document = Object.assign(new EventTarget(), { hidden: false, documentElement: { dataset: { person: String(WREN) } } });
Object.defineProperty(globalThis, "navigator", { value: {}, configurable: true });
const noted = await import("../../training/static/js/noted.js");
const { note, sendAll, throwAway, waitingOf } = noted;
const { forgetOnceRead, forgetUnread, unreadOf } = await import("../../training/static/js/unread.js");

const TOW = { address: "/nets/3/shine/new/", values: [["speed", "2.8"]], label: "Tow, Gray net" };
let site;

/** A site that answers each entry once, as `answer` says; 0 is no answer. */
class Site {
  constructor(signedIn = WREN) {
    Object.assign(this, { signedIn, asked: [], answer: () => ({ outcome: "taken" }) });
  }

  fetch = async (address, { headers, body } = {}) => {
    if (address === "/arrived/token/") return Response.json({ token: "fresh", person: this.signedIn });
    this.asked.push({ address, key: headers.Noted, whose: headers.Whose, values: [...body].filter(([name]) => name !== "noted_shown") });
    const said = this.answer(address, headers);
    if (said === 0) throw new TypeError("no answer");
    return typeof said === "number" ? new Response("", { status: said }) : Response.json(said);
  };
}

beforeEach(async (t) => {
  for (const owner of [WREN, HERON]) {
    for (const entry of await waitingOf(owner)) await throwAway(entry);
  }
  forgetUnread();
  site = new Site();
  globalThis.fetch = (...given) => site.fetch(...given);
  t.mock?.timers?.reset();
});

const addresses = () => site.asked.map(({ address }) => address);

test("entries go in the order in which they were noted, whatever the clock said", async (t) => {
  t.mock.timers.enable({ apis: ["Date"], now: Date.UTC(2026, 10, 27) });
  await note(WREN, { ...TOW, address: "/first/" });
  t.mock.timers.setTime(Date.UTC(2026, 10, 20)); // somebody set the clock back
  await note(WREN, { ...TOW, address: "/second/" });
  await sendAll();
  assert.deepEqual(addresses(), ["/first/", "/second/"]);
  assert.deepEqual(await waitingOf(WREN), []);
});

test("without an answer it waits, and is sent again under the same key", async () => {
  const { key } = await note(WREN, TOW);
  site.answer = () => 0;
  await sendAll();
  assert.equal((await waitingOf(WREN)).length, 1);
  assert.equal(noted.standing, "signal");
  site.answer = () => ({ outcome: "taken" });
  await sendAll();
  assert.deepEqual(site.asked.map((each) => each.key), [key, key]);
  assert.equal(noted.standing, "");
});

test("a site in trouble is asked no more until later; a fault at one entry holds up no other", async () => {
  for (const address of ["/one/", "/one/", "/two/"]) await note(WREN, { ...TOW, address });
  site.answer = () => 503;
  await sendAll();
  assert.deepEqual(addresses(), ["/one/"]);
  site.answer = (address) => (address === "/one/" ? 500 : { outcome: "taken" });
  await sendAll();
  assert.deepEqual(addresses(), ["/one/", "/one/", "/two/"]);
  assert.deepEqual((await waitingOf(WREN)).map(({ address }) => address), ["/one/", "/one/"]);
});

test("what another wrote is not sent, and nothing is while somebody else is signed in", async () => {
  await note(HERON, TOW);
  await sendAll();
  await note(WREN, TOW);
  site.signedIn = HERON;
  await sendAll();
  assert.deepEqual(site.asked, []);
  assert.equal(noted.standing, "signed out");
  assert.equal((await waitingOf(HERON)).length, 1);
});

test("what no address takes any more goes where the site keeps it", async () => {
  await note(WREN, TOW);
  site.answer = (address) => (address === "/arrived/unplaced/" ? { outcome: "gone" } : 404);
  await sendAll();
  assert.deepEqual(addresses(), [TOW.address, "/arrived/unplaced/"]);
  assert.deepEqual(site.asked[1].values, TOW.values);
  assert.deepEqual(await waitingOf(WREN), []);
});

test("an answer that is not this site's makes nothing forgotten", async () => {
  await note(WREN, TOW);
  site.answer = () => ({ welcome: "to the harbor's network" });
  await sendAll();
  assert.equal((await waitingOf(WREN)).length, 1);
});

test("what came of an entry is kept for its writer until there was time to read it", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  const { key } = await note(WREN, TOW);
  site.answer = () => ({ outcome: "taken", where: "/nets/3/shine/" });
  await sendAll();
  const [{ entry, said }] = unreadOf(WREN);
  assert.deepEqual([entry.label, said.where], [TOW.label, "/nets/3/shine/"]);
  forgetOnceRead(key);
  assert.equal(unreadOf(WREN).length, 1);
  t.mock.timers.tick(5000);
  assert.deepEqual(unreadOf(WREN), []);
});

test("what came of an entry is forgotten when somebody else opens a page", async () => {
  await note(WREN, TOW);
  await sendAll();
  assert.deepEqual(unreadOf(HERON), []);
  assert.deepEqual(unreadOf(WREN), []);
});

test("a changed entry keeps its turn; once it was on its way it is another entry", async () => {
  const first = await note(WREN, TOW);
  await note(WREN, { ...TOW, address: "/later/" });
  const mended = await note(WREN, { ...TOW, values: [["speed", "2.9"]], before: first });
  assert.equal(mended.key, first.key);
  site.answer = () => 0;
  await sendAll();
  const again = await note(WREN, { ...TOW, values: [["speed", "3"]], before: mended });
  assert.notEqual(again.key, first.key);
  site.answer = () => ({ outcome: "taken" });
  site.asked = [];
  await sendAll();
  assert.deepEqual(site.asked.map(({ values }) => values[0][1]), ["3", "2.8"]);
});

test("a phone without room says so", async (t) => {
  t.mock.method(IDBObjectStore.prototype, "put", function full() {
    this.transaction.abort();
    throw new DOMException("full", "QuotaExceededError");
  });
  await assert.rejects(note(WREN, TOW));
});
