/*
 * Holds what was measured against a rule set's limits where the site cannot be reached.
 *
 * The limits come with the page, from the rule module, as `book`; nothing is known here but
 * how to compare. When the sheet is sent the site judges it anew, and has the last word.
 */

import { say } from "./check_units.js";

export const OUTSIDE = "outside";
export const WITHIN = "within";
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
  if (absent && measures[absent] === false) return { mark: missingFails ? OUTSIDE : WITHIN };
  const read = values.map((each) => ({ ...each, value: valueOf(each, measures) }));
  const taken = read.filter((each) => each.value !== null);
  if (!taken.length && requirement.test !== "must be") return { mark: NOT_MEASURED };
  const [measured, margin, outside] = COMPARE[requirement.test](taken, requirement, rounding);
  if (outside.length) return { mark: OUTSIDE, measured, margin, outside };
  return { mark: taken.length < read.length ? NOT_MEASURED : WITHIN, measured, margin };
}

function marginText({ mark, margin }, { slack, unit }, rules) {
  const size = Math.abs(margin);
  if (size <= slack) return mark === WITHIN ? "nothing to spare" : "one short";
  let amount = say(size, unit, rules);
  if (amount === say(0, unit, rules)) amount = "a hair";
  return mark === WITHIN ? `${amount} to spare` : `misses by ${amount}`;
}

function measuredText({ mark, measured, margin }, { unit, limit_text: limitText }, rules) {
  const text = say(measured, unit, rules);
  const hides = mark === OUTSIDE && Math.abs(margin) > rules.rounding && text === limitText;
  return hides ? `${text} and a hair` : text;
}

function words(found, requirement, rules) {
  const { rule } = requirement;
  const { mark, measured } = found;
  if (requirement.test === "must be") {
    if (mark === NOT_MEASURED) return `Not looked at, or not all over; ${rule} asks that it be so.`;
    if (measured === undefined) return "None is there.";
    if (mark === WITHIN) return `Seen to be so, as ${rule} asks.`;
    return `Seen not to be so; ${rule} asks for it.`;
  }
  const allows = `${rule} allows ${requirement.allowed}`;
  if (measured === undefined) {
    if (mark === NOT_MEASURED) return `Not measured; ${allows}.`;
    return mark === WITHIN ? "None is there." : `None is there; ${allows}.`;
  }
  if (mark === NOT_MEASURED) {
    return `Not all of it measured; the nearest so far ${say(measured, requirement.unit, rules)}, ${allows}.`;
  }
  return `Measured ${measuredText(found, requirement, rules)}; ${allows}: ${marginText(found, requirement, rules)}.`;
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
        clause: requirement.clause,
        known: requirement.known,
        mark: found.mark,
        margin: found.margin ?? null,
        places: (found.outside ?? []).map((each) => each.spot),
        words: words(found, requirement, rules),
      };
    });
}

/** Return how many findings have each mark, in words. */
export function tally(findings) {
  const count = (mark) => findings.filter((each) => each.mark === mark).length;
  return `${count(OUTSIDE)} outside, ${count(WITHIN)} within, ${count(NOT_MEASURED)} not measured`;
}
