/*
 * Lengths in whole and part inches, read and printed as people write them on deck.
 *
 * It reads the usual ways only, so that a board can follow what is typed. The site
 * reads an answer itself when it is handed in, and has the last word.
 */

import { plainDigits } from "./digits.js";

const FEET_INCHES =
  /^(?:(\d+(?:\.\d+)?)\s*(?:ft\.?|feet|foot|'|-(?=\d+(?!\s*\/)))?)?\s*(?:(\d+(?:\.\d+)?)(?:\s+(\d+)\s*\/\s*(\d+))?\s*(?:in\.?|inch|inches|")?)?$/i;

/** Return inches for a text such as "6 ft 6 in", "6'6", "6-6", "78 in" or "6" (feet); null if unclear. */
export function readInches(text) {
  const entry = plainDigits(text).trim().replace(/[′’]/g, "'").replace(/[″”]/g, '"');
  const only = entry.match(/^(\d+(?:\.\d+)?)(?:\s+(\d+)\s*\/\s*(\d+))?\s*(?:in\.?|inch|inches|")$/i);
  if (only) return Number(only[1]) + part(only[2], only[3]);
  const both = entry.match(FEET_INCHES);
  if (!entry || !both || both[1] === undefined) return null;
  // Two bare numbers may be anything.
  if (both[2] !== undefined && !/ft|feet|foot|'|-/i.test(entry)) return null;
  // More than 11 inches after a dash are no inches.
  if (entry.includes("-") && Number(both[2]) > 11) return null;
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

/** Return inches to the nearest 1/under, as the site prints them: "6 ft 6 1/4 in", "5/16 in". */
export function printMeasure(inches, under) {
  const ticks = Math.round(inches * under);
  const feet = Math.floor(ticks / (12 * under));
  const rest = ticks - feet * 12 * under;
  const whole = Math.floor(rest / under);
  let over = rest - whole * under;
  let below = under;
  while (over && over % 2 === 0) [over, below] = [over / 2, below / 2];
  const words = [whole || !(over || feet) ? `${whole}` : "", over ? `${over}/${below}` : ""];
  const small = words.filter(Boolean).join(" ");
  if (!feet) return `${small} in`;
  return rest ? `${feet} ft ${small} in` : `${feet} ft`;
}
