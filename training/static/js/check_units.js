/*
 * What is written on a check sheet, read into metres and printed back.
 *
 * It reads and prints as the site does, to the last bit and word, so that a verdict out of
 * reach of the site is the one that the site gives. Units, signs, chains and bounds come
 * with the page, as `rules`; no limit is known here.
 */

import { mayBe, splitNames } from "./check_names.js";
import { plainDigits } from "./digits.js";
import { _, ngettext } from "./say.js";

const PIECE =
  /[ \n]*(?:(\d+)(?:[ \n]+|-)(\d+)[ \n]*\/[ \n]*(\d+)|(\d+)[ \n]*\/[ \n]*(\d+)|([1-9]\d{0,2}(?:,\d{3})+(?!\d|,\d)(?:\.\d*)?)|(\d+,\d+(?![\d.]|,\d))|(\d+(?:\.\d*)?|\.\d+))(?:[ \n]*(m\/s|"|'|[A-Za-z]+\.?)(?:[ \n]*,|-(?=[\d.]))?|[ \n]*,(?=[ \n]*$))?[ \n]*/y;
const FEET_INCHES = /^(\d+)-(\d+)(\.\d*|[ \n]+\d+[ \n]*\/[ \n]*\d+)?$/;
const LONE_FRACTION = /^\d+[ \n]*\/[ \n]*\d+$/;
const LINKS = /^[ \n]*(\d{1,4})[ \n]*links?(?:[ \n]+of[ \n]+(.+))?[ \n]*$/i;
const COUNT = /^[ \n]*(\d{1,3}(?:,\d{3})+|\d{1,6})[ \n]*(mesh(?:es)?|bars?)?[ \n]*$/i;
const ONE_OR_TWO = /^[ \n]*\d+,\d+[^\d,]*$/;
const FEET_COMMA_INCHES =
  /(?<!')('|\bfeet|\bfoot|\bft\.?|(?<=\d)ft\.?)\s*,\s*\d[\d\s./-]*(in(s|ch|ches)?\.?|"|'')?\s*(?=[,;\n]|$)/i;
const TYPED_DAY = /^(\d{1,2})[/-](\d{1,2})[/-](20\d\d|\d\d)$/;
const ISO_DAY = /^(20\d\d)-(\d{1,2})-(\d{1,2})$/;
const UNIT_AT_END = /^[^A-Za-z"']*([A-Za-z]+\.?|["'])$/;

/** Sorts of answers that come to nothing else than what was typed. */
const AS_TYPED = ["flag", "mass", "day", "names"];

/** An entry that could not be read; its message is meant for the writer. */
export class EntryError extends Error {}

/** An entry to be taken only if its writer says that it is right. */
class Unlikely extends EntryError {}

// Fractions of whole numbers, so that nothing is rounded before the end.
const fraction = (over, under = 1n) => [BigInt(over), BigInt(under)];
const add = ([a, b], [c, d]) => [a * d + c * b, b * d];
const times = ([a, b], [c, d]) => [a * c, b * d];
const isLess = ([a, b], [c, d]) => a * d < c * b;

function decimal(text) {
  const [whole, part = ""] = text.split(".");
  return fraction(whole + part || "0", 10n ** BigInt(part.length));
}

const bits = (number) => number.toString(2).length;

/** Return the number nearest to a fraction: rounded once, of more bits than a number has. */
function toNumber([over, under]) {
  const shift = BigInt(Math.max(0, 64 + bits(under) - bits(over)));
  const large = over << shift;
  const rest = large % under ? 1n : 0n;
  return Number((large / under) | rest) / 2 ** Number(shift);
}

// Text as keyboards of many kinds write it, made plain

export function plain(text, { signs }) {
  const told = [...text].map((sign) => signs[sign] ?? sign).join("");
  return plainDigits(told).replace(/[^\S\n]|[\x1c-\x1f\x85]/g, " ");
}

function spelledOut(text, { fractions }) {
  let entry = text;
  for (const [sign, words] of Object.entries(fractions)) {
    entry = entry.replace(new RegExp(`(?<=[0-9])\\s*${sign}`, "g"), ` ${words}`).replaceAll(sign, words);
  }
  return entry;
}

const trim = (text) => text.replace(/^[ \n]+|[ \n]+$/g, "");

// Lengths

function numberIn(match, said, hint) {
  const [, whole, over, under, lone, loneUnder, thousands, comma, point] = match;
  const below = under ?? loneUnder;
  if (below !== undefined) {
    if (/^0+$/.test(below)) throw new EntryError(_("“%(said)s” divides by zero. %(hint)s", { said, hint }));
    return add(fraction(whole ?? 0), fraction(over ?? lone, below));
  }
  if (comma) return decimal(comma.replace(",", "."));
  return decimal((thousands ?? point).replaceAll(",", ""));
}

function pieces(entry, said, hint, rules) {
  const found = [];
  for (let at = 0; at < entry.length; at = PIECE.lastIndex) {
    PIECE.lastIndex = at;
    const match = PIECE.exec(entry);
    if (!match) throw new EntryError(_("“%(rest)s” in “%(said)s” was not understood. %(hint)s", { rest: trim(entry.slice(at)), said, hint }));
    const thousands = match[6] ?? "";
    const name = match[9];
    const key = name?.toLowerCase();
    const unit = name ? Object.hasOwn(rules.unit_names, key) && rules.unit_names[key] : null;
    if (unit === false) throw new EntryError(_("“%(name)s” in “%(said)s” is not a unit known here. %(hint)s", { name, said, hint }));
    const isDoubtful = thousands.split(",").length === 2 && !thousands.includes(".");
    found.push([numberIn(match, said, hint), unit, isDoubtful ? thousands : ""]);
  }
  return found;
}

/** Return an entry such as 8-1, eight feet and an inch, in words; others as they are. */
function inFeet(entry, said, hint, rules) {
  const found = FEET_INCHES.exec(entry);
  if (!found) return entry;
  const [, feet, inches, part = ""] = found;
  if (Number(inches) > rules.most_inches) throw new EntryError(_("“%(said)s” has more than 11 inches. %(hint)s", { said, hint }));
  return `${feet} ft ${inches}${part} in`;
}

function sum(told, said, usual, hint, rules) {
  let total = fraction(0);
  let previous = null;
  told.forEach(([number, given, thousands], index) => {
    let unit = given;
    if (!unit && index && previous === "ft" && index === told.length - 1) unit = "in";
    else if (!unit && told.length === 1) unit = usual;
    if (!unit) throw new EntryError(_("“%(said)s” needs a unit. %(hint)s", { said, hint }));
    if (thousands && rules.never_thousands.includes(unit)) {
      const [point, whole] = [thousands.replace(",", "."), thousands.replace(",", "")];
      throw new EntryError(_("Is “%(said)s” %(point)s %(unit)s or %(whole)s %(unit)s? Write it without the comma.", { said, point, unit, whole }));
    }
    const size = rules.units[unit].map(BigInt);
    if (previous && !isLess(size, rules.units[previous].map(BigInt))) {
      throw new EntryError(_("“%(said)s” has a small unit first. Write the larger unit first.", { said }));
    }
    total = add(total, times(number, size));
    previous = unit;
  });
  return toNumber(total);
}

/** Return metres, with a lone number in the unit `bare`. */
export function readLength(text, bare, rules) {
  const said = trim(plain(text, rules));
  const hint = _("Write it like %(example)s.", { example: rules.examples[bare] });
  let entry = spelledOut(said, rules).replaceAll("''", '"');
  if (!entry) throw new EntryError(_("Nothing was entered. %(hint)s", { hint }));
  if ([...entry].length > rules.longest_entry) throw new EntryError(_("That entry is too long to read. %(hint)s", { hint }));
  if (entry.startsWith("-")) throw new EntryError(_("“%(said)s” is below zero. %(hint)s", { said, hint }));
  const usual = "in" in rules.units && LONE_FRACTION.test(entry) ? "in" : bare;
  if (usual === "ft") entry = inFeet(entry, said, hint, rules);
  return sum(pieces(entry, said, hint, rules), said, usual, hint, rules);
}

/** Return the size in metres of the chain that `text` names, null if it names none. */
function chainSize(text, rules) {
  const sizes = new Set(entriesIn(text, rules).map((entry) => readLength(entry, "in", rules)));
  if (sizes.size > 1) throw new EntryError(_("More than one size of chain is written down. Write 34 links of 3/8 in."));
  return [...sizes][0] ?? null;
}

/** Return kilograms, with a lone number in the unit `bare`. */
function readMass(text, bare, rules) {
  const { masses: units, mass_names: names, heaviest } = rules.trip;
  const kilograms = readLength(text, bare, { ...rules, units, unit_names: names });
  if (kilograms > heaviest) {
    const most = say(heaviest, "lb", rules);
    throw new EntryError(_("That is over %(most)s, more than any vessel here keeps. Check the unit.", { most }));
  }
  return kilograms;
}

/** Return a day as ISO text. */
function readDay(text, rules) {
  const said = trim(plain(text, rules));
  const example = "9/1/2026";
  const [typed, iso] = [TYPED_DAY.exec(said), ISO_DAY.exec(said)];
  if (!typed && !iso) {
    throw new EntryError(_("“%(said)s” was not understood. Write month, day and year, like %(example)s.", { said, example }));
  }
  const [month, day, year] = (typed ? typed.slice(1) : [iso[2], iso[3], iso[1]]).map(Number);
  const date = new Date(Date.UTC(year < 2000 ? year + 2000 : year, month - 1, day));
  if (date.getUTCMonth() !== month - 1 || date.getUTCDate() !== day) {
    throw new EntryError(_("There is no day “%(said)s”. Write month, day and year, like %(example)s.", { said, example }));
  }
  return date.toISOString().slice(0, 10);
}

/** Return the names that are listed; none if it says that there are none. */
function readNames(text, rules) {
  const told = plain(text, rules);
  const names = splitNames(told);
  if (!names.length) {
    throw new EntryError(_("“%(said)s” names nothing. Write it like silver hake, red hake.", { said: trim(told) }));
  }
  const nothing = names.filter((name) => ["none", "nothing"].includes(name.toLowerCase()));
  if (nothing.length && names.length > nothing.length) {
    throw new EntryError(_("That says “%(nothing)s” and names some. Take one of the two out.", { nothing: nothing[0] }));
  }
  return nothing.length ? [] : names;
}

function readLinks(number, size, rules) {
  const metres = chainSize(size, rules);
  if (metres === null) throw new EntryError(_("Enter the size of the chain first, or write 34 links of 3/8 in."));
  if (number > rules.most_links) throw new EntryError(_("%(number)s links is more than any chain here has. Count again.", { number }));
  const stock = rules.pitches.find(([nominal]) => Math.abs(nominal - metres) < rules.stock_tolerance);
  if (!stock) throw new EntryError(_("No chain is sold in that size. Measure its length instead."));
  return number * stock[1];
}

function readCount(text, rules) {
  const told = plain(text, rules);
  const found = COUNT.exec(told);
  if (!found) throw new EntryError(_("“%(entry)s” was not understood. Write it like 100 or 200 bars.", { entry: trim(told) }));
  const number = Number(found[1].replaceAll(",", ""));
  if (number > rules.most_meshes) throw new EntryError(_("%(number)s is more than any codend has. Count again.", { number }));
  return /^bar/i.test(found[2] ?? "") ? number / 2 : number;
}

function readFlag(text, rules) {
  const told = trim(plain(text, rules)).toLowerCase();
  if (told !== "yes" && told !== "no") throw new EntryError(_("Answer yes or no."));
  return told === "yes";
}

/** Return the entries that `text` lists, one a line or with commas or semicolons between. */
function splitList(text, rules) {
  const entries = plain(text, rules)
    .split(/[;\n]|,(?=[ \n]|$)/)
    .flatMap((part) => {
      if (ONE_OR_TWO.test(part)) {
        throw new EntryError(
          _("“%(part)s” may be one number or two. Put a space after a comma between two. Write a point within one: 2.5.", { part: trim(part) }),
        );
      }
      return part.split(",");
    });
  return entries.map(trim).filter(Boolean);
}

/** Return the entries that `text` lists; a unit after the last is that of all. */
function entriesIn(text, rules) {
  const entries = splitList(text, rules);
  const unit = UNIT_AT_END.exec(entries.at(-1) ?? "");
  if (!unit || /[A-Za-z"']/.test(entries.slice(0, -1).join(""))) return entries;
  return entries.map((entry, at) => (at < entries.length - 1 ? `${entry} ${unit[1]}` : entry));
}

/** Return the lengths that `text` lists, or the one that it is. */
function readSeveral(question, text, typed, rules) {
  const found = FEET_COMMA_INCHES.exec(spelledOut(plain(text, rules), rules));
  if (found) {
    throw new EntryError(
      _("“%(said)s” may be one length or two. Leave the comma out of one. Put a semicolon between two.", { said: trim(found[0]) }),
    );
  }
  return entriesIn(text, rules).map((entry) => readLengthOrLinks(question, entry, typed, rules));
}

/** Return the lengths of a row that `text` lists. */
function readRow(text, bare, rules) {
  const entries = entriesIn(text, rules);
  if (entries.length > rules.series) {
    throw new EntryError(
      _("That is %(count)s readings. Enter %(series)s meshes in a row, or their average alone.", { count: entries.length, series: rules.series }),
    );
  }
  return entries.map((entry) => readLength(entry, bare, rules));
}

/** Return `lengths` if they can be, and are likely or said to be right. */
function believed({ usual, sure }, lengths, text, typed, rules) {
  for (const metres of lengths) {
    if (metres > rules.longest) {
      const most = say(rules.longest, "ft", rules);
      throw new EntryError(_("That is over %(most)s, longer than any net. Check the unit.", { most }));
    }
  }
  for (const metres of lengths) {
    const { least, most, fewer, more, unit } = rules.usual[usual];
    if (metres < least || metres > most) {
      if (typed[sure] === text) continue;
      const than = metres > most ? more : fewer;
      const length = say(metres, unit, rules);
      throw new Unlikely(_("%(length)s is %(than)s this site has seen. Check the unit.", { length, than }));
    }
  }
  return lengths;
}

function readLengthOrLinks(question, text, typed, rules) {
  const links = question.chain && LINKS.exec(plain(text, rules));
  if (!links) return readLength(text, question.bare, rules);
  return readLinks(Number(links[1]), links[2] ?? typed[question.chain] ?? "", rules);
}

/** Return the sum of `lengths`, added one by one as the site does. */
export function inAll(lengths) {
  let total = 0;
  for (const metres of lengths) total += metres;
  return total;
}

/** Return {value, soFar} of what `text` says in answer to a question; throw EntryError. */
function readOne(question, text, typed, rules) {
  if (question.sort === "flag") return { value: readFlag(text, rules) };
  if (question.sort === "count") return { value: readCount(text, rules) };
  if (question.sort === "mass") return { value: readMass(text, question.bare, rules) };
  if (question.sort === "day") return { value: readDay(text, rules) };
  if (question.sort === "names") return { value: readNames(text, rules) };
  if (question.several) {
    const each = believed(question, readSeveral(question, text, typed, rules), text, typed, rules);
    return { value: each.length > 1 ? each : each[0] };
  }
  if (question.sort !== "row") {
    const length = readLengthOrLinks(question, text, typed, rules);
    return { value: believed(question, [length], text, typed, rules)[0] };
  }
  const lengths = believed(question, readRow(text, question.bare, rules), text, typed, rules);
  if (!lengths.length) return {};
  const value = inAll(lengths) / lengths.length;
  if (lengths.length === 1 || lengths.length === rules.series) return { value };
  return {
    soFar:
      _("%(count)s of %(series)s readings, average so far %(average)s. The rule goes by %(series)s.", {
        count: lengths.length,
        series: rules.series,
        average: say(value, "in", rules),
      }),
  };
}

/** Return [name, name, why] of answers that cannot both be right, the later one second. */
function clashes(measures, { at_odds: weights, share_at_odds: share, kinds }) {
  const found = weights
    .filter(({ one, other, group }) => measures[other] && measures[one] && !measures[one].some((name) => mayBe(name, group, kinds)))
    .map(({ one, other, words }) => [one, other, words]);
  return measures[share.one] > measures[share.other] ? [...found, [share.one, share.other, share.words]] : found;
}

/**
 * Return what came of all entries, by question's name: `measures` in SI, `unread` why others
 * could not be read, `soFar` what a row too short to count comes to, and `unlikely`, the
 * names of those that are taken only if their writer says that they are right. A measure is
 * a list where several lengths were listed.
 */
export function readAll(typed, rules) {
  const found = { measures: {}, unread: {}, soFar: {}, unlikely: [] };
  for (const [name, question] of Object.entries(rules.questions)) {
    const text = typed[name] ?? "";
    if (!trim(plain(text, rules))) continue;
    const isSure = question.usual && typed[question.sure] === text;
    if (isSure) found.unlikely.push(name);
    try {
      const { value, soFar } = readOne(question, text, typed, rules);
      if (value !== undefined) found.measures[name] = value;
      if (soFar) found.soFar[name] = soFar;
    } catch (error) {
      if (!(error instanceof EntryError)) throw error;
      found.unread[name] = error.message;
      if (error instanceof Unlikely) found.unlikely.push(name);
    }
  }
  // Nobody can say which of the two is right: neither counts until one is mended.
  for (const [one, other, why] of clashes(found.measures, rules.trip)) {
    found.unread[other] = why;
    delete found.measures[one];
    delete found.measures[other];
  }
  return found;
}

/** Return of which chain links were counted, if it was named elsewhere. */
function chainWords(question, text, typed, rules) {
  const links = question.chain && LINKS.exec(plain(text, rules));
  if (!links || links[2]) return "";
  return _(", of %(size)s chain", { size: say(chainSize(typed[question.chain], rules), "in", rules) });
}

function listedWords({ several, bare, part_of: partOf }, lengths, rules) {
  const [least, most] = [Math.min(...lengths), Math.max(...lengths)].map((each) => say(each, bare, rules));
  const count = lengths.length;
  const words =
    several === "least"
      ? _("%(count)s readings, smallest %(least)s", { count, least })
      : _("%(count)s readings, largest %(most)s", { count, most });
  return partOf ? _("%(words)s, %(all)s in all", { words, all: say(inAll(lengths), bare, rules) }) : words;
}

/** Return what `text` in answer to a question comes to, in words; throw EntryError. */
function inWords(question, text, typed, rules) {
  const { value, soFar } = readOne(question, text, typed, rules);
  if (soFar) return soFar;
  const told = trim(plain(text, rules));
  if (value === undefined || AS_TYPED.includes(question.sort)) return told.split(/[ \n]+/).join(" ");
  if (Array.isArray(value)) return listedWords(question, value, rules);
  if (question.sort === "count") {
    return /bar/i.test(told) ? _("%(count)s meshes", { count: trimmed(value, 1) }) : told;
  }
  const words = say(value, question.bare, rules);
  if (question.sort !== "row") return words + chainWords(question, text, typed, rules);
  return splitList(text, rules).length > 1 ? _("%(words)s on average", { words }) : words;
}

/** Return what `text` says in answer to the question `name`; undefined if it cannot be read. */
export function readAlone(name, text, typed, rules) {
  const question = rules.questions[name];
  try {
    return readOne(question, text, { ...typed, [question.sure]: text }, rules).value;
  } catch (error) {
    if (!(error instanceof EntryError)) throw error;
    return undefined;
  }
}

/** Return what a reading comes to: "30 links = 41 1/4 in"; "" if as typed. */
export function workedOut({ name, text }, typed, rules) {
  const question = rules.questions[name];
  const told = trim(plain(text, rules));
  if (!told || !question) return "";
  try {
    const words = inWords(question, text, typed, rules);
    return words.toLowerCase() === told.split(/[ \n]+/).join(" ").toLowerCase() ? "" : `${told} = ${words}`;
  } catch (error) {
    if (!(error instanceof EntryError)) throw error;
    return _("%(entry)s: not counted. %(error)s", { entry: told, error: error.message });
  }
}

// Printing, with ties to the even neighbour as the site rounds

function rounded(number) {
  const near = Math.round(number);
  return Math.abs(number % 1) === 0.5 && near % 2 ? near - 1 : near;
}

/** Return a number to so many decimals at most, without zeros at the end. */
export function trimmed(value, decimals) {
  let text = value.toFixed(decimals);
  const exact = value.toFixed(Math.min(100, decimals + 60));
  const at = exact.length - (Math.min(100, decimals + 60) - decimals);
  if (/^50*$/.test(exact.slice(at))) {
    const cut = exact.slice(0, at).replace(/\.$/, "");
    if (Number(cut.at(-1)) % 2 === 0) text = cut;
  }
  if (text.includes(".")) text = text.replace(/0+$/, "").replace(/\.$/, "");
  return text === "-0" || text === "" ? "0" : text;
}

function mixed(ticks) {
  const whole = Math.floor(ticks / 16);
  let over = ticks % 16;
  let under = 16;
  if (!over) return String(whole);
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return whole ? `${whole} ${over}/${under}` : `${over}/${under}`;
}

function metresIn(unit, rules) {
  const [over, under] = rules.units[unit];
  return over / under;
}

function pounds(kilograms, { trip }) {
  const [over, under] = trip.masses.lb;
  return `${trimmed(kilograms / (over / under), 0).replace(/\B(?=(\d{3})+$)/g, ",")} lb`;
}

const days = (count) => ngettext("%(count)s day", "%(count)s days", count);

const PRINTERS = {
  in(metres, rules) {
    const sign = metres < 0 ? "-" : "";
    return `${sign}${mixed(rounded((Math.abs(metres) / metresIn("in", rules)) * 16))} in`;
  },
  ft(metres, rules) {
    const sign = metres < 0 ? "-" : "";
    const ticks = rounded((Math.abs(metres) / metresIn("in", rules)) * 16);
    const feet = Math.floor(ticks / 192);
    const rest = ticks % 192;
    if (!feet) return `${sign}${mixed(rest)} in`;
    return rest ? `${sign}${feet} ft ${mixed(rest)} in` : `${sign}${feet} ft`;
  },
  fm: (metres, rules) => `${trimmed(metres / metresIn("fm", rules), 2)} fm`,
  mm: (metres) => `${trimmed(metres * 1000, 1)} mm`,
  lb: pounds,
  "lb by mesh": pounds,
  percent: (share) => _("%(share)s percent", { share: trimmed(share * 100, 2) }),
  day: days,
  days,
  meshes: (number) => `${Number(number.toPrecision(6))} mesh${number === 1 ? "" : "es"}`,
};

/** Print a measure in the unit of its requirement. */
export function say(value, unit, rules) {
  return PRINTERS[unit](value, rules);
}
