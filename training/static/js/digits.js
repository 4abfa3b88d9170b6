/* Digits of every script, written as the plain ones. */

const isDigit = (point) => point >= 0 && /\p{Nd}/u.test(String.fromCodePoint(point));

/** Return the plain digit for one of any script: ten of each follow one another. */
function plainDigit(digit) {
  const point = digit.codePointAt(0);
  let first = point;
  while (isDigit(first - 1)) first -= 1;
  return String((point - first) % 10);
}

/** Return `text` with its decimal digits as plain ones; superscripts and the like stay. */
export function plainDigits(text) {
  return text.replace(/\p{Nd}/gu, plainDigit);
}
