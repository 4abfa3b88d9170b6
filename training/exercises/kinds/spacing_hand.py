"""How modelled people hang droppers along a footrope."""

from rigs.rules.rulebook import ROUNDING
from rigs.words.gear import SIDES
from rigs.words.units import FOOT

from .spacing_form import SIGN, answer_at

STRETCH = 9 / 8  # how much further apart a stretched wing's droppers are: a foot in eight


def _forget_the_center(task, places, rng):
    return [at for at in places if at != 0]


def _forget_a_corner(task, places, rng):
    corner = task.footrope.corner(rng.choice(SIDES))
    return [at for at in places if abs(at - corner) > ROUNDING]


def _forget_the_outermost(task, places, rng):
    outermost = rng.choice([min(places), max(places)])
    return [at for at in places if at != outermost]


def _stretch_a_wing(task, places, rng):
    """Hang one wing's droppers too far apart, and as many as then fit."""
    side = rng.choice(SIDES)
    corner, end = task.footrope.corner(side), task.footrope.end(side)
    stretched = [
        corner + (at - corner) * STRETCH if abs(at) > abs(corner) else at
        for at in places
        if at * SIGN[side] > 0
    ]
    rest = [at for at in places if at * SIGN[side] <= 0]
    return rest + [at for at in stretched if abs(at) <= abs(end)]


def _one_too_many(task, places, rng):
    """Hang one more where none is needed, half way between two."""
    places = sorted(places)
    at = rng.randrange(len(places) - 1) if len(places) > 1 else 0
    return [*places, sum(places[at : at + 2]) / 2]


SLIPS = (_stretch_a_wing, _forget_a_corner, _forget_the_outermost, _forget_the_center)


def _hung_every(task, interval):
    """Return the places of droppers at the center, the corners, and every so many metres."""
    places = [0.0]
    for side in SIDES:
        corner, end = abs(task.footrope.corner(side)), abs(task.footrope.end(side))
        steps = int((end - corner) / interval + ROUNDING)
        places += [SIGN[side] * (corner + step * interval) for step in range(steps + 1)]
    return sorted(set(places))


def hung_by(task, mind, rng):
    """
    Return the raw answer of ``mind`` to ``task``: the fewest that will do.

    Who does not know how far apart they go hangs them by the guess made of it.
    """
    spacing = task.rulebook.requirement("dropper_spacing")
    places = list(task.fewest)
    if not (mind.knows(spacing) or mind.directed):
        reach = [abs(task.footrope.end(side)) for side in SIDES]
        count = rng.randint(3, 12)
        return answer_at(sorted({round(rng.uniform(-reach[0], reach[1]), 2) for _ in range(count)}))
    if not mind.knows(spacing):
        places = _hung_every(task, max(1, round(2 * mind.limit(spacing) / FOOT)) * FOOT / 2)
    if mind.slips_on(mind.slips.work[task.difficulty], rng):
        # With nothing left on the footrope there would be nothing to turn in.
        places = rng.choice((*SLIPS, _one_too_many))(task, places, rng) or places
    return answer_at(places)
