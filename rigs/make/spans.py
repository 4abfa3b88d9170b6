"""
How far from its limit a reading lies, by level: far at level 1, a near miss at level 3.

Each requirement has a step, the finest that a tape or a gauge on deck tells apart, and so many
steps to a round figure (common practice, no source). At level 3 a reading lies no further off
than the next round figure, at level 2 than the second, at level 1 than the third. So no side has
the rounder figures, and whoever takes the nearest round figure for the limit is wrong as often
as right where limits are round.
"""

from rigs.words.sizes import CHAIN_LADDER, THINNEST_WIRE
from rigs.words.units import FOOT, INCH

LEVELS = (1, 2, 3)
NEAREST = LEVELS[-1]

# The step in SI, and the steps to a round figure.
_SCALES = {
    "float_diameter": (INCH / 2, 2),
    "float_spacing": (INCH, 12),
    "top_leg_wire": (INCH / 16, 2),
    "bottom_leg_wire": (INCH / 16, 2),
    "ground_cable_wire": (INCH / 16, 2),
    "legs_equal": (INCH, 4),
    "door_to_wing_end": (FOOT, 12),
    "footrope_longer": (3 * INCH, 8),
    "footrope_excess": (3 * INCH, 8),
    "dropper_length": (INCH / 2, 6),
    "dropper_at_centre": (INCH, 4),
    "dropper_at_corners": (INCH, 4),
    "dropper_spacing": (INCH, 12),
    # Printed as 7 ft and as 2.1 m, which is more than an inch less: either keeps it.
    "sweep_excess": (2 * INCH, 6),
    "sweep_excess_each_side": (INCH, 6),
    "sweep_wing_excess": (INCH, 6),
    "sweep_attachment": (INCH, 4),
    "mesh_size": (INCH / 16, 4),
    "mesh_count_long": (1, 10),
    "mesh_count_short": (1, 10),
    "grate_bar_gap": (0.001, 10),
    "grate_outlet": (INCH / 4, 4),
}
# Chain is what is sold: its steps are those from one size to the next.
_BY_SIZE = ("dropper_stock", "sweep_stock")
_SIZES = ((3, 4), (2, 3), (1, 2))

OFTEN_ROUND = 1 / 6  # how often a reading is a round figure, on either side of its limit

_WIRES = ("top_leg_wire", "bottom_leg_wire", "ground_cable_wire")


def step(key):
    """Return the step of the requirement ``key`` in SI; raise KeyError if it has none."""
    return _SCALES[key][0]


def is_upper(requirement):
    """Return whether what is more than the limit breaks ``requirement``, not what is less."""
    return requirement.test in ("at most", "every")


def is_plain(requirement):
    """Return whether the title of ``requirement`` tells the rule: a yes or no, or a limit of 0."""
    return requirement.limit is True or requirement.limit == 0


def distance(rng, key, level):
    """Return how far off a reading of ``key`` lies, in SI; at least a step."""
    size, to_round = _SCALES[key]
    furthest = (NEAREST + 1 - level) * to_round
    if rng.random() < max(OFTEN_ROUND, 1 / to_round):
        return furthest * size
    return (furthest - rng.randrange(1, to_round)) * size


def reading(rng, requirement, broken, level, edge_breaks=None):
    """
    Return a reading in SI that breaks or keeps ``requirement``, at the distance of ``level``.

    Of the nearest some are at the very limit, on the side that ``edge_breaks`` says, or else
    the test of the requirement; the other side has the next round figure as often.
    """
    key = requirement.key
    if key in _BY_SIZE:
        return _size(rng, requirement, broken, level)
    if edge_breaks is None:
        edge_breaks = requirement.test == "more than"
    off, at_limit = distance(rng, key, level), rng.random() < 1 / 2
    size, to_round = _SCALES[key]
    if at_limit and level == NEAREST and broken is edge_breaks and off == to_round * size:
        off = 0.0
    value = requirement.limit + (off if broken is is_upper(requirement) else -off)
    return max(value, THINNEST_WIRE) if key in _WIRES else value


def _size(rng, requirement, broken, level):
    """Return a chain size that is sold, as many sizes past the limit as ``level`` says."""
    steps = rng.randint(*_SIZES[level - 1])
    below, above = _ladders(requirement)
    ladder = above if broken else below
    return ladder[min(steps, len(ladder)) - 1]


def _ladders(requirement):
    """Return the sizes that keep the limit and those that do not, each the nearest first."""
    limit = requirement.limit + INCH / 64
    below = [size for size in reversed(CHAIN_LADDER) if size <= limit]
    return below, [size for size in CHAIN_LADDER if size > limit]


def span(requirement, level):
    """
    Return the least and the most, SI, by which a reading of ``requirement`` misses its limit.

    One that keeps it is off by as much, or lies at the limit itself at the nearest level.
    None for what is not measured but looked at.
    """
    key = requirement.key
    if key in _BY_SIZE:
        _, above = _ladders(requirement)
        least, most = (above[min(at, len(above)) - 1] for at in _SIZES[level - 1])
        return least - requirement.limit, most - requirement.limit
    if key not in _SCALES:
        return None
    size, to_round = _SCALES[key]
    nearer = (NEAREST - level) * to_round
    return (nearer + 1) * size, (nearer + to_round) * size


def around(rng, requirement, level, count):
    """
    Return ``count`` readings in SI, the smallest first, with the limit anywhere about them.

    None, some or all keep it, each number as likely where sizes allow. The limit lies at random
    within one of the gaps, which are all drawn alike: narrow at level 3, wide at level 1. So
    neither the place of a reading nor the gaps tell where the limit is.
    """
    if requirement.key in _BY_SIZE:
        return _sizes_around(rng, requirement, level, count)
    size, to_round = _SCALES[requirement.key]
    half = max(1, to_round // 2)
    least, most = ((to_round + 1, 2 * to_round), (half + 1, to_round), (1, half))[level - 1]
    gap = rng.randint(least, most)
    kept = rng.randrange(gap)
    met, broken = rng.randint(0, count), gap - kept
    away = -size if is_upper(requirement) else size
    found = []
    while len(found) < met and requirement.limit + kept * away > size / 2:
        found.append(requirement.limit + kept * away)
        kept += rng.randint(least, most)
    while len(found) < count and requirement.limit - broken * away > size / 2:
        found.append(requirement.limit - broken * away)
        broken += rng.randint(least, most)
    return sorted(found)


def _sizes_around(rng, requirement, level, count):
    """Return sizes of chain that follow each other, with the limit anywhere about them."""
    below, above = _ladders(requirement)
    if level == LEVELS[0]:  # every other one
        offset = rng.randrange(2)
        below, above = below[offset::2], above[1 - offset :: 2]
    met = rng.randint(max(0, count - len(above)), min(count, len(below)))
    return sorted(below[:met] + above[: count - met])
