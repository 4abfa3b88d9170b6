import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { IDBFactory, IDBKeyRange, IDBObjectStore } from "fake-indexeddb";

globalThis.IDBKeyRange = IDBKeyRange;
globalThis.indexedDB = new IDBFactory();
const { madeUp, Outbox } = await import("../../training/static/js/outbox.js");

const WREN = 1;
const HERON = 2;
let sheets;

beforeEach(async () => {
  sheets = new Outbox(WREN, "sheet");
  for (const each of [sheets, new Outbox(HERON, "sheet"), new Outbox(WREN, "draft")]) {
    for (const { key } of await each.all()) await each.forget(key);
  }
});

test("what is put is there, the one changed last first", async () => {
  await sheets.put("a", { notes: "one", changed: 1 });
  await sheets.put("b", { notes: "two", changed: 2 });
  assert.deepEqual((await sheets.all()).map(({ key }) => key), ["b", "a"]);
  assert.equal((await sheets.get("a")).notes, "one");
  assert.equal(await sheets.get("c"), undefined);
});

test("two people on one phone see and change nothing of each other", async () => {
  const others = new Outbox(HERON, "sheet");
  await sheets.put("a", { notes: "wren" });
  assert.equal(await others.get("a"), undefined);
  assert.deepEqual(await others.all(), []);
  assert.equal(await others.change("a", (entry) => (entry.notes = "heron")), undefined);
  await others.forget("a");
  await others.put("a", { notes: "heron" });
  await others.addFile("a", "photo", new Blob(["heron"]));
  assert.deepEqual(await sheets.filesOf("a"), []);
  assert.equal((await sheets.get("a")).notes, "wren");
});

test("neither do two kinds of one person", async () => {
  const drafts = new Outbox(WREN, "draft");
  await drafts.put("a", { values: [] });
  assert.equal(await sheets.get("a"), undefined);
  assert.deepEqual(await sheets.all(), []);
});

test("changes made at once are all there", async () => {
  await sheets.put("a", { number: 0 });
  await Promise.all(Array.from({ length: 50 }, () => sheets.change("a", (entry) => (entry.number += 1))));
  assert.equal((await sheets.get("a")).number, 50);
});

test("only what is confirmed is forgotten, its files too", async () => {
  await sheets.put("a", { sent: 1, number: 2 });
  await sheets.addFile("a", "photo", new Blob(["x"]));
  const isSent = ({ sent, number }) => sent === number;
  await sheets.forget("a", isSent);
  assert.equal((await sheets.get("a")).number, 2);
  assert.equal((await sheets.filesOf("a")).length, 1);
  await sheets.change("a", (entry) => (entry.sent = 2));
  await sheets.forget("a", isSent);
  assert.equal(await sheets.get("a"), undefined);
  assert.deepEqual(await sheets.filesOf("a"), []);
});

test("a full store says so, and what was there before stays", async (t) => {
  await sheets.put("a", { notes: "before" });
  t.mock.method(IDBObjectStore.prototype, "put", function full() {
    this.transaction.abort();
    throw new DOMException("full", "QuotaExceededError");
  });
  await assert.rejects(sheets.put("a", { notes: "after" }));
  await assert.rejects(sheets.change("a", (entry) => (entry.notes = "after")));
  await assert.rejects(sheets.addFile("a", "photo", new Blob(["x"])));
  t.mock.restoreAll();
  assert.equal((await sheets.get("a")).notes, "before");
  await sheets.put("a", { notes: "room again" });
  assert.equal((await sheets.get("a")).notes, "room again");
});

test("a device that refuses is asked again the next time", async (t) => {
  const fresh = await import("../../training/static/js/outbox.js?fresh");
  const drafts = new fresh.Outbox(WREN, "draft");
  const opening = t.mock.method(globalThis.indexedDB, "open", () => {
    throw new DOMException("no", "SecurityError");
  });
  await assert.rejects(drafts.get("a"));
  opening.mock.restore();
  assert.equal(await drafts.get("a"), undefined);
});

test("a name made up is nobody else's", () => {
  const names = new Set(Array.from({ length: 1000 }, madeUp));
  assert.equal(names.size, 1000);
  for (const name of names) assert.match(name, /^[0-9a-f]{32}$/);
});
