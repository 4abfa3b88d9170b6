/*
 * Looks up what the site worked out beforehand for many settings: the entry nearest to what is set.
 *
 * Nothing is reckoned between two entries. A table is as `training/lessons/tabled.py` writes it.
 */

const HOLE = "{}";

/** Return where in `values` the one is that is nearest to `wanted`; -1 where none can be. */
function nearest(values, wanted) {
  if (typeof values[0] === "string") return values.indexOf(wanted);
  const away = values.map((value) => Math.abs(value - Number(wanted)));
  return away.indexOf(Math.min(...away));
}

/** Return the text of the entry of `table` nearest to `chosen`, settings by name; null if there is none. */
export function nearestEntry({ settings, frames, columns, entries }, chosen) {
  let at = 0;
  for (const [name, values] of settings) {
    const place = nearest(values, chosen[name]);
    if (place < 0) return null;
    at = at * values.length + place;
  }
  const [frame, place] = entries[at];
  const [text, holes] = frames[frame];
  const fills = holes.map((column) => columns[column].split(" ")[place]);
  return text
    .split(HOLE)
    .map((part, hole) => part + (fills[hole] ?? ""))
    .join("");
}
