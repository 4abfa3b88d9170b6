/*
 * What is written on a check sheet, read into metres and printed back.
 *
 * It reads and prints as the site does, to the last bit, so that a verdict out of reach of
 * the site is the one that the site gives. Units, chains and bounds come with the page, as
 * `rules`; no limit is known here.
 */

const PIECE =
  /\s*(?:(\d+)(?:\s+|-)(\d+)\s*\/\s*(\d+)|(\d+)\s*\/\s*(\d+)|(\d+(?:\.\d*)?|\.\d+))\s*(m\/s|"|'|[A-Za-z]+\.?)?\s*,?/y;
const VULGAR = { "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };
const LONE_FRACTION = /^\s*(?:\d+\s*\/\s*\d+|[¼½¾⅛⅜⅝⅞])\s*$/;
const LINKS = /^\s*(\d{1,4})\s*links?(?:\s+of\s+(.+))?\s*$/i;
const COUNT = /^\s*(\d{1,6})\s*(mesh(?:es)?|bars?)?\s*$/i;
const LONGEST_ENTRY = 60;
const HINT = "Write it like 3 ft 6 in, 42 in, 5/16 in, 12 fm or 1.07 m.";

/** An entry that could not be read; its message is meant for the writer. */
export class EntryError extends Error {}

// Fractions of whole numbers, so that nothing is rounded before the end.
const fraction = (over, under = 1n) => [BigInt(over), BigInt(under)];
const add = ([a, b], [c, d]) => [a * d + c * b, b * d];
const times = ([a, b], [c, d]) => [a * c, b * d];
const isLess = ([a, b], [c, d]) => a * d < c * b;

function decimal(text) {
  const [whole, part = ""] = text.split(".");
  return fraction(whole + part || "0", 10n ** BigInt(part.length));
}

function toNumber([over, under]) {
  let [a, b] = [over, under];
  while (b) [a, b] = [b, a % b];
  return a ? Number(over / a) / Number(under / a) : 0;
}

function tidy(text) {
  let entry = text.trim().replace(/[″”“]/g, '"').replace(/[′’‘]/g, "'").replaceAll("''", '"');
  for (const [sign, plain] of Object.entries(VULGAR)) {
    entry = entry.replace(new RegExp(`(?<=\\d)\\s*${sign}`, "g"), ` ${plain}`).replaceAll(sign, plain);
  }
  return entry;
}

function pieces(entry, rules) {
  const found = [];
  PIECE.lastIndex = 0;
  for (let at = 0; at < entry.length; at = PIECE.lastIndex) {
    PIECE.lastIndex = at;
    const match = PIECE.exec(entry);
    if (!match) throw new EntryError(`“${entry.slice(at).trim()}” was not understood. ${HINT}`);
    const [, whole, over, under, lone, loneUnder, plain, name] = match;
    if (/^0+$/.test(under ?? loneUnder ?? "1")) throw new EntryError(`That divides by nought. ${HINT}`);
    let number;
    if (whole) number = add(fraction(whole), fraction(over, under));
    else if (lone) number = fraction(lone, loneUnder);
    else number = decimal(plain);
    const unit = name && rules.unit_names[name.toLowerCase()];
    if (name && !unit) throw new EntryError(`“${name}” is not a unit known here. ${HINT}`);
    found.push([number, unit ?? null]);
  }
  return found;
}

/** Return metres, with a lone number in the unit `bare`. */
function readLength(text, bare, rules) {
  const entry = tidy(text);
  if (entry.length > LONGEST_ENTRY) throw new EntryError(`That entry is too long to read. ${HINT}`);
  if (/^[-−–]/.test(entry)) throw new EntryError(`That is less than nothing. ${HINT}`);
  const usual = LONE_FRACTION.test(text) ? "in" : bare;
  const told = pieces(entry, rules);
  let total = fraction(0);
  let previous = null;
  told.forEach(([number, given], index) => {
    let unit = given;
    if (!unit && index && previous === "ft" && index === told.length - 1) unit = "in";
    if (!unit && told.length === 1) unit = usual;
    if (!unit) throw new EntryError(`Say in which unit. ${HINT}`);
    const size = rules.units[unit].map(BigInt);
    if (previous && !isLess(size, rules.units[previous].map(BigInt))) {
      throw new EntryError(`The units are out of order. ${HINT}`);
    }
    total = add(total, times(number, size));
    previous = unit;
  });
  return toNumber(total);
}

function readLinks(number, size, rules) {
  if (!size) throw new EntryError("Say the size of the chain first, or write it like 34 links of 3/8 in.");
  if (number > rules.most_links) throw new EntryError("That is more links than any dropper or sweep has.");
  const metres = readLength(size, "in", rules);
  const stock = rules.pitches.find(([nominal]) => Math.abs(nominal - metres) < rules.stock_tolerance);
  if (!stock) throw new EntryError("No chain is sold in that size. Measure its length instead.");
  return number * stock[1];
}

function readCount(text, rules) {
  const found = COUNT.exec(text);
  if (!found) throw new EntryError("This was not understood. Write it like 100 or 200 bars.");
  const number = Number(found[1]);
  if (number > rules.most_meshes) throw new EntryError("That is more than any codend has.");
  return /^bar/i.test(found[2] ?? "") ? number / 2 : number;
}

/** Return what `text` says in answer to the question `name`, null if nothing; throw EntryError. */
export function readOne(name, text, typed, rules) {
  if (!text?.trim()) return null;
  const question = rules.questions[name];
  if (question.sort === "flag") return text === "yes";
  if (question.sort === "count") return readCount(text, rules);
  const links = question.chain && LINKS.exec(text);
  const metres = links
    ? readLinks(Number(links[1]), (links[2] ?? typed[question.chain] ?? "").trim(), rules)
    : readLength(text, question.bare, rules);
  if (metres > rules.longest) throw new EntryError("That is longer than any net. Check the unit.");
  return metres;
}

/** Return what could be read of all entries, and why the others could not, by name. */
export function readAll(typed, rules) {
  const measures = {};
  const unread = {};
  for (const name of Object.keys(rules.questions)) {
    try {
      const value = readOne(name, typed[name], typed, rules);
      if (value !== null) measures[name] = value;
    } catch (error) {
      if (!(error instanceof EntryError)) throw error;
      unread[name] = error.message;
    }
  }
  return { measures, unread };
}

// Printing, with ties to the even neighbour as the site rounds

function rounded(number) {
  const near = Math.round(number);
  return Math.abs(number % 1) === 0.5 && near % 2 ? near - 1 : near;
}

function trimmed(value, decimals) {
  let text = value.toFixed(decimals);
  const exact = value.toFixed(Math.min(100, decimals + 60));
  const at = exact.length - (Math.min(100, decimals + 60) - decimals);
  if (/^50*$/.test(exact.slice(at))) {
    const cut = exact.slice(0, at);
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
  meshes: (number) => `${Number(number.toPrecision(6))} meshes`,
};

/** Print a measure in the unit of its requirement. */
export function say(value, unit, rules) {
  return PRINTERS[unit](value, rules);
}
