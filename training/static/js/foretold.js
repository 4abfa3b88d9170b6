/*
 * Reads an answer as the site said that it is to be read, and finds what is told of it.
 *
 * It compares, counts and sorts what was entered, and knows no rule: the site graded answers that
 * read so beforehand, and what it said of each is a piece. `values` are [name, value] pairs as a
 * form has them, `lengths` what is needed to read a length.
 */

import { EntryError, readLength } from "./check_units.js";

const SAME = 1e-9; // metres within which two places are one
const OTHERWISE = "*"; // the piece for whatever has none of its own

/** An answer that cannot be read: `field` is the name of what is missing or unclear. */
export class Unread extends Error {
  constructor(field) {
    super(`unread: ${field}`);
    this.field = field;
  }
}

function all(values, name) {
  return values.filter(([each]) => each === name).map(([, value]) => value);
}

function one(values, name) {
  const [value = ""] = all(values, name);
  if (!value.trim()) throw new Unread(name);
  return value;
}

function metres(text, name, bare, lengths) {
  try {
    return readLength(text, bare, lengths);
  } catch (error) {
    if (error instanceof EntryError) throw new Unread(name);
    throw error;
  }
}

/** Return in which stretch between `ends` a measure lies. */
function stretch(ends, measure) {
  return String(ends.filter((end) => end < measure).length);
}

// Droppers along a rope

/** Return the distances that a field lists, as the site parts them. */
function distances(values, name, reach, lengths) {
  const found = [];
  for (const line of (all(values, name)[0] ?? "").split(/[\n;]/)) {
    const entries = line.split(",").filter((each) => each.trim());
    const read = entries.map((each) => metres(each, name, "ft", lengths));
    // 3 ft, 6 in may be one distance or two.
    if (read.some((each, at) => at && each <= read[at - 1])) throw new Unread(name);
    if (read.some((each) => each > reach + SAME)) throw new Unread(name);
    found.push(...read);
  }
  return found;
}

function places(values, [port, starboard], lengths) {
  const found = [
    ...distances(values, "port", port, lengths).map((each) => -each),
    ...(all(values, "center").length ? [0] : []),
    ...distances(values, "starboard", starboard, lengths),
  ];
  if (!found.length) throw new Unread("port");
  return found.sort((one_, other) => one_ - other);
}

/** Return how far out along a wing the droppers hang, in order. */
function outward(hung, { start, end }) {
  const sign = Math.sign(end);
  return hung
    .map((each) => (each - start) * sign)
    .filter((out) => out > 0)
    .sort((one_, other) => one_ - other);
}

const HUNG = {
  many: (hung) => hung.length,
  nearest: (hung, { at }) => Math.min(...hung.map((each) => Math.abs(each - at))),
  widest: (hung, read) => {
    const out = outward(hung, read);
    return Math.max(0, ...out.map((each, at) => each - (out[at - 1] ?? 0)));
  },
  left: (hung, read) => Math.abs(read.end - read.start) - (outward(hung, read).at(-1) ?? 0),
  apart: (hung, read, values, lengths) =>
    Math.abs(metres(one(values, "on_sweep"), "on_sweep", "ft", lengths) - Math.abs(hung[0])),
};

// Numbers that put things in order

/** Return the number given to a step, null for one left out. */
function numbered(values, name, out) {
  const value = one(values, name);
  return value === out ? null : Number(value);
}

function isBetween(number, low, high) {
  return low < number && number < high;
}

const READERS = {
  value: (read, values) => one(values, read.name),
  ticked({ name, wanted, alone }, values) {
    const ticked = all(values, name);
    if (alone && (!ticked.length || (ticked.includes(alone) && ticked.length > 1))) throw new Unread(name);
    return ticked.includes(wanted) ? "yes" : "no";
  },
  "any-ticked": ({ name }, values) => (all(values, name).length ? "yes" : "no"),
  length({ name, ends, bare, only }, values, { lengths }) {
    if (only.length && !all(values, only[0]).includes(only[1])) return "none";
    if (only.length && !(all(values, name)[0] ?? "").trim()) return "none";
    return stretch(ends, metres(one(values, name), name, bare, lengths));
  },
  number({ name, ends }, values) {
    const [first] = one(values, name).trim().split(/\s+/);
    if (!/^\d{1,3}$/.test(first)) throw new Unread(name);
    return stretch(ends, Number(first));
  },
  difference({ name, other, ends, bare }, values, { lengths }) {
    const [length, less] = [name, other].map((each) => metres(one(values, each), each, bare, lengths));
    return stretch(ends, length - less);
  },
  before({ name, other, out }, values) {
    const [first, then] = [name, other].map((each) => numbered(values, each, out));
    if (first === null) return "first out";
    if (then === null) return "then out";
    if (first === then) throw new Unread(other);
    return first < then ? "before" : "after";
  },
  numbered({ name, out }, values) {
    const number = numbered(values, name, out);
    if (number !== null && values.filter(([, value]) => value === String(number)).length > 1) throw new Unread(name);
    return number === null ? "out" : "in";
  },
  "next-to"({ name, other, out }, values) {
    const [first, then] = [name, other].map((each) => numbered(values, each, out));
    if (first === null || then === null || then < first) return "no";
    return values.some(([, value]) => value !== out && isBetween(Number(value), first, then)) ? "no" : "yes";
  },
  hung(read, values, { lengths }) {
    const measure = HUNG[read.measure](places(values, read.reach, lengths), read, values, lengths);
    return stretch(read.ends, measure < SAME ? 0 : measure);
  },
  tally: ({ name }, values, { tallies }) => String(tallies.get(name) ?? 0),
  both: ({ reads }, values, known) => reads.map((read) => READERS[read.take](read, values, known)).join("/"),
};

function isTallied(read) {
  return read.take === "tally" || (read.take === "both" && read.reads.some(isTallied));
}

/**
 * Return the pieces told of an answer, in the order of their parts, and whether it passes:
 * {pieces, passed}. Throw Unread if it cannot be read.
 */
export function told(parts, values, lengths) {
  const known = { lengths, tallies: new Map() };
  const found = new Array(parts.length);
  // What is told by a tally comes after all that counts to it.
  for (const tallied of [false, true]) {
    parts.forEach(({ read, pieces }, at) => {
      if (isTallied(read) !== tallied) return;
      const piece = pieces[READERS[read.take](read, values, known)] ?? pieces[OTHERWISE];
      if (!piece) throw new Unread(read.name ?? "");
      for (const name of piece.counts) known.tallies.set(name, (known.tallies.get(name) ?? 0) + 1);
      found[at] = piece;
    });
  }
  return { pieces: found, passed: found.every((each) => each.passed ?? true) };
}

/** Return the name of the first field that cannot be read, null if all of `reads` can be. */
export function check(reads, values, lengths) {
  try {
    for (const read of reads) READERS[read.take](read, values, { lengths });
    return null;
  } catch (error) {
    if (error instanceof Unread) return error.field;
    throw error;
  }
}

/** Return the points that pieces give, and out of how many. */
export function points(pieces) {
  const lines = pieces.flatMap((each) => each.lines);
  const sum = (of) => lines.reduce((all_, line) => all_ + of(line), 0);
  return { marks: Math.max(0, sum((line) => line.marks)), outOf: sum((line) => line.out_of) };
}
