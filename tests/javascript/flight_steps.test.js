import assert from "node:assert/strict";
import test from "node:test";
import { inchOn, oneOn } from "../../training/static/js/flight_steps.js";

test("an inch more or less, however the length was typed", () => {
  assert.equal(inchOn("", 1), "1 in");
  assert.equal(inchOn("3", 1), "4 in");
  assert.equal(inchOn("3 in", -1), "2 in");
  assert.equal(inchOn('11"', 1), "1 ft");
  assert.equal(inchOn("1 ft 2 in", -1), "1 ft 1 in");
});

test("a leg is not made shorter than it is, and what cannot be read starts over", () => {
  assert.equal(inchOn("", -1), "0 in");
  assert.equal(inchOn("0 in", -1), "0 in");
  assert.equal(inchOn("a bit", 1), "1 in");
});

test("one more or less, within the field's ends", () => {
  assert.equal(oneOn("", 1, -12, 12), "1");
  assert.equal(oneOn("", -1, -12, 12), "-1");
  assert.equal(oneOn("", -1, 0, 12), "0");
  assert.equal(oneOn("12", 1, 0, 12), "12");
  assert.equal(oneOn("many", 1, 0, 12), "1");
});
