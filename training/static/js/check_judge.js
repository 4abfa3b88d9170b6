/*
 * Holds what was measured against a rule set's limits where the site cannot be reached.
 *
 * The limits come with the page, from the rule module, as `book`; nothing is known here but
 * how to compare. When the sheet is sent the site judges it anew, and has the last word.
 */

import { say } from "./check_units.js";

export const OUTSIDE = "outside";
export const INSIDE = "inside";
export const NOT_MEASURED = "not measured";

// What was measured only in part is the least and the most that it can be, as [least, most].

function valueOf({ terms, size, denied }, measures) {
  const told = terms.map(([, name]) => measures[name]);
  if (told.every((each) => each === undefined)) return null;
  if (typeof told[0] === "boolean") return denied ? !told[0] : told[0];
  let least = 0;
  let most = 0;
  terms.forEach(([factor], at) => {
    if (told[at] !== undefined) {
      least += factor * told[at];
      most += factor * told[at];
    } else if (factor > 0) most = Infinity;
    else least = -Infinity;
  });
  if (least === most) return size ? Math.abs(least) : least;
  return size || (least === -Infinity && most === Infinity) ? null : [least, most];
}

function boundsOf(value, sign) {
  const bounds = value === null ? [-Infinity, Infinity] : Array.isArray(value) ? value : [value, value];
  return sign > 0 ? bounds : [-bounds[1], -bounds[0]];
}

// Each comparison takes what was read, as {value, spot, last}, and returns the worst, by how
// much it keeps the limit, what is outside, and whether something is left open.

/** Return the comparison with an upper limit, or a lower one if `sign` is -1. */
function bounded(sign) {
  return (read, { limit, edge, figure }) => {
    const told = read.map((each) => ({ ...each, bounds: boundsOf(each.value, sign) }));
    const outside = told.filter(({ bounds: [least] }) => least > sign * edge);
    const open = told.some(({ bounds: [least, most] }) => least <= sign * edge && sign * edge < most);
    let seen = told.filter(({ value }) => value !== null);
    // Of a part that comes to nothing so far there is nothing to tell.
    if (open && !outside.length) seen = seen.filter(({ value }) => !Array.isArray(value) || value[0] > 0);
    if (!seen.length) return { margin: null, outside, open };
    const at = outside.length || open ? 0 : 1;
    const isWorse = (other, one) => other[at] > one[at] || (other[at] === one[at] && other[1] > one[1]);
    const worst = seen.reduce((one, other) => (isWorse(other.bounds, one.bounds) ? other : one));
    const [least, most] = worst.bounds;
    let margin = sign * limit - worst.bounds[at];
    if (open && !outside.length && least !== most) margin = null;
    else if (!open && !outside.length && margin < 0) margin = Math.min(0, sign * figure - most);
    return { measured: worst.value, margin, outside, open };
  };
}

function every(read, { limit, edge, figure }, rounding) {
  const taken = read.filter(({ value }) => value !== null);
  const open = taken.length < read.length;
  if (!taken.length) return { margin: null, outside: [], open };
  const whole = figure - rounding;
  const measured = Math.max(...taken.map(({ value }) => value));
  const outside = taken.filter(({ value, last }) => value > edge || (last && value >= whole));
  let margin = limit - measured;
  if (measured >= whole && margin < 0 && !outside.length) margin = Math.min(0, figure - measured);
  return { measured, margin, outside, open };
}

function mustBe(read) {
  const outside = read.filter(({ value }) => value === false);
  return { measured: !outside.length, margin: null, outside, open: read.some(({ value }) => value === null) };
}

const COMPARE = {
  "at most": bounded(1),
  "at least": bounded(-1),
  "more than": bounded(-1),
  every,
  "must be": mustBe,
};

function holdsOn({ from, to }, day) {
  return (!from || from <= day) && (!to || day <= to);
}

/** Return the version of the rule set `name` in force on `day`, ISO text; undefined if none. */
export function inForce(books, name, day) {
  return books.findLast((book) => book.name === name && holdsOn(book, day));
}

function isByVessel({ vessel_over: over, vessel_up_to: upTo }) {
  return over !== null || upTo !== null;
}

function binds(requirement, length, rounding) {
  if (!isByVessel(requirement) || length === undefined) return true;
  const { vessel_over: over, vessel_up_to: upTo } = requirement;
  return over !== null ? length > over + rounding : length <= upTo + rounding;
}

function judgeOne(requirement, measures, rounding) {
  const { absent, values, missing_fails: missingFails } = requirement;
  if (absent && measures[absent] === false) return { mark: missingFails ? OUTSIDE : INSIDE };
  const read = values.map((each) => ({ ...each, value: valueOf(each, measures) }));
  const found = COMPARE[requirement.test](read, requirement, rounding);
  return { ...found, mark: found.outside.length ? OUTSIDE : found.open ? NOT_MEASURED : INSIDE };
}

/** Return whether `other` limits the same for those vessels that `one` leaves out. */
function isOtherWay(one, other) {
  if (!isByVessel(other) || JSON.stringify(one.values) !== JSON.stringify(other.values)) return false;
  if (one.vessel_over !== null) return other.vessel_up_to !== null && other.vessel_up_to >= one.vessel_over;
  return other.vessel_over !== null && other.vessel_over <= one.vessel_up_to;
}

/** Of limits that turn on the vessel, return what can be said where nobody noted its length. */
function whateverTheVessel(judged) {
  return judged.flatMap(([requirement, found]) => {
    if (!isByVessel(requirement) || found.mark !== OUTSIDE) return [[requirement, found]];
    const others = judged.filter(([other]) => isOtherWay(requirement, other)).map(([, other]) => other);
    if (!others.length || others.some((other) => other.mark !== OUTSIDE)) {
      return [[requirement, { ...found, mark: NOT_MEASURED, margin: null, outside: [] }]];
    }
    return others.some((other) => other.margin > found.margin) ? [] : [[requirement, found]];
  });
}

// The sentences come with the page, as `sentences`, by mark, case and how the measure lies to
// the limit. What follows finds the one that fits, as the site does, and fills its holes.

function toLimit({ mark, measured, margin }, { test, limit, slack, unit }, rules) {
  if (margin === null || typeof measured === "boolean") return "";
  if (mark === OUTSIDE) return Math.abs(margin) <= Math.max(slack, rules.rounding) ? "edge" : "past";
  if (margin < -rules.rounding) return "allowance";
  if (limit === 0 && margin <= rules.rounding) return "";
  if (Array.isArray(measured)) return margin > rules.rounding ? "spare" : "limit";
  if (measured <= rules.rounding && test === "at most") return "";
  if (margin <= rules.rounding) return "limit";
  return say(margin, unit, rules) === say(0, unit, rules) ? "almost" : "spare";
}

/** Return what was measured; if that was a part, the bound that settles the matter. */
function telling({ measured, mark }, { test }) {
  if (!Array.isArray(measured)) return measured;
  const upper = test === "at most" || test === "every";
  return measured[upper === (mark !== INSIDE) ? 0 : 1];
}

function caseOf(found, requirement, rules) {
  const measured = telling(found, requirement);
  if (measured === undefined) return "none";
  if (typeof measured === "boolean") return measured ? "met" : "broken";
  const { test, signed } = requirement;
  if (found.mark === OUTSIDE && test === "every" && toLimit(found, requirement, rules) === "edge") return "end";
  const sign = Math.abs(measured) <= rules.rounding ? "zero" : measured > 0 ? "above" : "below";
  return signed.includes(sign) ? sign : "reading";
}

function amount({ measured, margin }, unit, rules) {
  if (margin === null) return "";
  const text = say(Math.abs(margin), unit, rules);
  if (text === say(0, unit, rules)) return rules.little;
  return Array.isArray(measured) ? `at least ${text}` : text;
}

function boundsText([least, most], unit, rules) {
  if (most === Infinity) return `at least ${say(least, unit, rules)}`;
  if (least === -Infinity) return `at most ${say(most, unit, rules)}`;
  return `${say(least, unit, rules)} to ${say(most, unit, rules)}`;
}

function foundText(found, requirement, rules) {
  const { unit, test, limit, limit_text: limitText, signed } = requirement;
  const { measured } = found;
  const sized = signed.includes("above");
  if (Array.isArray(measured)) {
    if (!sized) return boundsText(measured, unit, rules);
    const [least, most] = telling(found, requirement) > 0 ? measured : boundsOf(measured, -1);
    return boundsText([Math.max(0, least), most], unit, rules);
  }
  const text = say(sized ? Math.abs(measured) : measured, unit, rules);
  const hides = found.mark === OUTSIDE && toLimit(found, requirement, rules) === "past" && text === limitText;
  if (!hides) return text;
  return limit === 0 ? rules.little : `just ${test === "at least" ? "under" : "over"} ${text}`;
}

function words(found, requirement, rules) {
  const { mark, measured } = found;
  const { sentences, unit, test } = requirement;
  const called = caseOf(found, requirement, rules);
  if (mark === NOT_MEASURED) {
    if (test === "must be" || measured === undefined) return sentences[NOT_MEASURED];
    return sentences[`partly ${called}`].replace("{found}", foundText(found, requirement, rules));
  }
  if (measured === undefined || typeof measured === "boolean") return sentences[`${mark} ${called}`];
  const key = [mark, called, toLimit(found, requirement, rules)].filter(Boolean).join(" ");
  const told = sentences[key]
    .replace("{found}", foundText(found, requirement, rules))
    .replace("{margin}", amount(found, unit, rules));
  return Array.isArray(measured) ? `${told} ${rules.in_part}` : told;
}

/**
 * Return one finding a requirement of `book` that binds on `day`, from `measures` in SI by
 * question's name.
 */
export function judge(measures, book, day, rules) {
  const judged = book.requirements
    .filter((each) => holdsOn(each, day) && binds(each, measures.vessel_length, rules.rounding))
    .map((requirement) => [requirement, judgeOne(requirement, measures, rules.rounding)]);
  const told = measures.vessel_length === undefined ? whateverTheVessel(judged) : judged;
  return told.map(([requirement, found]) => ({
    key: requirement.key,
    title: requirement.title,
    source: requirement.source,
    is_from_memory: requirement.is_from_memory,
    names: requirement.names,
    by_custom: requirement.by_custom,
    mark: found.mark,
    mark_text: requirement.by_custom ? rules.custom_marks[found.mark] : found.mark,
    margin: found.margin ?? null,
    places: (found.outside ?? []).map((each) => each.spot),
    words: words(found, requirement, rules),
  }));
}

/** Return how many findings have each mark, in words; what is done by custom is not counted. */
export function tally(findings) {
  const count = (mark) => findings.filter((each) => each.mark === mark && !each.by_custom).length;
  return `${count(OUTSIDE)} outside, ${count(INSIDE)} inside, ${count(NOT_MEASURED)} not measured`;
}
