import assert from "node:assert/strict";
import { test } from "node:test";
import { toldOf } from "../../training/static/js/check_judge.js";
import { atOdds, counted, howWords, noted, remark, toldIn } from "../../training/static/js/check_remarks.js";

const FOOT = 0.3048;

const gap = (more) => ({ sort: "length", bare: "ft", usual: "gap", several: "", part_of: "", chain: "", ...more });

const RULES = {
  questions: {
    last: gap({ label: "Wing end", called: "“Wing end”", sure: "last_sure", part_of: "wing" }),
    gaps: gap({ label: "Gaps", called: "“Gaps”", sure: "gaps_sure", part_of: "wing", several: "most" }),
    wing: gap({ label: "Wing", called: "“Wing”", sure: "wing_sure" }),
  },
  usual: { gap: { least: 0, most: 100, fewer: "", more: "", unit: "ft" } },
  units: { in: [254, 10000], ft: [3048, 10000] },
  unit_names: { ft: "ft", in: "in" },
  examples: { ft: "8 ft" },
  never_thousands: [],
  signs: {},
  fractions: {},
  most_inches: 11,
  longest_entry: 60,
  longest: 300,
  agree: 0.0127,
  tools: { tape: "tape", skipper: "the skipper" },
  tellers: { skipper: "the skipper" },
  trip: { at_odds: [], share_at_odds: { one: "", other: "" }, kinds: {} },
};

const read = (name, text, more = {}) => ({ id: text, name, text, how: "", tool: "", struck: "", ...more });

/** A judge with one limit: no gap over 8 ft. */
function judged(measures) {
  const widest = Math.max(...[measures.gaps ?? 0].flat());
  return [{ alike: "gaps", names: ["gaps", "last"], mark: widest > 8 * FOOT + 1e-9 ? "outside" : "inside", rests: [["gaps", "last"]] }];
}

function said(content) {
  const beside = noted({ typed: counted(content.readings), ...content }, judged, RULES);
  return remark({ ...judged(beside.measures)[0], is_open: content.isOpen }, beside, RULES);
}

test("the last that is not struck and not blank counts", () => {
  const first = read("gaps", "8 ft");
  assert.deepEqual(counted([first, read("gaps", "9 ft")]), { gaps: "9 ft" });
  assert.deepEqual(counted([first, read("gaps", "9 ft", { struck: "then" })]), { gaps: "8 ft" });
  assert.deepEqual(counted([first, read("gaps", " ")]), { gaps: "8 ft" });
});

test("what was told is known by the reading that counts", () => {
  const told = read("gaps", "8 ft", { how: "told" });
  assert.deepEqual([...toldIn([told])], ["gaps"]);
  assert.deepEqual([...toldIn([told, read("gaps", "9 ft", { how: "measured" })])], []);
  assert.equal(howWords({ name: "nothing", how: "told", tool: "skipper" }, RULES), "said by the skipper");
  assert.equal(howWords({ name: "nothing", how: "", tool: "constructor" }, RULES), "constructor");
});

test("a place that was measured does not rest on what was told of another", () => {
  assert.deepEqual([...toldOf({ rests: [["a"], ["b"]] }, new Set(["a"]))], []);
  assert.deepEqual([...toldOf({ rests: [["a", "b"]] }, new Set(["a"]))], ["a"]);
  assert.deepEqual([...toldOf({ rests: [] }, new Set(["a"]))], []);
});

test("gaps that do not come to the whole are asked about at both", () => {
  const feet = (...lengths) => lengths.map((each) => each * FOOT);
  const whole = { last: 2 * FOOT, wing: 18 * FOOT };
  assert.deepEqual(atOdds({ ...whole, gaps: feet(8, 8) }, RULES), {});
  assert.deepEqual(Object.keys(atOdds({ ...whole, gaps: feet(8, 7) }, RULES)), ["gaps", "wing"]);
  // The widest alone says only that the wing is no shorter.
  assert.deepEqual(atOdds({ ...whole, gaps: 8 * FOOT }, RULES), {});
});

test("two readings on two sides of a limit are told, and those on one side are not", () => {
  const words = "Readings of “Gaps” fall on different sides of the limit: 9 ft; 8 ft.";
  assert.equal(said({ readings: [read("gaps", "9 ft"), read("gaps", "8 ft")] }), words);
  assert.equal(said({ readings: [read("gaps", "7 ft"), read("gaps", "8 ft")] }), "");
  assert.equal(said({ readings: [read("gaps", "9 ft", { struck: "then" }), read("gaps", "8 ft")] }), "");
});

test("a reason is told of what was not measured and of nothing else", () => {
  const reasons = { gaps: "too dark", last: "too dark" };
  assert.equal(said({ readings: [], reasons, isOpen: true }), "Why not measured: too dark.");
  const readings = [read("gaps", "8 ft"), read("last", "2 ft")];
  assert.equal(said({ readings, reasons, isOpen: true }), "");
});
