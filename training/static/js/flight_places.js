/*
 * Where on a drawing of a net somebody may take hold of it, in pixels from its upper left corner.
 */

export const TOUCH = 44; // pixels: the least that a finger finds

/** Return the points of a text such as "12.5,40 30,41", `scale` times as large. */
export function pointsOf(text, scale = 1) {
  return (text ?? "")
    .split(" ")
    .filter(Boolean)
    .map((pair) => pair.split(",").map((number) => Number(number) * scale));
}

/**
 * Return the index of the one of `places` along a rope at which something is let go, or -1.
 *
 * `places` are points from one end of the rope to the other. What is let go farther than `reach`
 * from the rope is not on it.
 */
export function placeAt(places, [x, y], reach) {
  const along = [...places].sort((a, b) => a[0] - b[0]);
  const [first, last] = [along[0], along[along.length - 1]];
  if (x < first[0] - reach || x > last[0] + reach) return -1;
  const held = Math.min(Math.max(x, first[0]), last[0]);
  const after = along.findIndex((point) => point[0] >= held);
  const [from, to] = [along[Math.max(after - 1, 0)], along[after]];
  const share = to[0] === from[0] ? 0 : (held - from[0]) / (to[0] - from[0]);
  if (Math.abs(from[1] + share * (to[1] - from[1]) - y) > reach) return -1;
  const away = places.map((point) => Math.abs(point[0] - x));
  return away.indexOf(Math.min(...away));
}

/** Return `points` so far moved down that a finger finds each: none nearer than `least` to another. */
export function apart(points, least = TOUCH) {
  const placed = points.map((point) => [...point]);
  const settled = [];
  for (const point of [...placed].sort((a, b) => a[1] - b[1])) {
    for (const other of settled) {
      if (Math.abs(other[0] - point[0]) < least && point[1] - other[1] < least) point[1] = other[1] + least;
    }
    settled.push(point);
    settled.sort((a, b) => a[1] - b[1]);
  }
  return placed;
}
