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

function valueOf({ terms, size, denied }, measures) {
  if (terms.some(([, name]) => !(name in measures))) return null;
  const only = measures[terms[0][1]];
  if (typeof only === "boolean") return denied ? !only : only;
  let total = 0;
  for (const [factor, name] of terms) total += factor * measures[name];
  return size ? Math.abs(total) : total;
}

// Each comparison takes the values that were taken, as {value, spot, last}, and returns the
// worst, by how much it keeps the limit, and those outside.

const COMPARE = {
  "at most"(taken, { limit, slack }) {
    const worst = Math.max(...taken.map((each) => each.value));
    return [worst, limit - worst, taken.filter((each) => each.value > limit + slack)];
  },
  "at least"(taken, { limit, slack }) {
    const worst = Math.min(...taken.map((each) => each.value));
    return [worst, worst - limit, taken.filter((each) => each.value < limit - slack)];
  },
  "more than"(taken, { limit, slack }, rounding) {
    const worst = Math.min(...taken.map((each) => each.value));
    const edge = limit + 2 * rounding - slack;
    return [worst, worst - limit, taken.filter((each) => each.value < edge)];
  },
  every(taken, { limit, slack }, rounding) {
    const worst = Math.max(...taken.map((each) => each.value));
    const outside = ({ value, last }) => value > limit + slack || (last && value >= limit - rounding);
    return [worst, limit - worst, taken.filter(outside)];
  },
  "must be"(taken) {
    const outside = taken.filter((each) => each.value === false);
    return [!outside.length, null, outside];
  },
};

function holdsOn({ from, to }, day) {
  return (!from || from <= day) && (!to || day <= to);
}

/** Return the version of the rule set `name` in force on `day`, ISO text; undefined if none. */
export function inForce(books, name, day) {
  return books.findLast((book) => book.name === name && holdsOn(book, day));
}

function binds({ vessel_over: over, vessel_up_to: upTo }, length, rounding) {
  if (length === undefined) return true;
  if (over !== null) return length > over + rounding;
  return upTo === null || length <= upTo + rounding;
}

function judgeOne(requirement, measures, rounding) {
  const { absent, needs, values, missing_fails: missingFails } = requirement;
  if (needs && !(needs in measures)) return { mark: NOT_MEASURED };
  if (absent && measures[absent] === false) return { mark: missingFails ? OUTSIDE : INSIDE };
  const read = values.map((each) => ({ ...each, value: valueOf(each, measures) }));
  const taken = read.filter((each) => each.value !== null);
  if (!taken.length && requirement.test !== "must be") return { mark: NOT_MEASURED };
  const [measured, margin, outside] = COMPARE[requirement.test](taken, requirement, rounding);
  if (outside.length) return { mark: OUTSIDE, measured, margin, outside };
  return { mark: taken.length < read.length ? NOT_MEASURED : INSIDE, measured, margin };
}

// The sentences come with the page, as `sentences`, by mark, case and how the measure lies to
// the limit. What follows finds the one that fits, as the site does, and fills its holes.

function toLimit({ mark, measured, margin }, { test, limit, slack, unit }, rules) {
  if (mark === OUTSIDE) return Math.abs(margin) <= Math.max(slack, rules.rounding) ? "edge" : "past";
  if (margin < -rules.rounding) return "allowance";
  if (limit === 0 && margin <= rules.rounding) return "";
  if (measured <= rules.rounding && test === "at most") return "";
  if (margin <= rules.rounding) return "limit";
  return say(margin, unit, rules) === say(0, unit, rules) ? "almost" : "spare";
}

function caseOf(found, requirement, rules) {
  const { measured, mark } = found;
  if (measured === undefined) return "none";
  if (typeof measured === "boolean") return measured ? "met" : "broken";
  const { test, signed } = requirement;
  if (mark === OUTSIDE && test === "every" && toLimit(found, requirement, rules) === "edge") return "end";
  const sign = Math.abs(measured) <= rules.rounding ? "zero" : measured > 0 ? "above" : "below";
  return signed.includes(sign) ? sign : "reading";
}

function amount(value, unit, rules) {
  const text = say(Math.abs(value), unit, rules);
  return text === say(0, unit, rules) ? rules.little : text;
}

function foundText(found, requirement, rules) {
  const { unit, test, limit, limit_text: limitText, signed } = requirement;
  const text = say(signed.includes("above") ? Math.abs(found.measured) : found.measured, unit, rules);
  const hides = found.mark === OUTSIDE && toLimit(found, requirement, rules) === "past" && text === limitText;
  if (!hides) return text;
  return limit === 0 ? rules.little : `just ${test === "at least" ? "under" : "over"} ${text}`;
}

function words(found, requirement, rules) {
  const { mark, measured, margin } = found;
  const { sentences, unit, test } = requirement;
  const called = caseOf(found, requirement, rules);
  if (mark === NOT_MEASURED) {
    if (test === "must be" || measured === undefined) return sentences[NOT_MEASURED];
    return sentences[`partly ${called}`].replace("{found}", foundText(found, requirement, rules));
  }
  if (typeof measured !== "number") return sentences[`${mark} ${called}`];
  const key = [mark, called, toLimit(found, requirement, rules)].filter(Boolean).join(" ");
  return sentences[key]
    .replace("{found}", foundText(found, requirement, rules))
    .replace("{margin}", amount(margin, unit, rules));
}

/**
 * Return one finding a requirement of `book` that binds on `day`, from `measures` in SI by
 * question's name.
 */
export function judge(measures, book, day, rules) {
  return book.requirements
    .filter((each) => holdsOn(each, day) && binds(each, measures.vessel_length, rules.rounding))
    .map((requirement) => {
      const found = judgeOne(requirement, measures, rules.rounding);
      return {
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
      };
    });
}

/** Return how many findings have each mark, in words; what is done by custom is not counted. */
export function tally(findings) {
  const count = (mark) => findings.filter((each) => each.mark === mark && !each.by_custom).length;
  return `${count(OUTSIDE)} outside, ${count(INSIDE)} inside, ${count(NOT_MEASURED)} not measured`;
}
