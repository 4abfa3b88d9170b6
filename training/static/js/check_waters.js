/*
 * Where a position lies to the areas of a rule, as the site finds it.
 *
 * Positions are {latitude, longitude} in decimal degrees; `earth` comes with the page: the
 * ellipsoid, how near a line nobody can tell, and what rounding leaves open.
 */

export const [INSIDE, NEAR, SHORE, OUTSIDE] = ["in", "near", "shore", "out"];
const ORDER = [INSIDE, NEAR, SHORE, OUTSIDE];

const radians = (degrees) => (degrees * Math.PI) / 180;

/** Return how many metres one degree is to the north and to the east. */
function degreeLengths(latitude, { axis, eccentricity }) {
  const bulge = 1 - eccentricity * Math.sin(radians(latitude)) ** 2;
  const across = axis / Math.sqrt(bulge);
  const along = (across * (1 - eccentricity)) / bulge;
  return [radians(along), radians(across) * Math.cos(radians(latitude))];
}

function metresBetween(one, other, earth) {
  const [north, east] = degreeLengths((one.latitude + other.latitude) / 2, earth);
  return Math.hypot((other.latitude - one.latitude) * north, (other.longitude - one.longitude) * east);
}

function sidesOf({ corners, closed_by: closedBy }) {
  const all = corners.map(([name, latitude, longitude]) => ({ name, latitude, longitude }));
  const onward = closedBy ? all.slice(1) : [...all.slice(1), all[0]];
  return onward.map((end, at) => ({ start: all[at], end }));
}

function nearestOn({ start, end }, position, earth) {
  let nearest = position;
  for (let turn = 0; turn < 3; turn += 1) {
    const [north, east] = degreeLengths((position.latitude + nearest.latitude) / 2, earth);
    const dx = (end.longitude - start.longitude) * east;
    const dy = (end.latitude - start.latitude) * north;
    const px = (position.longitude - start.longitude) * east;
    const py = (position.latitude - start.latitude) * north;
    const share = Math.min(Math.max((px * dx + py * dy) / (dx * dx + dy * dy), 0), 1);
    nearest = {
      latitude: start.latitude + (end.latitude - start.latitude) * share,
      longitude: start.longitude + (end.longitude - start.longitude) * share,
    };
  }
  return nearest;
}

// In the plane of degrees, x east and y north

function fromSegment([x, y], [ax, ay], [bx, by]) {
  const [dx, dy] = [bx - ax, by - ay];
  const share = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy), 0), 1);
  return Math.hypot(x - (ax + share * dx), y - (ay + share * dy));
}

/** Return whether a point lies in a polygon, or as near it as rounding leaves open. */
function liesInPolygon(point, polygon, rounding) {
  const [x, y] = point;
  let isIn = false;
  for (const [at, [ax, ay]] of polygon.entries()) {
    const [bx, by] = polygon[(at + 1) % polygon.length];
    if (fromSegment(point, [ax, ay], [bx, by]) <= rounding) return true;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) isIn = !isIn;
  }
  return isIn;
}

/** Return whether a position lies in an area; null where its corners do not tell. */
function liesIn({ latitude, longitude }, { corners, closed_by: closedBy }, { rounding }) {
  const point = [longitude, latitude];
  const polygon = corners.map(([, north, east]) => [east, north]);
  if (liesInPolygon(point, polygon, rounding)) return true;
  if (!closedBy) return false;
  const [first, last] = [polygon[0], polygon.at(-1)];
  const inland = [Math.min(last[0], first[0]), Math.max(last[1], first[1])];
  return liesInPolygon(point, [last, inland, first], rounding) ? null : false;
}

/** Return how `position` lies to `area`: {area, way, line: [name, name], metres}. */
function place(position, area, earth) {
  const sides = sidesOf(area).map((side) => ({
    line: [side.start.name, side.end.name],
    metres: metresBetween(position, nearestOn(side, position, earth), earth),
  }));
  const nearest = sides.reduce((best, each) => (each.metres < best.metres ? each : best));
  const inside = liesIn(position, area, earth);
  const sure = inside === null ? SHORE : inside ? INSIDE : OUTSIDE;
  return { area, way: nearest.metres <= earth.doubt ? NEAR : sure, ...nearest };
}

/** Return how `position` lies to that of `areas` which settles where it is. */
export function settle(position, areas, earth) {
  const rank = ({ way }) => ORDER.indexOf(way);
  return areas
    .map((area) => place(position, area, earth))
    .reduce((best, each) => (rank(each) < rank(best) || (rank(each) === rank(best) && each.metres < best.metres) ? each : best));
}
