"""The floats along the headrope."""

from collections.abc import Iterable
from dataclasses import replace
from itertools import accumulate
from math import ceil
from random import Random

from rigs.words import sizes
from rigs.words.gear import SIDES, Float, Headrope, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH, feet_inches, inches

from .base import Measure, worst
from .doubt import Doubt, beyond, many
from .layout import floats
from .making import EASIEST, CannotMake, Making, Rules, Told, farthest, listed, swapped, there
from .oddity import Oddity, one_between, one_changed
from .questions import LEAST, LENGTH, MOST, Question, one
from .readings import PLAY, Readings
from .sizing import Sizing
from .spans import Steps
from .worked_out.floats import FLOAT_SPACING

_CLOSEST = 28 * INCH  # from float to float: closer, a headrope would be all floats


def even_floats(head: Headrope, rng: Random, rules: Rules, diameter: float) -> tuple[Float, ...]:
    """Return floats of ``diameter`` metres along ``head``, closer than they need be."""
    length = there(head.length)
    widest = rules.requirement("float_spacing").limit - rng.randint(6, 14) * INCH
    gaps = ceil(length / widest)
    return tuple(Float(length * (i / gaps - 0.5), diameter) for i in range(gaps + 1))


def _larger(rig: Rig, rng: Random) -> Rig:
    """Put one larger float among the others."""

    def larger(each: Float) -> dict[str, float]:
        return {"diameter": min(size for size in sizes.floats() if size > there(each.diameter))}

    return rig.with_(floats=one_changed(there(rig.floats), rng, larger))


class FloatDiameter(Measure):
    """How big the floats are."""

    key = "float_diameter"
    about = gettext_lazy("Floats")
    sizes_of = gettext_lazy("Floats, measured across")
    on_drawing = gettext_lazy("Measure each float across.")
    dimension = "length"
    allowance = "diameter"
    scale = Steps(INCH / 2, 2)
    turn = 50
    oddities = (
        Oddity(
            8,
            gettext_lazy("big float"),
            _larger,
            gettext_lazy("One float is larger than the rest. Only the smallest one counts."),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        if rig.floats is None:
            return None
        return [each.diameter for each in rig.floats], rig.floats

    sheet = one(
        gettext_lazy("smallest float"),
        Question(
            "float_size",
            gettext_lazy("Floats across, one by one, or the smallest"),
            LENGTH,
            "in",
            "float",
            help=gettext_lazy("Commas between. Begin at the port wing end."),
            picks=tuple(inches(size) for size in sizes.floats()),
            several=LEAST,
            of=lambda rig: worst(FloatDiameter, rig, min),
            stop="headrope",
            place=20,
        ),
        each=gettext_lazy("float {at} of {of} measured"),
    )

    def put(self, making: Making) -> Rig:
        return farthest(making, "floats", "diameter")

    def near(self, making: Making) -> Told:
        """Some floats measured, among them the smallest."""
        floats = there(making.rig.floats)
        worst = making.reading()
        sizes = making.mixed(worst, *making.beside(worst, 2, most=2))
        rest = replace(floats[0], diameter=max(sizes))
        made = [replace(rest, position=each.position) for each in floats]
        for index, size in zip(making.rng.sample(range(len(made)), len(sizes)), sizes, strict=True):
            made[index] = replace(made[index], diameter=size)
        told = listed([inches(size) for size in sizes])
        return making.rig.with_(floats=tuple(made)), (
            _("The smallest floats are {told} across.").format(told=told),
        )


def _none_in_the_middle(rig: Rig, rng: Random) -> Rig:
    """Space the floats evenly with a gap, not a float, in the middle."""
    floats, length = there(rig.floats), there(rig.headrope.length)
    gaps = len(floats) - 1
    if gaps % 2:
        raise CannotMake(_("no float in the middle"))
    size = floats[0].diameter
    return rig.with_(
        floats=tuple(Float(length * (i / (gaps + 1) - 0.5), size) for i in range(gaps + 2))
    )


def _one_more(rig: Rig, rng: Random) -> Rig:
    """Put one float more, half way between two others."""

    def between(here: Float, after: Float) -> Float:
        return replace(here, position=(here.position + after.position) / 2)

    return rig.with_(floats=one_between(there(rig.floats), rng, between))


class FloatSpacing(Measure):
    """How far apart the floats are, and from the ends of the headrope."""

    key = "float_spacing"
    about = gettext_lazy("Floats along the headrope")
    sizes_of = gettext_lazy("Gaps between floats, from middle to middle")
    on_drawing = gettext_lazy(
        "Measure from float to float, and from the last ones to the rope's ends."
    )
    worked_out = FLOAT_SPACING
    dimension = "length"
    allowance = "length"
    missing_fails = True
    scale = Steps(INCH, 12)
    turn = 20
    oddities = (
        Oddity(
            6,
            gettext_lazy("no float in the middle"),
            _none_in_the_middle,
            gettext_lazy(
                "No float sits at the middle of the headrope. None has to: only gaps are measured."
            ),
        ),
        Oddity(
            7,
            gettext_lazy("extra float"),
            _one_more,
            gettext_lazy("There is one float more than needed. Closer together is fine."),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        if rig.floats is None or rig.headrope.length is None:
            return None
        half = rig.headrope.length / 2
        places = sorted([each.position for each in rig.floats])
        if places and (places[0] < -half or places[-1] > half):
            # At its end if just past it; farther out a float is on no part of the rope.
            places = [max(-half, min(half, place)) for place in places if abs(place) <= half + PLAY]
        if not places:
            return [rig.headrope.length], (_("whole headrope"),)
        stops = [-half, *places, half]
        pairs = list(zip(stops, stops[1:], strict=False))
        return [b - a for a, b in pairs], pairs

    def doubts(self, rig: Rig) -> Iterable[Doubt]:
        if rig.headrope.length is None:
            return
        half = rig.headrope.length / 2
        for side in SIDES:
            if past := beyond(rig.floats or (), side, half):
                yield Doubt(
                    _(
                        "{many} past the {side} end of the headrope, which is {feet_inches} from "
                        "its center."
                    ).format(
                        many=many(len(past), "float"), side=side, feet_inches=feet_inches(half)
                    ),
                    past,
                    _("Check the place, or the length of the headrope. It counts for no gap."),
                )

    sheet = one(
        gettext_lazy("widest gap between floats"),
        Question(
            "float_gap",
            gettext_lazy("Gaps between floats, one by one, or the widest"),
            LENGTH,
            "ft",
            gettext_lazy("float gap"),
            help=gettext_lazy(
                "Middle to middle, with commas between. The stretches to the two wing ends are "
                "gaps too. Begin at the port wing end."
            ),
            several=MOST,
            part_of="headrope",
            of=lambda rig: worst(FloatSpacing, rig, max),
            stop="headrope",
            place=30,
        ),
        each=gettext_lazy("gap between floats {at} of {of} measured"),
    )

    def spoil(self, making: Making) -> Rig:
        """Take a float off, which leaves a wide gap, or shift one to leave one a bit too wide."""
        floats = there(making.rig.floats)
        inner = making.rng.randrange(1, len(floats) - 1)
        if making.level == EASIEST:
            return making.rig.with_(floats=floats[:inner] + floats[inner + 1 :])
        before, __, after = floats[inner - 1 : inner + 2]
        gap = making.reading()
        place = making.rng.choice([before.position + gap, after.position - gap])
        if not before.position < place < after.position:
            raise CannotMake(self.key)
        return making.rig.with_(floats=swapped(floats, inner, position=place))

    def put(self, making: Making) -> Rig:
        """Set the floats anew, all gaps alike but one, the widest."""
        rng, length = making.rng, there(making.rig.headrope.length)
        size = there(making.rig.floats)[0].diameter
        wide, usual = (max(gap, _CLOSEST) for gap in (making.reading(), making.inside))
        rest = length - wide
        count = int(rest / (usual - rng.randint(3, 8) * INCH)) + 1
        gaps = [rest / count] * count
        gaps.insert(rng.randrange(1, count), wide)
        places = accumulate(gaps, initial=-length / 2)
        return making.rig.with_(floats=tuple(Float(place, size) for place in places))

    def near(self, making: Making) -> Told | None:
        """The three widest gaps, one of them from the last float to the end of the headrope."""
        half = there(making.rig.headrope.length) / 2
        ball = there(making.rig.floats)[0].diameter
        worst = making.reading()
        at_end, *inner = making.mixed(worst, *making.beside(worst, 2))
        left = 2 * half - at_end - sum(inner)
        count = ceil(left / (min(at_end, *inner) - INCH))
        if count < 1:
            return None
        gaps = [at_end, *making.mixed(*inner, *[left / count] * count)]
        places = [-half]
        for gap in gaps:
            places.append(places[-1] + gap)
        sign = making.rng.choice([-1, 1])
        made = sorted((Float(sign * at, ball) for at in places[1:]), key=lambda f: f.position)
        one, other = (feet_inches(gap) for gap in inner)
        return making.rig.with_(floats=tuple(made)), (
            _("The widest gaps between floats are {one} and {other}, middle to middle.").format(
                one=one, other=other
            ),
            _("From the last float to the end of the headrope it is {feet_inches}.").format(
                feet_inches=feet_inches(at_end)
            ),
        )


def drawn(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with as few floats as are allowed, all of one size."""
    size = sizing.sound(FloatDiameter.key)
    return rig.with_(floats=floats(rig.headrope, sizing.rules, size))


def eased(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with floats closer than need be, and bigger."""
    size = sizing.above(FloatDiameter.key, sizes.floats())
    return rig.with_(floats=even_floats(rig.headrope, sizing.rng, sizing.rules, size))
