import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import { begun, nextNet, onAnotherNet, whole } from "../../training/static/js/check_content.js";
import { counted, putBack, standings, strikeAll, strikeOne, Writing } from "../../training/static/js/check_log.js";

const NAME = "bosom";
let sheet;
let made;
const newId = () => `id ${(made += 1)}`;
const clock = () => "2026-11-26T10:00:00-05:00";

function writing(isSecond = false) {
  return new Writing(NAME, newId, clock, isSecond);
}

/** Write `texts` one after another in one visit of the field. */
function visit(...texts) {
  const open = writing();
  for (const text of texts) open.write(sheet, text);
  open.close(sheet);
}

const log = () => sheet.content.readings.map(({ text, struck }) => (struck ? `-${text}` : text));

beforeEach(() => {
  made = 0;
  sheet = { content: whole({}), posted: [] };
});

test("what is being typed is one entry", () => {
  visit("1", "16", "16 ft");
  assert.deepEqual(log(), ["16 ft"]);
  assert.equal(sheet.content.typed[NAME], "16 ft");
});

test("a change after the field was left strikes what was there", () => {
  visit("16 ft");
  visit("16 f", "18 ft");
  assert.deepEqual(log(), ["-16 ft", "18 ft"]);
  assert.equal(counted(sheet.content, NAME).text, "18 ft");
});

test("a slip that was taken back before the field was left is none", () => {
  visit("16 ft");
  visit("16 f", "16 ft");
  assert.deepEqual(log(), ["16 ft"]);
});

test("what was on its way to the site once is never dropped", () => {
  visit("16 ft");
  const open = writing();
  open.write(sheet, "16 f");
  sheet.posted = standings(sheet.content);
  open.write(sheet, "");
  open.write(sheet, "16 ft");
  open.close(sheet);
  assert.deepEqual(log(), ["-16 ft", "-16 f", "16 ft"]);
});

test("a cleared field strikes what was there and adds nothing", () => {
  visit("16 ft");
  visit("");
  assert.deepEqual(log(), ["-16 ft"]);
  assert.ok(!(NAME in sheet.content.typed));
});

test("a second reading stands beside the first, and counts", () => {
  visit("16 ft");
  const second = writing(true);
  second.write(sheet, "17 ft");
  second.close(sheet);
  assert.deepEqual(log(), ["16 ft", "17 ft"]);
  assert.equal(sheet.content.typed[NAME], "17 ft");
  strikeOne(sheet.content, sheet.content.readings[1].id, clock);
  assert.equal(sheet.content.typed[NAME], "16 ft");
});

test("a second reading that says the same is a reading too", () => {
  visit("16 ft");
  writing(true).write(sheet, "16 ft");
  assert.deepEqual(log(), ["16 ft", "16 ft"]);
});

test("not measured strikes all, and one can be put back", () => {
  visit("16 ft");
  strikeAll(sheet.content, NAME, newId, clock);
  assert.ok(!(NAME in sheet.content.typed));
  putBack(sheet.content, sheet.content.readings[0].id, newId, clock);
  assert.deepEqual(log(), ["-16 ft", "16 ft"]);
});

test("an answer from before there was a log is struck like any", () => {
  sheet.content.typed[NAME] = "16 ft";
  visit("18 ft");
  assert.deepEqual(log(), ["-16 ft", "18 ft"]);
  assert.equal(sheet.content.readings[0].at, "");
});

test("another net has the same vessel and boarding, and a sheet of its own", () => {
  const first = begun({ vessel_name: "Dunlin", head: { net: "Net 9", skipper: "Perrin", started: "09:00" } });
  const second = onAnotherNet({ ...first, typed: { [NAME]: "16 ft" } });
  assert.equal(second.boarding, first.boarding);
  assert.notEqual(second.code, first.code);
  assert.match(second.code, /^[A-HJKMNP-Z2-9]{12}$/);
  assert.deepEqual([second.head.net, second.head.skipper, second.head.started], ["Net 10", "Perrin", ""]);
  assert.deepEqual(second.typed, {});
  assert.equal(nextNet(""), "Net 2");
});
