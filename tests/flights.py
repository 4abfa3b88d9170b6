"""
The table of flights: what each change does to each invented net that ails, flown beforehand.

``python -m tests.flights`` makes all of ``rigs/tuning/flights/table`` anew, a file a net, which
takes half an hour on one processor; ``python -m tests.flights NET ...`` that of some, and with
``--missing`` only changes that are tried and not in it yet are flown. Read what changed in it: a
task whose right answer turns by it is another task. ``tests/rigs/test_flights.py`` flies some
of it again and fails where it differs.
"""

import json
import sys
from statistics import mean

from rigs.physics.flight import (
    NOTHING,
    Cases,
    NotAtRest,
    Reading,
    Seen,
    Span,
    Told,
    believe,
    draw,
    fit,
)
from rigs.tuning.flights import nets, table
from rigs.tuning.flights.tried import tried
from rigs.words.gear import PORT, STARBOARD
from rigs.words.units import INCH

ABOUT = "Invented nets, flown by the model. Made by python -m tests.flights: change nothing by hand"
"""The first line of each file."""
READ = 1.5 * INCH  # one standard deviation of a height read off the shine
FINE = INCH / 4  # to which it is read
NEAR = INCH / 4  # within which the shape of a net is set, before its shine is read
PLACES = 2  # decimals of an inch in the table


def beliefs_of(ailing):
    """
    Return what is believed of ``ailing`` once its shine was read at each place.

    Its shape is the likely one of a net that flies at its height in the center.
    """
    told = Told(ailing.speed)
    shape = fit(believe(ailing.rig, told), [Seen(ailing.rig, (Reading(0.0, ailing.center, NEAR),))])
    read = tuple(
        Reading(point.position, round(point.up / FINE) * FINE, READ)
        for point in shape.flown(ailing.rig).points
    )
    return fit(believe(ailing.rig, told), [Seen(ailing.rig, read)])


def ups(points):
    return [point.up for point in points]


def told_inches(values):
    """Return metres as the table has them."""
    return [round(value / INCH, PLACES) + 0.0 for value in values]


def low_side(heights):
    """Return the side that flies lower by the heights of its corner and its wing end."""
    return PORT if table.apart(heights) < 0 else STARBOARD


def likely(beliefs, rig):
    """Return the likely heights of ``rig`` at the places, as the table has them."""
    return told_inches(ups(beliefs.flown(rig).points))


def flown(beliefs, cases, rig):
    """Return a row of the table: what going over to ``rig`` does, likely and in all cases."""
    pairs = [(ups(old), ups(new)) for old, new in cases.pairs(rig)]
    moves = [[new - old for old, new in zip(*pair, strict=True)] for pair in pairs]
    by_place = list(zip(*moves, strict=True))
    spans = [Span.of(place) for place in by_place]
    heights = [mean(move[i] for i in table.HEIGHT) for move in moves]
    nearer = [abs(table.apart(old)) - abs(table.apart(new)) for old, new in pairs]
    return {
        "after": likely(beliefs, rig),
        "low": told_inches(span.low for span in spans),
        "high": told_inches(span.high for span in spans),
        "rises": [_count(place) for place in by_place],
        "sinks": [_count(-move for move in place) for place in by_place],
        "height": [_count(heights), _count(-move for move in heights)],
        "nearer": _count(nearer),
        "of": len(pairs),
    }


def _count(moves):
    """Return how many are more than anybody would overlook."""
    return sum(move > NOTHING for move in moves)


def state(ailing, kept=None):
    """Return the part of the table on ``ailing``; rows of ``kept``, the same as it was, stay."""
    wanted = tried(ailing, low_side(kept["before"])) if kept else ()
    if kept and all(mend.key in kept["changes"] for mend in wanted):
        return kept
    beliefs = beliefs_of(ailing)
    points = beliefs.flown(ailing.rig)
    cases: Cases = draw(beliefs, ailing.rig)
    changes = {}
    for mend in tried(ailing, low_side(ups(points.points))):
        if kept and mend.key in kept["changes"]:
            changes[mend.key] = kept["changes"][mend.key]
            continue
        try:
            changes[mend.key] = flown(beliefs, cases, mend.on(ailing.rig))
        except NotAtRest:
            print(f"left out, since it does not come to rest: {ailing.key}, {mend.key}")
    shine = {each.dropper.position: each.shine for each in points.trailing}
    return {
        "before": told_inches(ups(points.points)),
        "shine": told_inches(shine[point.position] for point in points.points),
        "changes": changes,
    }


def text_of(net, kept):
    """
    Return the file of ``net``, a row a line so that one sees which changed.

    ``kept`` are its parts as they were, where rows of them stay.
    """
    states = []
    for ailing in nets.states(net):
        made = state(ailing, kept.get(ailing.key))
        rows = ",\n".join(
            f"    {json.dumps(key)}: {json.dumps(row)}" for key, row in made["changes"].items()
        )
        states.append(
            f' {json.dumps(ailing.key)}: {{\n  "before": {json.dumps(made["before"])},\n'
            f'  "shine": {json.dumps(made["shine"])},\n  "changes": {{\n{rows}\n  }}\n }}'
        )
    return "{\n" + f' "about": {json.dumps(ABOUT)},\n' + ",\n".join(states) + "\n}\n"


def write(net, missing_only=False):
    path = table.path_of(net)
    kept = json.loads(path.read_text()) if missing_only and path.exists() else {}
    path.write_text(text_of(net, kept))


if __name__ == "__main__":
    named = [each for each in sys.argv[1:] if each != "--missing"]
    for each in nets.NETS:
        if each.key in (named or [net.key for net in nets.NETS]):
            write(each, missing_only="--missing" in sys.argv)
