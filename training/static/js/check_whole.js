/*
 * A whole sheet checked where the site cannot be reached: by the rule set for the gear, and by that
 * of the fishery with it, if there is one.
 *
 * `books` are {gear, fishery}, each as it came with the page; fishery is null for none. A rule set
 * that is its own fishery is both.
 */

import { judge } from "./check_judge.js";
import { judgeTrip } from "./check_trip.js";

const alike = ({ key, test, limit }) => JSON.stringify([key, test, limit]);

/** Return what the fishery asks besides the gear's rule set, in its order. */
function besides({ gear, fishery }) {
  if (!fishery) return [];
  const told = new Set(gear.requirements.map(alike));
  const asked = [...fishery.requirements, ...fishery.trip].filter((each) => !told.has(alike(each)));
  return asked.sort((one, other) => fishery.order.indexOf(one.key) - fishery.order.indexOf(other.key));
}

/**
 * Return the steps under `books`, {slug, title, questions, judges} each, with just the questions
 * they turn on.
 */
export function stepsOf(books, { trip }) {
  const ofTrip = new Set(books.fishery?.trip);
  const asked = [...books.gear.requirements, ...besides(books)];
  const names = new Set(asked.flatMap((each) => each.names));
  const bears = ({ slug, questions }, each) =>
    ofTrip.has(each) && !each.names.length ? slug === trip.trip_stop : questions.some((name) => each.names.includes(name));
  return trip.stops
    .map((stop) => ({ ...stop, questions: stop.questions.filter((name) => names.has(name)) }))
    .filter(({ questions }) => questions.length)
    .map((stop) => ({ ...stop, judges: [...new Set(asked.filter((each) => bears(stop, each)).map(({ key }) => key))] }));
}

/**
 * Return one finding a requirement of `books`, what two of them ask alike once. `measures` are SI by
 * question's name; `head` is {day, position} of the sheet, ISO text and as typed.
 */
export function judgeWhole(measures, books, head, rules) {
  const found = judge(measures, books.gear, head.day, rules);
  if (!books.fishery) return found;
  const { fishery } = books;
  const more = new Map(
    [...judge(measures, fishery, head.day, rules), ...judgeTrip(measures, fishery, head, rules)].map((each) => [each.key, each]),
  );
  return [...found, ...besides(books).flatMap(({ key }) => more.get(key) ?? [])];
}
