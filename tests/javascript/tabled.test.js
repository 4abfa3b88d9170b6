import assert from "node:assert/strict";
import test from "node:test";
import { nearestEntry } from "../../training/static/js/tabled.js";

// Two chains at two speeds and two shines; of the first chain nothing varies but by speed.
const table = {
  settings: [
    ["chain", ["one", "two"]],
    ["speed", [1, 2]],
    ["shine", [0, 7]],
  ],
  frames: [
    ["<p>{} kn</p>", [0]],
    ["<p>{} kn, {} in, again {} kn</p>", [0, 1, 0]],
  ],
  columns: ["1 1 2 2", "0 7 0 7"],
  entries: [
    [0, 0],
    [0, 1],
    [0, 2],
    [0, 3],
    [1, 0],
    [1, 1],
    [1, 2],
    [1, 3],
  ],
};

test("the nearest settings are taken, as they are typed or as numbers", () => {
  assert.equal(nearestEntry(table, { chain: "two", speed: "1.6", shine: "3" }), "<p>2 kn, 0 in, again 2 kn</p>");
  assert.equal(nearestEntry(table, { chain: "two", speed: 1.4, shine: 4 }), "<p>1 kn, 7 in, again 1 kn</p>");
  assert.equal(nearestEntry(table, { chain: "one", speed: 9, shine: -3 }), "<p>2 kn</p>");
});

test("of two as near it is always the same", () => {
  assert.equal(nearestEntry(table, { chain: "one", speed: 1.5, shine: 0 }), "<p>1 kn</p>");
});

test("a chain that the table does not have has no entry", () => {
  assert.equal(nearestEntry(table, { chain: "three", speed: 1, shine: 0 }), null);
});
