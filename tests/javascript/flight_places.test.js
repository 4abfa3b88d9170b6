import assert from "node:assert/strict";
import test from "node:test";
import { apart, placeAt, pointsOf } from "../../training/static/js/flight_places.js";

// As from ahead: port, the first, is on the right. The rope rises toward its middle.
const rope = pointsOf("330,90 220,50 180,40 140,50 30,90");

test("points are read as large as the drawing is shown", () => {
  assert.deepEqual(pointsOf("10,20 3.5,4", 2), [
    [20, 40],
    [7, 8],
  ]);
  assert.deepEqual(pointsOf(undefined), []);
});

test("what is let go on the rope goes to the nearest place", () => {
  assert.equal(placeAt(rope, [335, 92], 30), 0);
  assert.equal(placeAt(rope, [225, 60], 30), 1);
  assert.equal(placeAt(rope, [181, 45], 30), 2);
  assert.equal(placeAt(rope, [158, 45], 30), 3);
  assert.equal(placeAt(rope, [20, 95], 30), 4);
});

test("the rope is where it hangs, also between its places", () => {
  // Halfway between corner and wing end it is 70 down.
  assert.notEqual(placeAt(rope, [275, 99], 30), -1);
  assert.equal(placeAt(rope, [275, 101], 30), -1);
  assert.notEqual(placeAt(rope, [275, 41], 30), -1);
  assert.equal(placeAt(rope, [275, 39], 30), -1);
});

test("what is let go beside the rope, or beyond its ends, is on no place", () => {
  assert.equal(placeAt(rope, [180, 200], 30), -1);
  assert.equal(placeAt(rope, [361, 90], 30), -1);
  assert.equal(placeAt(rope, [-1, 90], 30), -1);
});

test("what a finger could not tell apart is moved down, and nothing else", () => {
  const points = [
    [100, 50],
    [110, 60],
    [300, 55],
    [105, 70],
  ];
  const moved = apart(points, 44);
  assert.deepEqual(moved[0], [100, 50]);
  assert.deepEqual(moved[2], [300, 55]);
  for (const [i, one] of moved.entries()) {
    for (const other of moved.slice(i + 1)) {
      assert.ok(Math.abs(one[0] - other[0]) >= 44 || Math.abs(one[1] - other[1]) >= 44, `${one} ${other}`);
    }
  }
  assert.deepEqual(points[1], [110, 60], "what was given was changed");
});
