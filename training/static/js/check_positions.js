/*
 * Positions as people write them, read into decimal degrees as the site reads them.
 */

import { plain } from "./check_units.js";
import { _ } from "./say.js";

const EXAMPLE = "42 14.05 N 70 08.80 W";
const NORTHERNMOST = 60; // degrees; a guard: farther north it is more likely a longitude
const LONGEST_ENTRY = 80;
const MOST = { latitude: 90, longitude: 180 };
const LETTERS = { latitude: "NS", longitude: "EW" };
const PARTS = [
  ["minutes", "a degree"],
  ["seconds", "a minute"],
];
const MARKS = "°'\"";
const TOKEN = /\s*(?:([-+]?(?:\d+\.?\d*|\.\d+))|([NSEW°'",;/]))/y;
const RUN_TOGETHER = /^([-+]?\d{2,3})(\d\d(?:\.\d*)?|\d\d(?=\d\d$))(\d\d)?$/;

/** A position that could not be read; its message is meant for the writer. */
export class PositionError extends Error {
  constructor(words) {
    super(_("%(words)s Write it like %(example)s.", { words, example: EXAMPLE }));
  }
}

/** Return `text` in capitals, its signs and dashes made alike. */
function madePlain(text, rules) {
  if ([...text].length > LONGEST_ENTRY) throw new PositionError(_("That entry is too long to read."));
  let entry = plain(text, rules).replace(/[º˚]/g, "°").replaceAll("''", '"').toUpperCase();
  entry = entry.replace(/\b(?:LAT|LONG?)(?:ITUDE)?\b[.:]?/g, " ");
  entry = entry.replace(/\b([NSEW])(?:ORTH|OUTH|AST|EST)\b/g, "$1");
  // A dash or colon right between figures parts degrees from minutes; a dash between spaces parts
  // latitude from longitude. Any other dash is a sign.
  entry = entry.replace(/(?<=[\d°'])[-:](?=\d)/g, " ").replace(/\s-\s/g, " , ");
  // The mark of the minutes can stand before their decimals: 42°14'.05.
  entry = entry.replace(/(\d)'(\.\d+)/g, "$1$2'");
  // Two commas right between figures, and no point, are decimal commas.
  if (!entry.includes(".") && (entry.match(/\d,\d/g) ?? []).length === 2) {
    entry = entry.replace(/(?<=\d),(?=\d)/g, ".");
  }
  return entry;
}

function tokensOf(text, said) {
  const [entry, tokens] = [text.trimEnd(), []];
  for (let at = 0; at < entry.length; at = TOKEN.lastIndex) {
    TOKEN.lastIndex = at;
    const match = TOKEN.exec(entry);
    if (!match) throw new PositionError(_("“%(rest)s” in “%(said)s” was not understood.", { rest: entry.slice(at).trim(), said }));
    tokens.push(match[1] ?? match[2]);
  }
  return tokens;
}

const isNumber = (token) => /[\d.]$/.test(token);

/** Return where in `tokens` those stand that `fits` takes. */
const places = (tokens, fits) => tokens.flatMap((token, at) => (fits(token) ? [at] : []));

/** Return where the second coordinate begins, or [end of the first, begin of the second]. */
function partedAt(tokens, said) {
  const parting = places(tokens, (token) => ",;/".includes(token));
  const letters = places(tokens, (token) => "NSEW".includes(token));
  const numbers = places(tokens, isNumber);
  const signed = numbers.slice(1).filter((at) => "-+".includes(tokens[at][0]));
  const degrees = places(tokens, (token) => token === "°");
  const all = tokens.length;
  if (parting.length > 1) throw new PositionError(_("“%(said)s” has too many commas.", { said }));
  if (parting.length) return [parting[0], parting[0] + 1];
  if (letters.length > 1 && letters[0] === 0) return [letters[1], letters[1]];
  if (letters[0] > 0) return [letters[0] + 1, letters[0] + 1];
  if (signed.length) return [signed[0], signed[0]];
  if (degrees.length === 2) return [degrees[1] - 1, degrees[1] - 1];
  if (numbers.length === 2 && !tokens[0].includes(".") && Number(tokens[numbers[1]]) < 60) return [all, all];
  if ([2, 4, 6].includes(numbers.length) && !letters.length) {
    const second = numbers[numbers.length / 2];
    return [second, second];
  }
  if (numbers.length < 2) return [all, all];
  throw new PositionError(_("We cannot see where the latitude ends in “%(said)s”. Put a comma there.", { said }));
}

function halvesOf(tokens, said) {
  const [end, begin] = partedAt(tokens, said);
  const halves = [tokens.slice(0, end), tokens.slice(begin)];
  if (!halves.every((half) => half.some(isNumber))) {
    throw new PositionError(_("“%(said)s” is half a position. Write both halves.", { said }));
  }
  return halves;
}

/** Refuse a mark that does not belong to the figure before it. */
function checkMarks(tokens, said) {
  let count = 0;
  tokens.forEach((token, at) => {
    const before = tokens[at - 1];
    count += isNumber(token) ? 1 : 0;
    if (MARKS.includes(token) && (!before || !isNumber(before) || MARKS.indexOf(token) !== count - 1)) {
      throw new PositionError(_("The %(token)s in “%(said)s” is out of place.", { token, said }));
    }
  });
}

function checkHalf(tokens, letters, numbers, said) {
  const isOut = letters.length && letters[0] !== tokens[0] && letters[0] !== tokens.at(-1);
  if (letters.length > 1 || isOut) throw new PositionError(_("The letters in “%(said)s” are out of place.", { said }));
  if (numbers.length > 3) throw new PositionError(_("“%(said)s” has too many numbers.", { said }));
  if (numbers.slice(1).some((number) => "-+".includes(number[0]))) {
    throw new PositionError(_("“%(said)s” has a plus or minus sign out of place.", { said }));
  }
  if (letters.length && "-+".includes(numbers[0][0])) {
    throw new PositionError(_("“%(said)s” has a sign and a letter. Use one of them.", { said }));
  }
  checkMarks(tokens, said);
}

const general = (value) => String(Number(value.toPrecision(6)));

/** Return [letter, sign or "", degrees] of one coordinate. */
function readHalf(tokens, said) {
  const letters = tokens.filter((token) => "NSEW".includes(token));
  let numbers = tokens.filter(isNumber);
  checkHalf(tokens, letters, numbers, said);
  // A number by itself only: in 42 1405 a point may be missing, and nobody can say where.
  const run = numbers.length === 1 && RUN_TOGETHER.exec(numbers[0]);
  if (run) numbers = run.slice(1).filter(Boolean);
  if (numbers.slice(0, -1).some((number) => number.includes("."))) {
    throw new PositionError(_("Only the last number of each half can have decimals in “%(said)s”.", { said }));
  }
  const values = numbers.map((number) => Number(number.replace(/^[-+]+/, "")));
  values.slice(1).forEach((value, at) => {
    const [name, whole] = PARTS[at];
    if (value >= 60) {
      const told = { value: general(value), name, said, whole };
      throw new PositionError(_("%(value)s %(name)s in “%(said)s” is too many: %(whole)s has 60.", told));
    }
  });
  const degrees = values.reduce((total, value, at) => total + value / 60 ** at, 0);
  return [letters[0] ?? ("-+".includes(numbers[0][0]) ? numbers[0][0] : ""), degrees];
}

/** Return `degrees` with its sign, north and east positive; `bare` is the letter if none is there. */
function signedDegrees(letter, degrees, name, bare) {
  if (degrees > MOST[name]) {
    const told = { name, degrees: general(degrees), most: MOST[name] };
    throw new PositionError(_("A %(name)s cannot be %(degrees)s degrees: %(most)s is the most.", told));
  }
  const told = letter === "+" ? LETTERS[name][0] : letter === "-" ? LETTERS[name][1] : letter || bare;
  return "NE".includes(told) ? degrees : -degrees;
}

const isOf = (letter, name) => letter !== "" && LETTERS[name].includes(letter);

/** Return {latitude, longitude} of what `text` says; throw PositionError if it is unclear. */
export function readPosition(text, rules) {
  const said = text.trim();
  const [first, second] = halvesOf(tokensOf(madePlain(text, rules), said), said).map((half) => readHalf(half, said));
  for (const [name, other] of [
    ["latitude", "longitude"],
    ["longitude", "latitude"],
  ]) {
    if (isOf(first[0], name) && isOf(second[0], name)) {
      throw new PositionError(_("“%(said)s” has two %(name)ss and no %(other)s.", { said, name, other }));
    }
  }
  const isTurned = isOf(first[0], "longitude") || isOf(second[0], "latitude");
  const [[one, north], [other, east]] = isTurned ? [second, first] : [first, second];
  if (!isOf(one, "latitude") && !isOf(other, "longitude") && north > NORTHERNMOST) {
    throw new PositionError(_("Is “%(said)s” the longitude first? Add N and W.", { said }));
  }
  return {
    latitude: signedDegrees(one, north, "latitude", "N"),
    longitude: signedDegrees(other, east, "longitude", "W"),
  };
}
