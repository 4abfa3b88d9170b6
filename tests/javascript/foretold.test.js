import assert from "node:assert/strict";
import { describe, it } from "node:test";

import { check, points, told, Unread } from "../../training/static/js/foretold.js";
import { filled } from "../../training/static/js/sea_feedback.js";

const LENGTHS = {
  units: { ft: [381, 1250], in: [127, 5000], m: [1, 1] },
  unit_names: { ft: "ft", in: "in", m: "m", "'": "ft", '"': "in" },
  signs: {},
  fractions: {},
  examples: { null: "3 ft 6 in", ft: "6 ft", in: "6 in" },
  never_thousands: [],
  most_inches: 11,
  longest_entry: 60,
};
const line = (right, marks = Number(right)) => ({ key: "any", right, marks, out_of: 1, html: "" });
const piece = (more = {}) => ({ lines: [], remarks: [], passed: null, counts: [], table: "", ...more });

function named(parts, values) {
  return told(parts, values, LENGTHS).pieces.map((each) => each.remarks[0]);
}

/** A part each of whose pieces says what was read. */
function saying(read, ...keys) {
  return { read, pieces: Object.fromEntries(keys.map((key) => [key, piece({ remarks: [key] })])) };
}

describe("what an answer reads as", () => {
  it("is what was chosen, alone or with others", () => {
    const parts = [
      saying({ take: "value", name: "said" }, "met", "broken"),
      saying({ take: "both", reads: [{ take: "value", name: "said" }, { take: "value", name: "count" }] }, "met/2"),
    ];
    assert.deepEqual(named(parts, [["said", "met"], ["count", "2"]]), ["met", "met/2"]);
  });

  it("is whether something was checked", () => {
    const parts = [
      saying({ take: "ticked", name: "broken", wanted: "a", alone: "" }, "yes", "no"),
      saying({ take: "ticked", name: "broken", wanted: "b", alone: "" }, "yes", "no"),
      saying({ take: "any-ticked", name: "broken" }, "yes", "no"),
    ];
    assert.deepEqual(named(parts, [["broken", "a"]]), ["yes", "no", "yes"]);
    assert.deepEqual(named(parts, []), ["no", "no", "no"]);
  });

  it("is the stretch that a length lies in, whatever its unit", () => {
    const parts = [saying({ take: "length", name: "size", ends: [0.3, 0.6], bare: "in", only: [] }, "0", "1", "2")];
    assert.deepEqual(named(parts, [["size", "11"]]), ["0"]);
    assert.deepEqual(named(parts, [["size", "1 ft"]]), ["1"]);
    assert.deepEqual(named(parts, [["size", "2 m"]]), ["2"]);
  });

  it("is no length where none is asked or given", () => {
    const parts = [saying({ take: "length", name: "size", ends: [], bare: null, only: ["said", "broken"] }, "0", "none")];
    assert.deepEqual(named(parts, [["said", "met"], ["size", "1 ft"]]), ["none"]);
    assert.deepEqual(named(parts, [["said", "broken"], ["size", " "]]), ["none"]);
    assert.deepEqual(named(parts, [["said", "broken"], ["size", "1 ft"]]), ["0"]);
  });

  it("is which of two numbers comes first", () => {
    const parts = [saying({ take: "before", name: "a", other: "b", out: "out" }, "before", "after", "first out", "then out")];
    const of = (a, b) => named(parts, [["a", a], ["b", b]])[0];
    assert.deepEqual([of("2", "10"), of("3", "1"), of("out", "1"), of("1", "out")], ["before", "after", "first out", "then out"]);
  });

  it("is what hangs along a rope", () => {
    const reach = [6, 6];
    const hung = (measure, ends, at = {}) => saying({ take: "hung", measure, ends, reach, ...at }, "0", "1");
    const values = [["port", "3 m\n1 m"], ["center", "on"], ["starboard", "1 m; 4 m"]];
    const of = (part) => named([part], values)[0];
    assert.equal(of(hung("many", [4.5])), "1");
    assert.equal(of(hung("nearest", [0.15], { at: 3.9 })), "0");
    assert.equal(of(hung("widest", [2.9], { start: 1, end: 6 })), "1");
    assert.equal(of(hung("widest", [2.9], { start: -1, end: -6 })), "0");
    assert.equal(of(hung("left", [2.5], { start: 1, end: 6 })), "0");
  });
});

describe("an answer that cannot be read", () => {
  const cases = [
    ["nothing chosen", { take: "value", name: "said" }, []],
    ["no length", { take: "length", name: "said", ends: [], bare: null, only: [] }, [["said", "some"]]],
    ["a length without its unit", { take: "length", name: "said", ends: [], bare: null, only: [] }, [["said", "3"]]],
    ["no number", { take: "number", name: "said", ends: [] }, [["said", "few"]]],
    ["nothing checked", { take: "ticked", name: "said", wanted: "a", alone: "none" }, []],
    ["none of them and one", { take: "ticked", name: "said", wanted: "a", alone: "none" }, [["said", "a"], ["said", "none"]]],
    ["a number given twice", { take: "numbered", name: "said", out: "out" }, [["said", "1"], ["other", "1"]]],
    ["a dropper past the end", { take: "hung", measure: "many", ends: [], reach: [1, 1] }, [["port", "2 m"]]],
    ["no dropper", { take: "hung", measure: "many", ends: [], reach: [1, 1] }, []],
  ];
  for (const [words, read, values] of cases) {
    it(`names its field: ${words}`, () => {
      assert.equal(check([read], values, LENGTHS), read.name ?? "port");
      assert.throws(() => told([{ read, pieces: {} }], values, LENGTHS), Unread);
    });
  }

  it("is not one that is whole", () => {
    assert.equal(check([{ take: "value", name: "said" }], [["said", "met"]], LENGTHS), null);
  });
});

describe("what is told of an answer", () => {
  const part = (name) => ({
    read: { take: "value", name },
    pieces: { good: piece({ lines: [line(true)] }), bad: piece({ lines: [line(false)], counts: ["wrong"] }) },
  });
  const passes = { read: { take: "tally", name: "wrong" }, pieces: { 0: piece({ passed: true }), "*": piece({ passed: false }) } };

  it("counts what its pieces count, wherever the part stands that goes by it", () => {
    const parts = [passes, part("a"), part("b")];
    assert.equal(told(parts, [["a", "good"], ["b", "good"]], LENGTHS).passed, true);
    assert.equal(told(parts, [["a", "good"], ["b", "bad"]], LENGTHS).passed, false);
  });

  it("adds points up, and never to less than none", () => {
    const pieces = [piece({ lines: [line(true), line(false, -3)] })];
    assert.deepEqual(points(pieces), { marks: 0, outOf: 2 });
  });

  it("holds what was entered as text alone", () => {
    assert.equal(filled("<p>%(size)s of %(other)s</p>", [["size", "<b>1 ft"]]), "<p>&lt;b&gt;1 ft of %(other)s</p>");
  });
});
