import test from "node:test";
import assert from "node:assert/strict";
import { plainDigits } from "../../training/static/js/digits.js";

test("digits of every script are written as the plain ones", () => {
  assert.equal(plainDigits("٨ ft ８½ in"), "8 ft 8½ in");
});
