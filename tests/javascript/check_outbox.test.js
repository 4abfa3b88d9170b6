import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";

const store = new Map();
Object.assign(globalThis, {
  IDBKeyRange,
  indexedDB: new IDBFactory(),
  localStorage: { getItem: (key) => store.get(key) ?? null, setItem: (key, value) => store.set(key, value) },
  caches: { delete: async () => true },
});
const { asHeld, blank, confirm, dropPhoto, hasParted, isDone, isRefused, isToSend, isUnsent, leave, refuse, refusedPhotos, refusePhoto, sheetsOf, SheetSender, writeOn } = await import(
  "../../training/static/js/check_outbox.js"
);

const OFFICER = 3;
const sheets = sheetsOf(OFFICER);
let sheet;

function held(changes) {
  return {
    revision: 1,
    device: sheet.device,
    finished: false,
    photos: [],
    address: "/checks/1/",
    content: { notes: "held", photo_keys: [] },
    ...changes,
  };
}

beforeEach(() => {
  sheet = blank({ notes: "", photo_keys: [] });
});

test("a new sheet is unsent until the site has that save", () => {
  assert.ok(isUnsent(sheet));
  confirm(sheet, 1, held());
  assert.ok(!isUnsent(sheet));
  assert.equal(sheet.content.notes, "");
});

test("a sheet written on since is still unsent", () => {
  sheet.number = 2;
  confirm(sheet, 1, held());
  assert.ok(isUnsent(sheet));
});

test("written on here and elsewhere, the next save comes after what the site holds", () => {
  sheet.number = 2;
  sheet.content.notes = "here";
  confirm(sheet, 1, held({ device: "another", revision: 5 }));
  assert.equal(sheet.number, 6);
  assert.equal(sheet.content.notes, "here");
  assert.ok(isUnsent(sheet));
});

test("a newer copy from another device is shown, and said to be one", () => {
  confirm(sheet, 1, held({ device: "another", revision: 5 }));
  assert.equal(sheet.content.notes, "held");
  assert.match(sheet.problem, /newer copy/);
  assert.ok(!isUnsent(sheet));
});

test("a sheet that the site does not take as handed in is open again", () => {
  sheet.handsIn = true;
  confirm(sheet, 1, held());
  assert.equal(sheet.handsIn, false);
  assert.match(sheet.problem, /Not turned in/);
});

test("a photo of the sheet that the site lacks is unsent", () => {
  sheet.content.photo_keys = sheet.photosHere = ["p"];
  sheet.handsIn = true;
  confirm(sheet, 1, held({ finished: true }));
  assert.ok(isUnsent(sheet));
  assert.ok(!isDone(sheet));
  sheet.photosSent.push("p");
  assert.ok(isDone(sheet));
});

test("what was handed in is fixed", async () => {
  await sheets.put("fixed", { ...sheet, handsIn: true });
  const after = await writeOn(sheets, "fixed", (each) => (each.content.notes = "more"));
  assert.equal(after.content.notes, "");
  assert.equal(after.number, 1);
});

test("on signing out only what the site lacks stays", async () => {
  await sheets.put("sent", asHeld(held({ key: "sent" })));
  await sheets.put("unsent", sheet);
  await leave(OFFICER);
  const keys = (await sheets.all()).map(({ key }) => key);
  assert.ok(keys.includes("unsent"));
  assert.ok(!keys.includes("sent"));
});

const SAID = { rulebook_version: "1", fishery_version: "", tally: { outside: 0, within: 3, not_measured: 2 } };

test("where the site finds otherwise than the phone, it is told until it was seen", () => {
  confirm(sheet, 1, held({ counts: SAID.tally, versions: { "no-sweep": "1" } }), SAID);
  assert.ok(!hasParted(sheet));
  confirm(sheet, 1, held({ counts: SAID.tally, versions: { "no-sweep": "2" } }), SAID);
  assert.match(sheet.parted.words, /version 1: 0 outside.*version 2: 0 outside/);
  sheet.parted.seen = true;
  confirm(sheet, 1, held({ counts: SAID.tally, versions: { "no-sweep": "2" } }), SAID);
  assert.ok(!hasParted(sheet));
  confirm(sheet, 1, held({ parted: "The site found 1 outside." }), SAID);
  assert.ok(hasParted(sheet));
});

test("a refused sheet is open again, and waits for a change", () => {
  sheet.handsIn = true;
  refuse(sheet, 1, { problem: "No.", fields: { day: "No." } });
  assert.ok(isRefused(sheet) && !sheet.handsIn && isUnsent(sheet));
  assert.ok(!isToSend(sheet, "2026-11-26"));
  sheet.number += 1;
  assert.ok(isToSend(sheet, "2026-11-26"));
});

test("a refusal of what was written on since changes nothing", () => {
  sheet.number = 2;
  refuse(sheet, 1, { problem: "No." });
  assert.ok(!isRefused(sheet));
});

test("a sheet of a day to come is sent again on that day, turned in as it was", () => {
  sheet.handsIn = true;
  refuse(sheet, 1, { problem: "Not yet.", again_from: "2026-11-27" });
  assert.ok(sheet.handsIn);
  assert.deepEqual(["2026-11-26", "2026-11-27"].map((day) => isToSend(sheet, day)), [false, true]);
});

test("a sheet thrown away is unsent until the site was told", () => {
  refuse(sheet, 1, { problem: "No." });
  sheet.thrown = { reason: "Begun twice.", at: "" };
  assert.ok(isToSend(sheet, "2026-11-26"));
});

test("a photo that the site refuses is sent again only when its officer asks", async (t) => {
  Object.assign(globalThis, {
    window: new EventTarget(),
    document: Object.assign(new EventTarget(), { hidden: false, cookie: "" }),
  });
  const own = sheetsOf(OFFICER + 1);
  const answers = [422, 503, 422, 200];
  const fetched = t.mock.method(globalThis, "fetch", async () => new Response('{"problem": "No picture."}', { status: answers.shift() }));
  const [content, photosHere] = [{ notes: "", photo_keys: ["p", "q"] }, ["p", "q"]];
  await own.put("s", { ...blank(content), sent: 1, handsIn: true, photosHere });
  for (const key of photosHere) await own.addFile("s", key, new Blob(["x"]));
  const sender = new SheetSender(own, { sheets: "/checks/" }, () => {});
  await assert.rejects(sender.sendAll());
  assert.equal(fetched.mock.callCount(), 2);
  // The one in trouble is tried again, and refused too; then there is nothing to send.
  await sender.sendAll();
  await sender.sendAll();
  assert.equal(fetched.mock.callCount(), 3);
  const refused = await own.get("s");
  assert.deepEqual(refusedPhotos(refused), { p: "No picture.", q: "No picture." });
  assert.ok(isUnsent(refused) && !isToSend(refused, "2026-11-26"));
  await own.change("s", (each) => {
    refusePhoto(each, "p", "");
    dropPhoto(each, "q");
  });
  await sender.sendAll();
  assert.equal(fetched.mock.callCount(), 4);
  assert.ok(!isUnsent(await own.get("s")));
});
