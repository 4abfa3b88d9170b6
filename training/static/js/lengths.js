/*
 * Lengths in whole and part inches, read and printed as people write them on deck.
 *
 * It reads the usual ways only, so that a board can follow what is typed. The site
 * reads an answer itself when it is handed in, and has the last word.
 */

const FEET_INCHES =
  /^(?:(\d+(?:\.\d+)?)\s*(?:ft\.?|feet|foot|')?)?\s*(?:(\d+(?:\.\d+)?)(?:\s+(\d+)\s*\/\s*(\d+))?\s*(?:in\.?|inch|inches|")?)?$/i;

/** Return inches for a text such as "6 ft 6 in", "6'6", "78 in" or "6" (feet); null if unclear. */
export function readInches(text) {
  const entry = text.trim().replace(/[′’]/g, "'").replace(/[″”]/g, '"');
  const only = entry.match(/^(\d+(?:\.\d+)?)(?:\s+(\d+)\s*\/\s*(\d+))?\s*(?:in\.?|inch|inches|")$/i);
  if (only) return Number(only[1]) + part(only[2], only[3]);
  const both = entry.match(FEET_INCHES);
  if (!entry || !both || both[1] === undefined) return null;
  // Two bare numbers may be anything.
  if (both[2] !== undefined && !/ft|feet|foot|'/i.test(entry)) return null;
  return Number(both[1]) * 12 + Number(both[2] ?? 0) + part(both[3], both[4]);
}

function part(over, under) {
  return over && Number(under) ? Number(over) / Number(under) : 0;
}

/** Return inches, not negative, as "6 ft 6 in", "8 ft" or "5 in". */
export function printInches(inches) {
  const feet = Math.floor(inches / 12 + 1e-9);
  const rest = Math.round((inches - feet * 12) * 16) / 16;
  if (!feet) return `${rest} in`;
  return rest ? `${feet} ft ${rest} in` : `${feet} ft`;
}
