/*
 * What is said behind a finding, as the site says it: what it rests on, what is missing and
 * why, and what parts.
 */

import { OUTSIDE, toldOf } from "./check_judge.js";
import { inAll, readAll, readAlone, say } from "./check_units.js";
import { _ } from "./say.js";

const TOLD = "told";

const counts = ({ struck, text }) => !struck && Boolean(text.trim());

/** Return the readings that count, the last of each question, by its name. */
function last(readings) {
  return new Map(readings.filter(counts).map((entry) => [entry.name, entry]));
}

/** Return what counts of `readings`, the log of a sheet, as typed, by question's name. */
export function counted(readings) {
  return Object.fromEntries([...last(readings)].map(([name, { text }]) => [name, text]));
}

/** Return the names of the questions of which what counts was told, not measured. */
export function toldIn(readings) {
  return new Set([...last(readings).values()].filter(({ how }) => how === TOLD).map(({ name }) => name));
}

/** Return how a reading was come by, in words: "measured, calipers"; "" if nobody said. */
export function howWords({ name, how, tool }, rules) {
  const words = Object.hasOwn(rules.tools, tool) ? rules.tools[tool] : tool;
  if (how === TOLD && Object.hasOwn(rules.tellers, tool)) return _("said by %(teller)s", { teller: words });
  return [rules.questions[name]?.hows[how] ?? how, words].filter(Boolean).join(", ");
}

// Answers that contradict each other

function doNotFit(whole, answers, { agree }) {
  const isListed = answers.some(Array.isArray);
  const told = answers.flat().filter((each) => each !== undefined);
  const lengths = isListed ? told : [Math.max(0, ...told)];
  const over = inAll(lengths) - whole;
  const slack = agree * (lengths.length + 1);
  const isShort = isListed && !answers.includes(undefined) && over < -slack;
  return over > slack || isShort ? lengths : null;
}

/** Return what to ask about `measures` that contradict each other, by question's name. */
export function atOdds(measures, rules) {
  const found = {};
  for (const [name, { label, bare }] of Object.entries(rules.questions)) {
    const parts = Object.entries(rules.questions).filter(([, each]) => each.part_of === name);
    const whole = measures[name];
    if (!parts.length || typeof whole !== "number") continue;
    const lengths = doNotFit(whole, parts.map(([part]) => measures[part]), rules);
    if (!lengths) continue;
    const words = _("Gaps come to %(sum)s, “%(label)s” to %(whole)s. Measure both again.", {
      sum: say(inAll(lengths), bare, rules),
      label,
      whole: say(whole, bare, rules),
    });
    for (const [part, { several }] of parts) if (several) found[part] = words;
    found[name] = words;
  }
  return found;
}

// Readings of which one breaks a rule and another does not

/** Return the texts that hold, oldest first, of the questions that have more than one. */
function held(readings, rules) {
  const found = {};
  for (const entry of readings.filter(counts)) {
    if (Object.hasOwn(rules.questions, entry.name)) (found[entry.name] ??= new Set()).add(entry.text.trim());
  }
  return Object.entries(found).filter(([, texts]) => texts.size > 1);
}

function outside(measures, judged) {
  return new Map(judged(measures).map(({ alike, mark }) => [alike, mark === OUTSIDE]));
}

function apart(typed, readings, judged, rules) {
  const found = {};
  const now = readings.length ? outside(readAll(typed, rules).measures, judged) : null;
  for (const [name, texts] of readings) {
    for (const text of texts) {
      const told = readAll({ ...typed, [name]: text, [rules.questions[name].sure]: text }, rules);
      if (name in told.unread) continue;
      for (const [alike, isOutside] of outside(told.measures, judged)) {
        if (isOutside !== (now.get(alike) ?? isOutside)) (found[alike] ??= new Set()).add(name);
      }
    }
  }
  return found;
}

/**
 * Return what a sheet's `content` holds beside its findings, for `remark`.
 *
 * `judged` returns the findings on measures, by whichever rule sets the sheet is checked by.
 */
export function noted({ typed, readings = [], reasons = {} }, judged, rules) {
  const twice = held(readings, rules);
  const told = readAll(typed, rules);
  return {
    ...told,
    atOdds: atOdds(told.measures, rules),
    told: toldIn(readings),
    reasons,
    typed,
    apart: apart(typed, twice, judged, rules),
    readings: Object.fromEntries(twice.map(([name, texts]) => [name, [...texts]])),
  };
}

const calledIn = (names, rules) => names.map((name) => rules.questions[name].called);

function toldWords(finding, { told }, rules) {
  const found = toldOf(finding, told);
  const names = Object.keys(rules.questions).filter((name) => found.has(name));
  return names.length ? _("Said, not measured: %(names)s.", { names: calledIn(names, rules).join(", ") }) : "";
}

function why(names, { measures, reasons }, rules) {
  const missing = names.filter((name) => !(name in measures));
  const told = missing.map((name) => [name, (reasons[name] ?? "").trim()]);
  const words =
    new Set(told.map(([, reason]) => reason)).size === 1
      ? told[0][1]
      : told
          .filter(([, reason]) => reason)
          .map(([name, reason]) => `${rules.questions[name].called}: ${reason}`)
          .join("; ");
  return words ? _("Why not measured: %(words)s.", { words }) : "";
}

function twoSides(name, texts, rules) {
  const { sort, called } = rules.questions[name];
  const values = { called, readings: texts.join("; ") };
  return sort === "flag"
    ? _("Answers to %(called)s differ: %(readings)s.", values)
    : _("Readings of %(called)s fall on different sides of the limit: %(readings)s.", values);
}

/** Return what to ask of readings of which one lists each and another names the worst. */
function listAgainstWorst(name, texts, typed, rules) {
  const { several, bare, called } = rules.questions[name];
  const values = texts.map((text) => readAlone(name, text, typed, rules));
  const list = values.findLast(Array.isArray);
  const alone = values.findLast((value) => typeof value === "number");
  if (!list || alone === undefined) return "";
  const listed = several === "least" ? Math.min(...list) : Math.max(...list);
  if (Math.abs(alone - listed) <= 2 * rules.agree) return "";
  return _("%(called)s: %(alone)s as the worst, %(listed)s in the list. Measure it again.", {
    called,
    alone: say(alone, bare, rules),
    listed: say(listed, bare, rules),
  });
}

/** Return what to say of several readings of one question; mostly "". */
function aboutReadings(name, { alike }, beside, rules) {
  const texts = beside.readings[name];
  if (!texts) return "";
  if (beside.apart[alike]?.has(name)) return twoSides(name, texts, rules);
  return rules.questions[name].several ? listAgainstWorst(name, texts, beside.typed, rules) : "";
}

/** Return what to say behind the words of a finding, from what is `beside` it; mostly "". */
export function remark(finding, beside, rules) {
  const names = Object.keys(rules.questions).filter((name) => finding.names.includes(name));
  const odds = new Set(names.map((name) => beside.atOdds[name]).filter(Boolean));
  return [
    ...names.map((name) => beside.soFar[name]),
    ...odds,
    toldWords(finding, beside, rules),
    finding.is_open ? why(names, beside, rules) : "",
    ...names.map((name) => aboutReadings(name, finding, beside, rules)),
  ]
    .filter(Boolean)
    .join(" ");
}
