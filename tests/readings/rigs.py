"""
Rigs to read the findings of: sound, at the very limit, and broken each way there is.

Rule sets are found, not listed. What a change to a rig does to findings that it is not
meant for is left out, by comparing with the rig it was made from.
"""

import random
from dataclasses import replace

from rigs.make import faults, sample
from rigs.requirements.layout import floats
from rigs.rules.rulebook import gear_books
from rigs.words.gear import SQUARE, Footrope, Headrope
from rigs.words.units import FATHOM, FOOT, INCH
from tests.rigs.rig_factory import make_rig

SEEDS = 8
"""How many rigs at random each fault is put into; those that read alike are told once."""

HAIR = 0.0001  # metres, finer than any tape
EVEN = Footrope(16 * FOOT, 16 * FOOT, 16 * FOOT)


def _all(part, **changes):
    """Return a change to every member of ``part``."""

    def change(rig):
        members = getattr(rig, part)
        return members and rig.with_(**{part: tuple(replace(m, **changes) for m in members)})

    return change


def _one(part, index=-1, **changes):
    """Return a change to one member of ``part``."""

    def change(rig):
        members = list(getattr(rig, part))
        if not members:
            return None
        members[index] = replace(members[index], **changes)
        return rig.with_(**{part: tuple(members)})

    return change


def _part(part, **changes):
    """Return a change to the only ``part``, None if there is none."""

    def change(rig):
        held = getattr(rig, part)
        return held and rig.with_(**{part: replace(held, **changes)})

    return change


def _with(**changes):
    return lambda rig: rig.with_(**changes)


def _headrope(longer):
    """Return a change that makes the footrope so many metres longer than the headrope."""

    def change(rig):
        head = Headrope(rig.footrope.length - longer)
        return rig.with_(headrope=head, floats=floats(head, gear_books()[0], 8 * INCH))

    return change


def _hung(*gone):
    """Return a change that takes away the droppers with these numbers, from port."""

    def change(rig):
        count = len(rig.droppers)
        lost = {index % count for index in gone}
        return rig.with_(droppers=tuple(d for i, d in enumerate(rig.droppers) if i not in lost))

    return change


def _moved(index, step):
    """Return a change that moves one dropper, and its end on a sweep, ``step`` metres."""

    def change(rig):
        each = rig.droppers[index]
        met = None if each.sweep_position is None else each.sweep_position + step
        return _one("droppers", index, position=each.position + step, sweep_position=met)(rig)

    return change


def _halves(port, starboard):
    """Return a change that makes the sweep's halves so much longer than the footrope's."""

    def change(rig):
        rope = rig.footrope
        return rig.sweep and rig.with_(
            sweep=replace(
                rig.sweep, port=-rope.port_end + port, starboard=rope.starboard_end + starboard
            )
        )

    return change


def _cables(length):
    return _all("ground_cables", length=length)


# What is done to a rig that lies at every limit, each wing two whole steps long.
CHANGES = {
    "no droppers at all": _with(droppers=()),
    "droppers not looked at": _with(droppers=None),
    "no floats at all": _with(floats=()),
    "floats not looked at": _with(floats=None),
    "last dropper missing, one side": _hung(-1),
    "last dropper missing, both sides": _hung(0, -1),
    "both droppers of a wing missing": _hung(-1, -2),
    "a middle dropper and the last one missing, each on its wing": _hung(1, -1),
    "last dropper hung half way, so that a whole step is left past none": _moved(-1, -4 * FOOT),
    "center dropper missing": _hung(3),
    "center dropper 9 in off": _moved(3, 9 * INCH),
    "center dropper off by less than a tape shows": _moved(3, HAIR),
    "both corner droppers missing": _hung(2, 4),
    "one corner dropper 6 in off": _moved(4, -6 * INCH),
    "droppers just too short": _all("droppers", length=42 * INCH - HAIR),
    "droppers too short": _one("droppers", length=40 * INCH),
    "one dropper not measured": _one("droppers", length=None, diameter=None, bare=None),
    "one dropper not measured, another too short": lambda rig: _one("droppers", 0, length=None)(
        _one("droppers", length=40 * INCH)(rig)
    ),
    "dropper bar gauged at 8.0 mm": _all("droppers", diameter=0.008),
    "dropper bar gauged at 10.0 mm": _all("droppers", diameter=0.010),
    "a covered dropper": _one("droppers", bare=False),
    "a float of 20.3 cm": _one("floats", diameter=0.203),
    "a float just too small": _one("floats", diameter=8 * INCH - 0.001),
    "a float not measured": _one("floats", diameter=None),
    "top leg just too thick": _one("legs", top_diameter=INCH / 2 + HAIR),
    "bottom leg of 1.6 cm": _one("legs", bottom_diameter=0.016),
    "one leg's wire not measured": _one("legs", top_diameter=None, bottom_diameter=None),
    "legs 8 in apart on one side": _one("legs", bottom_length=10 * FATHOM - 8 * INCH),
    "one leg not measured": _one("legs", bottom_length=None),
    "legs not measured": _with(legs=()),
    "covering not looked at": lambda rig: _one("legs", bare_wire=None, extended=None)(rig),
    "an extension": _one("legs", extended=True),
    "a covered leg": _one("legs", bare_wire=False),
    "cable a fathom too long": _cables(31 * FATHOM),
    "cable just too long": _cables(30 * FATHOM + HAIR),
    "cable of 41 fm, legs not measured": lambda rig: _with(legs=())(_cables(41 * FATHOM)(rig)),
    "cable of 35 fm, legs not measured": lambda rig: _with(legs=())(_cables(35 * FATHOM)(rig)),
    "footrope 5 ft shorter than the headrope": _headrope(-5 * FOOT),
    "footrope as long as the headrope": _headrope(0.0),
    "footrope 21 ft longer than the headrope": _headrope(21 * FOOT),
    "headrope not measured": _with(headrope=Headrope(None)),
    "footrope on the bottom": _part("footrope", off_bottom=False),
    "whether the footrope touches not looked at": _part("footrope", off_bottom=None),
    "sweep short on one side": _halves(1 * FOOT, 6 * FOOT),
    "sweep as long as the footrope": _halves(0.0, 0.0),
    "sweep shorter than the footrope": _halves(-1 * FOOT, -1 * FOOT),
    "sweep just too short": _halves(3.5 * FOOT - HAIR, 3.5 * FOOT),
    "one half of the sweep not measured": _part("sweep", port=None),
    "sweep bar gauged at 8.0 mm": _part("sweep", diameter=0.008),
    "a wrapped sweep": _part("sweep", bare=False),
    "sweep on its own shackle": _part("sweep", joins_with_footrope=False),
    "one dropper leaning 6 in": lambda rig: (
        rig.sweep and _one("droppers", sweep_position=rig.droppers[-1].position + 6 * INCH)(rig)
    ),
    "the net without its sweep": lambda rig: rig.sweep and _with(sweep=None)(rig),
    "mesh an eighth too small": _part("codend", mesh=2.375 * INCH),
    "mesh not measured": _part("codend", mesh=None, counted=None),
    "square mesh, a bar short": _part("codend", counted=199, hanging=SQUARE),
    "one mesh short": _part("codend", counted=99),
    "a smaller vessel, one mesh short": lambda rig: _part("codend", counted=49)(
        _with(vessel_length=60 * FOOT)(rig)
    ),
    "length of the vessel not noted": _with(vessel_length=None),
    "bars 51 mm apart": _part("grate", bar_gap=0.051),
    "outlet 2 in narrower": _part("grate", outlet_width=34 * INCH),
    "outlet just narrower": _part("grate", outlet_width=36 * INCH - HAIR),
    "outlet 2 in wider": _part("grate", outlet_width=38 * INCH),
    "a grate that bends": _part("grate", stiff=False),
    "a grate in the wrong place": _part("grate", ahead_of_codend=False),
    "no grate": lambda rig: rig.grate and _with(grate=None)(rig),
    "a grate not looked at": _part(
        "grate", bar_gap=None, outlet_width=None, stiff=None, ahead_of_codend=None
    ),
}


def edge_rig(book):
    """Return a rig that just keeps every limit of ``book``, each wing two whole steps long."""
    return make_rig(book, footrope=EVEN)


def sound_rig(book):
    """Return a rig well inside every limit of ``book``."""
    return sample.legal_rig(random.Random(2), book, 2)


def changed(book):
    """Yield (what was done, rig) for each of CHANGES that can be done to a rig under ``book``."""
    rig = edge_rig(book)
    for what, change in CHANGES.items():
        made = change(rig)
        if made is not None and made != rig:
            yield what, made


def swept(book):
    """Yield the edge rig of ``book`` with a sweep, if it is a rule set against sweeps."""
    if book.has("no_sweep"):
        made = faults.spoil(
            sample.legal_rig(random.Random(1), book),
            "no_sweep",
            faults.Draw(random.Random(1), book),
        )
        yield "a sweep left on", edge_rig(book).with_(sweep=made.sweep)


def spoilt(book):
    """Yield (key, rig) for each requirement of ``book``, broken at random several times."""
    for key in faults.spoilable(book, customs=True):
        for seed in range(SEEDS):
            rng = random.Random(seed)
            rig = sample.legal_rig(rng, book, 1 + seed % 3)
            try:
                yield key, faults.spoil(rig, key, faults.Draw(rng, book))
            except faults.CannotMake:
                continue
