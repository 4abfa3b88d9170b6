import assert from "node:assert/strict";
import test from "node:test";

const { toldOf } = await import("../../training/static/js/trip_ahead.js");

// A square of one degree, and a smaller one in it that is closed.
const square = (title, low, high) => ({
  title,
  closed_by: "",
  corners: [
    ["NW", 42 + high, -70 + low],
    ["NE", 42 + high, -70 + high],
    ["SE", 42 + low, -70 + high],
    ["SW", 42 + low, -70 + low],
  ],
});
const ahead = {
  first: "2026-11-10",
  last: "2026-12-20",
  signs: {},
  line: "{one} to {other}",
  waters: { axis: 6378137, eccentricity: 0.00669438, doubt: 92.6, rounding: 1e-9, nautical_mile: 1852 },
  where: { in: "Inside {area}, {line}, {distance}.", out: "Outside {area}.", near: "Near {area}.", shore: "Shore." },
  closed: { in: "Closed: {area} ({clause}).", near: "Too near {area}." },
  fisheries: [
    {
      name: "one",
      title: "First fishery",
      spells: [
        { first: "2026-11-10", last: "2026-11-20", words: "Open: all.", areas: [square("the square", 0, 1)] },
        { first: "2026-11-21", last: "2026-12-01", words: "Shut.", areas: [square("the square", 0, 1)] },
      ],
    },
    { name: "two", title: "Second fishery", spells: [] },
  ],
  closures: [{ ...square("the hole", 0.4, 0.6), clause: "1 CFR 2" }],
};
const asked = { day: "2026-11-20", fishery: "one", position: "" };

test("a day is told by the spell that it is in, its ends with it", () => {
  assert.deepEqual(toldOf(ahead, asked).fisheries, [{ name: "one", title: "First fishery", words: ["Open: all."] }]);
  assert.deepEqual(toldOf(ahead, { ...asked, day: "2026-11-21" }).fisheries[0].words, ["Shut."]);
});

test("a day without rules, and one that is not in the page, are said to be that", () => {
  assert.match(toldOf(ahead, { ...asked, day: "2026-12-02" }).fisheries[0].words[0], /no rules/);
  assert.match(toldOf(ahead, { ...asked, day: "2026-12-21" }).problem, /Nov 10, 2026 to Dec 20, 2026.*needs signal/);
  assert.match(toldOf(ahead, { ...asked, day: "2026-11-09" }).problem, /needs signal/);
  assert.match(toldOf(ahead, { ...asked, day: "" }).problem, /Choose the day/);
});

test("without a fishery it is all of them", () => {
  assert.deepEqual(
    toldOf(ahead, { ...asked, fishery: "" }).fisheries.map(({ name }) => name),
    ["one", "two"],
  );
});

test("a position is told by the site's sentences", () => {
  const inside = toldOf(ahead, { ...asked, position: "42 12 N 69 48 W" });
  assert.match(inside.fisheries[0].words[1], /^Inside the square, .* to .*, [\d.]+ nautical miles\.$/);
  assert.deepEqual(inside.closures, []);
  assert.deepEqual(toldOf(ahead, { ...asked, position: "42 30 N 69 30 W" }).closures, ["Closed: the hole (1 CFR 2)."]);
  assert.equal(toldOf(ahead, { ...asked, position: "43 30 N 69 30 W" }).fisheries[0].words[1], "Outside the square.");
  assert.equal(toldOf(ahead, { ...asked, position: "42 00.02 N 69 48 W" }).fisheries[0].words[1], "Near the square.");
});

test("a position that cannot be read is said to be that, and nothing is told", () => {
  const { problem, fisheries } = toldOf(ahead, { ...asked, position: "42 61 N 70 08.8 W" });
  assert.match(problem, /61 minutes/);
  assert.equal(fisheries, undefined);
});
