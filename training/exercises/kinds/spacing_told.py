"""What is told beforehand of droppers along a footrope: how near, how far apart, how many."""

from django.utils.translation import gettext as _

from rigs.drawing.straight import straight_view
from rigs.words.gear import SIDES
from rigs.words.units import INCH

from .base import Picture
from .foretelling import (
    WRONG,
    Foretold,
    Part,
    Piece,
    both,
    hung,
    stretches,
    tally,
    typed,
    whatever,
    wrong,
)
from .spacing_form import SIGN

MANY = 16  # droppers so close together along a wing that their gaps break no rule
BIT = INCH / 100


def raw(places, on_sweep=None):
    """Return the raw answer of droppers at ``places``, exactly there."""
    return {
        "port": "\n".join(typed(-at) for at in sorted(places, reverse=True) if at < 0),
        "center": 0.0 in places,
        "starboard": "\n".join(typed(at) for at in sorted(places) if at > 0),
        "on_sweep": typed(abs(min(places)) if on_sweep is None else on_sweep),
    }


def foretold(kind, task):
    """Return what ``kind`` says of every answer to ``task``, as a Foretold."""
    told = _Told(kind, task)
    parts = [
        told.near("dropper_at_centre", 0.0),
        *(told.near(f"dropper_at_corners:{side}", told.rope.corner(side)) for side in SIDES),
        *(told.gaps(f"dropper_spacing:{side}", side) for side in SIDES),
    ]
    if task.has_sweep:
        parts.append(told.attached())
    unread = {"port": _("Hang at least one dropper. Write a distance like 6 ft 6 in.")}
    # The drawing that comes later has one's own droppers on it, too.
    return Foretold((*parts, told.count(len(parts))), told.pictures, unread, more=True)


class _Told:
    """Asks the kind what it says of droppers that differ in one respect."""

    def __init__(self, kind, task):
        self.kind, self.task, self.rope = kind, task, task.footrope
        self.fewest = list(task.fewest)
        self.reach = [abs(self.rope.end(side)) for side in SIDES]

    def line(self, key, places, on_sweep=None):
        lines = self.kind.lines(self.task, raw(places, on_sweep))
        return next(each for each in lines if each.key == key)

    def _part(self, read, points, line):
        """Return the Part of stretches of ``points`` in which ``line(measure)`` says the same."""
        ends, inside = stretches(lambda measure: line(measure).right, points)
        pieces = {}
        for at, measure in enumerate(inside):
            found = whatever(line(measure))
            pieces[str(at)] = Piece((found,), counts=wrong(found))
        return Part(read(ends), pieces)

    def near(self, key, mark):
        """Return the Part on how near to ``mark`` a dropper hangs."""
        reach = max(abs(self.rope.end(side) - mark) for side in SIDES)
        way = 1 if self.rope.end(SIDES[1]) - mark == reach else -1

        def line(off):
            return self.line(key, [mark + way * off])

        points = [0.0, BIT, INCH, reach - BIT]
        return self._part(lambda ends: hung("nearest", ends, self.reach, at=mark), points, line)

    def gaps(self, key, side):
        """Return the Part on the gaps along the wing on one ``side``, the last by itself."""
        sign, end = SIGN[side], abs(self.rope.end(side))
        start = abs(self.rope.corner(side))
        wing = end - start

        def close(low, high):
            return [low + n * (high - low) / MANY for n in range(MANY + 1)]

        def gap(wide):
            places = [start, *close(start + wide, end - BIT)]
            return self.line(key, [sign * at for at in places])

        def left(rest):
            return self.line(key, [sign * at for at in close(start, end - rest)])

        points = [wing / 64, wing / 2, wing - 2 * BIT]
        apart = stretches(lambda wide: gap(wide).right, points)
        rests = stretches(lambda rest: left(rest).right, points)
        pieces = {}
        for at, wide in enumerate(apart.inside):
            for place, rest in enumerate(rests.inside):
                found = gap(wide)
                found = whatever(left(rest) if found.right else found)
                pieces[f"{at}/{place}"] = Piece((found,), counts=wrong(found))
        along = {"start": sign * start, "end": sign * end}
        read = both(
            hung("widest", apart.ends, self.reach, **along),
            hung("left", rests.ends, self.reach, **along),
        )
        return Part(read, pieces)

    def attached(self):
        """Return the Part on where the dropper farthest to port meets the sweep."""
        at = abs(min(self.fewest))

        def line(off):
            return self.line("sweep_attachment", self.fewest, at + off)

        points = [0.0, BIT, INCH, 100 * INCH]
        return self._part(lambda ends: hung("apart", ends, self.reach), points, line)

    def count(self, others):
        """Return the Part on how many hang, after ``others``; with them it decides the pass."""
        enough = len(self.fewest)
        some = {"0": self.fewest, "1": [*self.fewest, self.fewest[0]]}
        pieces = {}
        for at, places in some.items():
            good = self.kind.grade(self.task, raw(places))
            bad = self.kind.grade(self.task, raw(self._bad(at)))
            # What is wrong besides is told in its own lines: here it costs the point.
            for missed, marked in enumerate((good, *(bad,) * others)):
                line = next(each for each in marked.lines if each.key == "fewest")
                pieces[f"{missed}/{at}"] = Piece((whatever(line),), passed=marked.passed)
        return Part(both(tally(WRONG), hung("many", [enough + 0.5], self.reach)), pieces)

    def _bad(self, at):
        """Return places that break a rule, no more than enough or, for "1", too many."""
        return [abs(self.rope.end(SIDES[1]))] * (len(self.fewest) + 1 if at == "1" else 1)

    def pictures(self):
        """Yield the fewest droppers that will do."""
        rig = self.task.rig(self.fewest)
        yield Picture(_("The fewest that will do"), straight_view(self.rope, rig.droppers))
