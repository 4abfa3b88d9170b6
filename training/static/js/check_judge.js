/*
 * Checks what was measured against a rule set's limits where the site cannot be reached.
 *
 * The limits and the sentences come with the page, from the rule module, as `book`; nothing is
 * known here but how to compare. When the sheet is sent the site judges it again, and has the
 * last word.
 */

import { say } from "./check_units.js";
import { _ } from "./say.js";

export const OUTSIDE = "outside";
export const INSIDE = "inside";
export const NOT_MEASURED = "not measured";

/** The least and the most that what was measured in part can come to. */
class Between {
  constructor(least, most) {
    Object.assign(this, { least, most });
  }
}

/** Return what counts of an answer that may list several. */
function worstOf(answer, { several }) {
  if (!Array.isArray(answer)) return answer;
  return several === "least" ? Math.min(...answer) : Math.max(...answer);
}

/** Return a place of several that are listed, its holes filled. */
const listed = (each, at, of) => each.replace("{at}", at).replace("{of}", of);

/** Return the values of what was measured at one place, or of each of several listed there. */
function valuesAt(place, measures, rules) {
  const answer = place.each ? measures[place.terms[0][1]] : null;
  if (!Array.isArray(answer)) return [{ ...place, value: valueOf(place, measures, rules) }];
  return answer.map((value, at) => ({ ...place, value, spot: listed(place.each, at + 1, answer.length) }));
}

/** Return a value's sum, a Between if an answer to it is missing, null if all are. */
function valueOf({ terms, size, denied }, measures, rules) {
  const told = terms.map(([, name]) => worstOf(measures[name] ?? null, rules.questions[name]));
  if (told.every((each) => each === null)) return null;
  if (typeof told[0] === "boolean") return denied ? !told[0] : told[0];
  let [least, most] = [0, 0];
  for (const [at, [factor]] of terms.entries()) {
    if (told[at] !== null) {
      least += factor * told[at];
      most += factor * told[at];
    } else if (factor > 0) most = Infinity;
    else least = -Infinity;
  }
  if (least === most) return size ? Math.abs(least) : least;
  return size || (least === -Infinity && most === Infinity) ? null : new Between(least, most);
}

// Each comparison takes the values as {value, spot, last} and returns {measured, margin, outside,
// missing}: the worst value, by how much it keeps the limit, the values that are past it, and
// those that leave it open. What is null was not measured.

const isMissing = ({ value }) => value === null;

function boundsOf(value) {
  if (value === null) return [-Infinity, Infinity];
  return value instanceof Between ? [value.least, value.most] : [value, value];
}

/** Return the first of `list` for which `size` is largest. */
function largest(list, size) {
  return list.reduce((best, each) => (size(each) > size(best) ? each : best));
}

/** `sign` is 1 for an upper limit; for a lower one, -1, all is turned round. */
function compare(values, requirement, sign) {
  const [edge, limit, figure] = ["edge", "limit", "figure"].map((name) => sign * requirement[name]);
  const told = values.map((each) => {
    const [least, most] = boundsOf(each.value).map((bound) => sign * bound).sort((a, b) => a - b);
    return { ...each, least, most };
  });
  const outside = told.filter(({ least }) => least > edge);
  const missing = told.filter(({ least, most }) => least <= edge && edge < most);
  // Of a part that comes to nothing so far there is nothing to tell.
  const tells = ({ value, least, most }) => least === most || outside.length || !missing.length || value.least > 0;
  const seen = told.filter((each) => !isMissing(each) && tells(each));
  if (!seen.length) return { measured: null, margin: null, outside, missing };
  const isSettled = !outside.length && !missing.length;
  const nearest = Math.max(...seen.map((each) => (isSettled ? each.most : each.least)));
  const worst = largest(
    seen.filter((each) => (isSettled ? each.most : each.least) === nearest),
    (each) => each.most,
  );
  const found = { measured: worst.value, outside, missing };
  if (outside.length) return { ...found, margin: limit - worst.least };
  if (missing.length) return { ...found, margin: worst.least === worst.most ? limit - worst.least : null };
  const margin = limit - worst.most;
  return { ...found, margin: margin > 0 ? margin : Math.min(0, figure - worst.most) };
}

function compareSteps(values, { edge, figure, limit }, rounding) {
  const whole = figure - rounding;
  const missing = values.filter(isMissing);
  const taken = values.filter((each) => !isMissing(each));
  if (!taken.length) return { measured: null, margin: null, outside: [], missing };
  const measured = largest(taken, ({ value }) => value).value;
  const margin = limit - measured;
  if (measured < whole) return { measured, margin, outside: [], missing };
  const outside = taken.filter(({ value, last }) => value > edge || (last && value >= whole));
  const kept = margin < 0 ? Math.min(0, figure - measured) : margin;
  return { measured, margin: outside.length ? margin : kept, outside, missing };
}

const COMPARE = {
  "at most": (values, requirement) => compare(values, requirement, 1),
  "at least": (values, requirement) => compare(values, requirement, -1),
  "more than": (values, requirement) => compare(values, requirement, -1),
  every: compareSteps,
  "must be"(values) {
    const outside = values.filter(({ value }) => value === false);
    const isSeen = values.some(({ value }) => value === true);
    return {
      measured: outside.length ? false : isSeen || null,
      margin: null,
      outside,
      missing: values.filter(isMissing),
    };
  },
};

/** Return whether a rule set or a requirement holds on `day`, ISO text. */
export function holdsOn({ from, to }, day) {
  return (!from || from <= day) && (!to || day <= to);
}

/** Return the version of the rule set `name` in force on `day`, ISO text; undefined if none. */
export function inForce(books, name, day) {
  return books.findLast((book) => book.name === name && holdsOn(book, day));
}

function turnsOnVessel({ vessel_over: over, vessel_up_to: upTo }) {
  return over !== null || upTo !== null;
}

function binds(requirement, length, rounding) {
  const { vessel_over: over, vessel_up_to: upTo } = requirement;
  if (length === undefined || !turnsOnVessel(requirement)) return true;
  return length > (over ?? upTo) + rounding === (over !== null);
}

function judgeOne(requirement, measures, rules) {
  const { absent, values, missing_fails: missingFails } = requirement;
  if (absent && measures[absent] === false) {
    return { mark: missingFails ? OUTSIDE : INSIDE, measured: null, margin: null, outside: [], missing: [] };
  }
  const read = values.flatMap((each) => valuesAt(each, measures, rules));
  const found = COMPARE[requirement.test](read, requirement, rules.rounding);
  if (found.outside.length) return { mark: OUTSIDE, ...found };
  return { mark: found.missing.length ? NOT_MEASURED : INSIDE, ...found };
}

/** Return whether `other` limits the same for those vessels that `one` leaves out. */
function isOtherWay(one, other) {
  if (!turnsOnVessel(other) || other.measure !== one.measure) return false;
  if ((one.vessel_over === null) === (other.vessel_over === null)) return false;
  const [over, upTo] = one.vessel_over === null ? [other, one] : [one, other];
  return upTo.vessel_up_to >= over.vessel_over;
}

/**
 * Return `found`, {requirement, ...} each, for a vessel whose length nobody noted: of limits that
 * turn on it just one binds, and only what breaks them all is broken, told once.
 */
function whateverTheVessel(found, missing) {
  return found.flatMap((each) => {
    if (!turnsOnVessel(each.requirement) || each.mark !== OUTSIDE) return [each];
    const others = found.filter((other) => isOtherWay(each.requirement, other.requirement));
    if (!others.length || others.some((other) => other.mark !== OUTSIDE)) {
      return [{ ...each, mark: NOT_MEASURED, margin: null, outside: [], missing: [missing] }];
    }
    return others.some((other) => other.margin > each.margin) ? [] : [each];
  });
}

// The sentences come with the page, as `sentences`, by mark, case and how the measure lies to
// the limit. What follows finds the one that fits, as the site does, and fills its holes.

/** Return what was measured; if that was a part, the bound that settles the matter. */
function telling({ measured, mark }, { test }) {
  if (!(measured instanceof Between)) return measured;
  const isUpper = test === "at most" || test === "every";
  return isUpper === (mark !== INSIDE) ? measured.least : measured.most;
}

function toLimit({ mark, measured, margin }, { test, limit, slack, unit }, rules) {
  if (margin === null || typeof measured === "boolean") return "";
  if (mark === OUTSIDE) return Math.abs(margin) <= Math.max(slack, rules.rounding) ? "edge" : "past";
  if (margin < -rules.rounding) return "allowance";
  if (limit === 0 && margin <= rules.rounding) return "";
  if (measured instanceof Between) return margin > rules.rounding ? "spare" : "limit";
  if (measured <= rules.rounding && test === "at most") return "";
  if (margin <= rules.rounding) return "limit";
  return say(margin, unit, rules) === say(0, unit, rules) ? "almost" : "spare";
}

function caseOf(found, requirement, rules) {
  const measured = telling(found, requirement);
  if (measured === null) return "none";
  if (typeof measured === "boolean") return measured ? "met" : "broken";
  const { mark } = found;
  const { test, signed } = requirement;
  if (mark === OUTSIDE && test === "every" && toLimit(found, requirement, rules) === "edge") return "end";
  const sign = Math.abs(measured) <= rules.rounding ? "zero" : measured > 0 ? "above" : "below";
  return signed.includes(sign) ? sign : "reading";
}

function sayBounds({ least, most }, unit, rules) {
  if (most === Infinity) return `at least ${say(least, unit, rules)}`;
  if (least === -Infinity) return `at most ${say(most, unit, rules)}`;
  return `${say(least, unit, rules)} to ${say(most, unit, rules)}`;
}

/** Return the bounds of what was measured, without a sign where a phrase gives them one. */
function unsigned(found, requirement) {
  const { least, most } = found.measured;
  if (!requirement.signed.includes("above")) return found.measured;
  const isAbove = telling(found, requirement) > 0;
  return new Between(Math.max(0, isAbove ? least : -most), isAbove ? most : -least);
}

function foundText(found, requirement, rules) {
  const { measured } = found;
  const { unit, test, limit, limit_text: limitText, signed } = requirement;
  if (measured instanceof Between) return sayBounds(unsigned(found, requirement), unit, rules);
  const text = say(signed.includes("above") ? Math.abs(measured) : measured, unit, rules);
  const hides = found.mark === OUTSIDE && toLimit(found, requirement, rules) === "past" && text === limitText;
  if (!hides) return text;
  return limit === 0 ? rules.little : `just ${test === "at least" ? "under" : "over"} ${text}`;
}

function marginText({ measured, margin }, { unit }, rules) {
  if (margin === null) return "";
  const text = say(Math.abs(margin), unit, rules);
  if (text === say(0, unit, rules)) return rules.little;
  return measured instanceof Between ? `at least ${text}` : text;
}

function words(found, requirement, rules) {
  const { mark, measured } = found;
  const { sentences, test } = requirement;
  const called = caseOf(found, requirement, rules);
  if (mark === NOT_MEASURED) {
    if (test === "must be" || measured === null) return sentences[NOT_MEASURED];
    return sentences[`partly ${called}`].replace("{found}", foundText(found, requirement, rules));
  }
  if (measured === null || typeof measured === "boolean") return sentences[`${mark} ${called}`];
  const key = [mark, called, toLimit(found, requirement, rules)].filter(Boolean).join(" ");
  const told = sentences[key]
    .replace("{found}", foundText(found, requirement, rules))
    .replace("{margin}", marginText(found, requirement, rules));
  return measured instanceof Between ? `${told} ${rules.in_part}` : told;
}

/** Return the names on which a finding rests, by place: one place does for what is outside. */
function restsOn({ mark, measured, outside }, requirement) {
  const vessel = turnsOnVessel(requirement) ? ["vessel_length"] : [];
  if (mark === NOT_MEASURED) return [];
  if (measured === null && requirement.absent) return [[requirement.absent]];
  const namesOf = ({ terms }) => terms.map(([, name]) => name);
  if (mark === OUTSIDE) return outside.map((each) => [...namesOf(each), ...vessel]);
  return [[...requirement.values.flatMap(namesOf), ...vessel]];
}

/** Return the names of `told`, a set, on which a finding rests: none if a place was measured. */
export function toldOf({ rests }, told) {
  const places = rests.map((names) => names.filter((name) => told.has(name)));
  return places.every((names) => names.length) ? new Set(places.flat()) : new Set();
}

/**
 * Return one finding a requirement of `book` that binds on `day`, from `measures` in SI by
 * question's name.
 */
export function judge(measures, book, day, rules) {
  const { vessel_length: length } = measures;
  const found = book.requirements
    .filter((each) => holdsOn(each, day) && binds(each, length, rules.rounding))
    .map((requirement) => ({ requirement, ...judgeOne(requirement, measures, rules) }));
  const settled = length === undefined ? whateverTheVessel(found, { spot: rules.vessel }) : found;
  return settled.map(({ requirement, ...each }) => ({
    key: requirement.key,
    alike: [requirement.key, requirement.test, requirement.limit].join(" "),
    rests: restsOn(each, requirement),
    is_open: each.mark === NOT_MEASURED || each.missing.length > 0,
    title: requirement.title,
    source: requirement.source,
    names: requirement.names,
    is_from_memory: requirement.is_from_memory,
    by_custom: requirement.by_custom,
    mark: each.mark,
    mark_text: requirement.by_custom ? rules.custom_marks[each.mark] : each.mark,
    margin: each.margin,
    places: each.outside.map(({ spot }) => spot),
    missing: each.measured === null ? [] : each.missing.map(({ spot }) => spot),
    words: words(each, requirement, rules),
  }));
}

/**
 * Return how many findings have each mark, in words; customs and warning signs are not counted.
 *
 * `told` are the names of the questions that were told, not measured.
 */
export function tally(findings, told = new Set()) {
  const counted = findings.filter((each) => !each.by_custom && !each.is_warning);
  const count = (mark) => counted.filter((each) => each.mark === mark).length;
  const tallied = `${count(OUTSIDE)} outside, ${count(INSIDE)} inside, ${count(NOT_MEASURED)} not measured`;
  const said = counted.filter((each) => toldOf(each, told).size).length;
  return said ? _("%(tallied)s; %(said)s by what somebody said", { tallied, said }) : tallied;
}
