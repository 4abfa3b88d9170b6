"""
Things that look wrong on a rig and are not, to test whoever judges by the look of it.

Each is a function of a rig and a random.Random. ``red_herrings`` puts what it makes before the
judge, as faults are.
"""

from dataclasses import replace

from rigs.words.sizes import chains, floats, wires
from rigs.words.units import FATHOM, FOOT, INCH

from .faults import CannotSpoil


def _between(parts, rng):
    """Return the index of one of ``parts`` that has a neighbour after it."""
    return rng.randrange(len(parts) - 1)


def _extra_dropper(rig, rng):
    """Hang one dropper more, half way between two others."""
    index = _between(rig.droppers, rng)
    here, there = rig.droppers[index : index + 2]
    middle = (here.position + there.position) / 2
    met = None if rig.sweep is None or here.sweep_position is None else middle
    extra = replace(here, position=middle, sweep_position=met)
    return replace(rig, droppers=(*rig.droppers[: index + 1], extra, *rig.droppers[index + 1 :]))


def _one_of(parts, rng, change):
    index = rng.randrange(len(parts))
    return (*parts[:index], change(parts[index]), *parts[index + 1 :])


def _long_dropper(rig, rng):
    """Make one dropper longer than the rest."""
    more = rng.randint(4, 14) * INCH
    longer = _one_of(rig.droppers, rng, lambda each: replace(each, length=each.length + more))
    return replace(rig, droppers=longer)


def _light_dropper(rig, rng):
    """Cut one dropper from lighter chain than the rest."""

    def lighter(each):
        return replace(each, diameter=max(c for c in chains() if c < each.diameter))

    return replace(rig, droppers=_one_of(rig.droppers, rng, lighter))


def _big_float(rig, rng):
    """Put one larger float among the others."""

    def larger(each):
        return replace(each, diameter=min(f for f in floats() if f > each.diameter))

    return replace(rig, floats=_one_of(rig.floats, rng, larger))


def _extra_float(rig, rng):
    """Put one float more, half way between two others."""
    index = _between(rig.floats, rng)
    here, there = rig.floats[index : index + 2]
    extra = replace(here, position=(here.position + there.position) / 2)
    return replace(rig, floats=(*rig.floats[: index + 1], extra, *rig.floats[index + 1 :]))


def _short_side(rig, rng):
    """Make both legs of one side shorter than those of the other."""
    less = rng.randint(1, 3) * FATHOM

    def shorter(leg):
        return replace(
            leg, top_length=leg.top_length - less, bottom_length=leg.bottom_length - less
        )

    return replace(rig, legs=_one_of(rig.legs, rng, shorter))


def _thin_wire(rig, rng):
    """Use a thinner bottom leg on one side than on the other."""

    def thinner(leg):
        wire = max(w for w in wires() if w < leg.bottom_diameter)
        return replace(leg, bottom_diameter=wire)

    return replace(rig, legs=_one_of(rig.legs, rng, thinner))


def _short_cable(rig, rng):
    """Make one ground cable shorter than the other."""
    less = rng.randint(1, 6) * FATHOM
    cables = _one_of(rig.ground_cables, rng, lambda each: replace(each, length=each.length - less))
    return replace(rig, ground_cables=cables)


def _long_sweep_half(rig, rng):
    """Let one half of the sweep hang slacker than the other."""
    if rig.sweep is None:
        raise CannotSpoil
    more = rng.randint(1, 6) * FOOT / 2
    return replace(rig, sweep=replace(rig.sweep, port=rig.sweep.port + more))


ODDITIES = {
    "extra dropper": _extra_dropper,
    "long dropper": _long_dropper,
    "light dropper": _light_dropper,
    "big float": _big_float,
    "extra float": _extra_float,
    "short legs": _short_side,
    "thin wire": _thin_wire,
    "short cable": _short_cable,
    "long sweep half": _long_sweep_half,
}
