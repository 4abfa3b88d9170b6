/*
 * Checks where, when, under which papers and with what catch a vessel fishes, where the site
 * cannot be reached.
 *
 * As for gear, limits and sentences come with the page, from the rule module; nothing is known here
 * but how to compare. What is not told is null.
 */

import { holdsOn, INSIDE, NOT_MEASURED, OUTSIDE } from "./check_judge.js";
import { kindsOf, mayBe, sortOut } from "./check_names.js";
import { PositionError, readPosition } from "./check_positions.js";
import { plain, say, trimmed } from "./check_units.js";
import * as waters from "./check_waters.js";
import { ngettext } from "./say.js";

const MILLISECONDS = 86400000; // a day

// Lists in sentences

function listed(words, last = "and") {
  return [words.slice(0, -1).join(", "), ...words.slice(-1)].filter(Boolean).join(` ${last} `);
}

const quoted = (names) => listed(names.map((name) => `“${name}”`));

// Seasons and days

function isOpen({ first, last }, day) {
  const number = ([month, date]) => month * 100 + date;
  const [, month, date] = day.split("-").map(Number);
  const [at, from, to] = [number([month, date]), number(first), number(last)];
  return to < from ? at >= from || at <= to : from <= at && at <= to;
}

function dayText(day, { months }) {
  const [year, month, date] = day.split("-").map(Number);
  return `${months[month - 1]} ${date}, ${year}`;
}

/** Return the areas of `requirement` that are open on the day of `trip`. */
function openAreas(requirement, { requirements, day }) {
  const seasons = requirements.filter(({ dimension }) => dimension === "days");
  if (!seasons.every(({ limit }) => limit.some((season) => isOpen(season, day)))) return [];
  return requirement.limit.filter(({ season }) => !season || isOpen(season, day));
}

// Weights, by the smallest mesh on board

function weightOf({ of: [name], group }, { measures, trip }) {
  const { kept } = measures;
  if (measures[name] !== undefined || !kept) return measures[name] ?? null;
  return kept.some((each) => mayBe(each, group, trip.kinds)) ? null : 0;
}

/** Return [start, end] of the rows that may be the one that is gone by. */
function possible({ limit, of: [, smallest] }, { measures, trip, rounding }) {
  const meshes = [measures[smallest], measures[trip.mesh_in_use]].filter((mesh) => mesh !== undefined);
  if (!meshes.length) return [0, limit.length];
  const mesh = Math.min(...meshes);
  const at = limit.findIndex(({ under }) => under === null || mesh < under - rounding);
  return [measures[smallest] === undefined ? 0 : at, at + 1];
}

function hidden(text, template) {
  return template.replace("{found}", text);
}

function weightText(weight, most, mark, { unit }, { rules }) {
  const text = say(weight, unit, rules);
  return mark === OUTSIDE && text === most ? hidden(text, rules.trip.just_over) : text;
}

// Each judge takes a requirement and the trip, and returns {mark, key, holes} of the sentence

const untold = { mark: NOT_MEASURED, key: NOT_MEASURED, holes: {} };

const JUDGES = {
  flag({ of: [name] }, { measures }) {
    if (measures[name] === undefined) return untold;
    return measures[name] ? { mark: INSIDE, key: `${INSIDE} met` } : { mark: OUTSIDE, key: `${OUTSIDE} broken` };
  },

  days({ limit }, { day, trip }) {
    const mark = limit.some((season) => isOpen(season, day)) ? INSIDE : OUTSIDE;
    return { mark, key: mark, holes: { found: dayText(day, trip) } };
  },

  area(requirement, told) {
    const { test, limit } = requirement;
    const areas = test === "inside" ? openAreas(requirement, told) : limit;
    if (!areas.length) return { mark: OUTSIDE, key: "closed" };
    if (told.problem) return { mark: NOT_MEASURED, key: "unread", holes: { problem: told.problem } };
    if (!told.position) return untold;
    const { area, way, line, metres } = waters.settle(told.position, areas, told.trip.waters);
    const isSure = way === waters.INSIDE || way === waters.OUTSIDE;
    const mark = isSure ? ((way === waters.INSIDE) === (test === "inside") ? INSIDE : OUTSIDE) : NOT_MEASURED;
    const text = trimmed(metres / told.trip.waters.nautical_mile, 2);
    const holes = {
      area: area.title,
      line: told.trip.line.replace("{one}", line[0]).replace("{other}", line[1]),
      distance: ngettext("%(count)s nautical mile", "%(count)s nautical miles", text === "1" ? 1 : 2, { count: text }),
    };
    return { mark, key: `${mark} ${way}`, holes, cannotTell: !isSure };
  },

  names({ limit, sentences, of: [name] }, { measures, trip }) {
    const kept = measures[name];
    if (!kept) return untold;
    if (!kept.length) return { mark: INSIDE, key: `${INSIDE} none` };
    const found = sortOut(kept, limit, trip.kinds);
    if (found.listed.length === kept.length) return { mark: INSIDE, key: INSIDE, holes: { names: listed(kept) } };
    const { unlisted, unclear, unknown } = found;
    const words = unclear.map((each) => filled(sentences.unclear, { name: each, kinds: listed(kindsOf(each, trip.kinds), "or") }));
    if (unlisted.length) words.unshift(filled(sentences.unlisted, { names: quoted(unlisted) }));
    if (unknown.length) words.push(filled(sentences.unknown, { names: quoted(unknown) }));
    const mark = unlisted.length ? OUTSIDE : NOT_MEASURED;
    return { mark, words: [...words, sentences.list].join(" "), cannotTell: mark === NOT_MEASURED };
  },

  "mass by mesh"(requirement, told) {
    const weight = weightOf(requirement, told);
    if (weight === null) return untold;
    const [start, end] = possible(requirement, told);
    const edges = requirement.limit.slice(start, end).map(({ edge }) => edge);
    const mark = weight > Math.max(...edges) ? OUTSIDE : weight > Math.min(...edges) ? NOT_MEASURED : INSIDE;
    const most = requirement.most[`${start} ${end}`];
    return { mark, key: `${mark} ${start} ${end}`, holes: { found: weightText(weight, most, mark, requirement, told) } };
  },

  mass(requirement, told) {
    const weight = weightOf(requirement, told);
    if (weight === null) return untold;
    const mark = weight <= requirement.edge ? INSIDE : OUTSIDE;
    return { mark, key: mark, holes: { found: weightText(weight, requirement.limit_text, mark, requirement, told) } };
  },

  share({ limit, limit_text: limitText, unit, of: [part, whole] }, { measures, rules }) {
    if (measures[part] === undefined || !measures[whole]) return untold;
    const share = measures[part] / measures[whole];
    const mark = share >= limit ? OUTSIDE : INSIDE;
    const text = say(share, unit, rules);
    const found = mark === INSIDE && text === limitText ? hidden(text, rules.trip.just_under) : text;
    return { mark, key: mark, holes: { found } };
  },

  "day count"({ edge, unit, of: [name] }, { measures, day, rules }) {
    if (measures[name] === undefined) return untold;
    const days = (Date.parse(day) - Date.parse(measures[name])) / MILLISECONDS;
    const mark = days >= edge ? INSIDE : OUTSIDE;
    const way = days > 0 ? "ahead" : days < 0 ? "later" : "same";
    return { mark, key: way, holes: { found: say(Math.abs(days), unit, rules) } };
  },
};

// Words

function filled(text, holes = {}) {
  return text.replace(/\{(\w+)\}/g, (hole, name) => holes[name] ?? hole);
}

function wordsOf({ key, holes, words }, { sentences, caution }) {
  const told = words ?? filled(sentences[key], holes);
  return [told[0].toUpperCase() + told.slice(1), caution].filter(Boolean).join(" ");
}

function markText({ mark, cannotTell }, { is_warning: isWarning }, { trip }) {
  if (isWarning) return trip.warning_marks[mark];
  return cannotTell ? trip.cannot_tell : mark;
}

/** Return the position that `text` says, as {position} or {problem}; neither if nothing is there. */
function placeOf(text, rules) {
  if (!plain(text, rules).trim()) return {};
  try {
    return { position: readPosition(text, rules) };
  } catch (error) {
    if (!(error instanceof PositionError)) throw error;
    return { problem: error.message };
  }
}

/**
 * Return one finding a requirement of the fishery `book` on the trip that `measures` tell of, on
 * `day`, ISO text, at `position`, as typed; they are as those of `judge`.
 */
export function judgeTrip(measures, book, { day, position }, rules) {
  const told = { measures, day, rules, trip: rules.trip, rounding: rules.rounding };
  Object.assign(told, { requirements: book.trip }, placeOf(position, rules));
  return book.trip
    .filter((each) => holdsOn(each, day))
    .map((requirement) => {
      const found = JUDGES[requirement.dimension](requirement, told);
      return {
        key: requirement.key,
        alike: [requirement.key, requirement.test, requirement.limit].join(" "),
        rests: found.mark === NOT_MEASURED ? [] : [requirement.names],
        is_open: found.mark === NOT_MEASURED,
        title: requirement.title,
        source: requirement.source,
        names: requirement.names,
        is_from_memory: requirement.is_from_memory,
        by_custom: false,
        is_warning: requirement.is_warning,
        mark: found.mark,
        mark_text: markText(found, requirement, rules),
        margin: null,
        places: [],
        missing: [],
        words: wordsOf(found, requirement),
      };
    });
}
