"""Where droppers hang: at the center, at the corners, along the wings; and droppers drawn."""

from collections.abc import Iterable
from itertools import accumulate
from random import Random

from rigs.words.gear import PORT, SIDES, STARBOARD, Dropper, Footrope, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.sizes import chains
from rigs.words.units import FOOT, INCH, ROUNDING, feet_inches

from .base import APART, Measure, worst
from .doubt import Doubt, beyond, many
from .droppers import DROPPERS, DropperLength, DropperStock
from .hanging import (
    OUTWARD,
    a_wing,
    hung_at,
    in_order,
    nearest,
    on_bosom,
    on_wings,
    rehung,
    shifted,
    side_of,
    without,
)
from .layout import droppers, wing_positions
from .making import (
    EASIEST,
    CannotMake,
    Making,
    Told,
    listed,
    there,
)
from .oddity import Oddity, one_between
from .questions import (
    LENGTH,
    MOST,
    RIGHT_THERE,
    OffGear,
    OnSheet,
    Question,
    Total,
    each_side,
    one,
    sides,
)
from .readings import NOTHING, PLAY, Readings
from .ropes import WING
from .sizing import Sizing
from .spans import Steps
from .worked_out.droppers import DROPPER_SPACING


def places(rig: Rig) -> list[float]:
    """
    Return where droppers hang along the footrope, port to starboard, of a rig that has any noted.

    One beyond a wing end hangs on no part of the rope: it fills no gap.
    """
    found = sorted([each.position for each in rig.droppers or ()])
    rope = rig.footrope
    half = rope.bosom / 2
    if found and (found[0] < -half - rope.port_wing or found[-1] > half + rope.starboard_wing):
        first, last = rope.port_end, rope.starboard_end
        found = [
            max(first, min(last, place)) for place in found if first - PLAY <= place <= last + PLAY
        ]
    return found


class DropperAtMark(Measure, shared=True):
    """How far a dropper hangs from a mark on the footrope."""

    dimension = "length"
    allowance = "length"
    missing_fails = True
    zero = APART
    scale = Steps(INCH, 4)

    def mark(self, making: Making) -> float:
        """Return where the mark is, or one of them, in metres from the center."""
        raise NotImplementedError

    def spoil(self, making: Making) -> Rig:
        """Take the dropper at a mark away, or move it."""
        rng, hung = making.rng, there(making.rig.droppers)
        index = nearest(hung, self.mark(making))
        if making.level == EASIEST and rng.random() < 0.5:
            return without(making.rig, index)
        return shifted(making.rig, index, rng.choice([-1, 1]) * making.reading())

    def put(self, making: Making) -> Rig:
        """Move the dropper at a mark off it, or hang another as far beside it."""
        at = self.mark(making)
        inward = making.rng.choice([-1, 1]) if not at else 1 if at < 0 else -1
        hung = list(there(making.rig.droppers))
        index = nearest(tuple(hung), at)
        beside = hung_at(hung[index], at + inward * making.apart())
        if making.broken:
            del hung[index]
        return making.rig.with_(droppers=in_order([*hung, beside]))

    def off_mark(self, making: Making) -> float:
        """Return how far off its mark a dropper hangs, signed: within the limit or past it."""
        off = making.limit + making.apart() if making.broken else 0.0
        return making.rng.choice([-1, 1]) * off


class DropperAtCenter(DropperAtMark):
    """How far the nearest dropper hangs from the footrope's center."""

    key = "dropper_at_centre"
    about = gettext_lazy("Droppers along the bosom")
    on_drawing = gettext_lazy("Measure from the center to the nearest dropper.")
    turn = 41

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        hung = places(rig)
        if not hung:
            return NOTHING
        return [min([abs(place) for place in hung])], ("center",)

    sheet = one(
        "center",
        Question(
            "center_off",
            gettext_lazy("From the center to the nearest dropper"),
            LENGTH,
            "in",
            "offset",
            help=gettext_lazy("0 if one hangs right at it."),
            picks=RIGHT_THERE,
            of=lambda rig: worst(DropperAtCenter, rig, min),
            stop="center",
            place=10,
        ),
        absent=DROPPERS,
    )

    def mark(self, making: Making) -> float:
        return 0.0

    def near(self, making: Making) -> Told | None:
        """Three droppers along the bosom, measured from a corner: is one of them half way?"""
        rng, rope = making.rng, making.rig.footrope
        half = rng.randint(60, 130) * INCH
        rig = making.sound(Footrope(2 * half, rope.port_wing, rope.starboard_wing))
        off = self.off_mark(making)
        # No nearer to the center than the one that is measured, and up to 2 ft nearer than the
        # corner's neighbors.
        reach = half - FOOT
        more = [sign * (reach - rng.randint(0, 24) * INCH) for sign in (1, -1)]
        if min(map(abs, more)) <= abs(off):
            return None
        away = [each.position for each in there(rig.droppers) if abs(each.position) > ROUNDING]
        rig = rehung(rig, [*away, off, *more])
        corner = making.either_side()
        told = sorted(half - OUTWARD[corner] * at for at in (off, *more))
        return rig, (
            _("The bosom is {feet_inches} from corner to corner.").format(
                feet_inches=feet_inches(2 * half)
            ),
            _("From the {corner} corner, droppers hang at {listed}.").format(
                corner=corner, listed=listed([*map(feet_inches, told)])
            ),
        )


def _off_corner(rig: Rig, side: str) -> float | None:
    values, __ = DropperAtCorners().read(rig) or NOTHING
    return values[SIDES.index(side)] if values else None


class DropperAtCorners(DropperAtMark):
    """How far the nearest dropper hangs from each corner."""

    key = "dropper_at_corners"
    about = gettext_lazy("Droppers near a corner")
    on_drawing = gettext_lazy("Measure from each corner to the nearest dropper.")
    turn = 40

    SPOTS = (gettext_lazy("port corner"), gettext_lazy("starboard corner"))

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        hung = places(rig)
        if not hung:
            return NOTHING
        half = rig.footrope.bosom / 2
        return (
            [
                min([abs(place + half) for place in hung]),
                min([abs(place - half) for place in hung]),
            ],
            self.SPOTS,
        )

    sheet = OnSheet(
        sides(
            "corner",
            (
                1,
                each_side(
                    lambda side: Question(
                        f"{side}_corner_off",
                        _("From the corner to the nearest dropper"),
                        LENGTH,
                        "in",
                        "offset",
                        help=_("0 if one hangs right at it."),
                        picks=RIGHT_THERE,
                        of=lambda rig: _off_corner(rig, side),
                        stop=f"{side}_corner",
                        place=10,
                    )
                ),
            ),
        ),
        absent=DROPPERS,
    )

    def mark(self, making: Making) -> float:
        return making.rig.footrope.corner(making.either_side())

    def near(self, making: Making) -> Told | None:
        """Gaps from the wing end to the corner: do they add up to the wing?"""
        side = making.either_side()
        gaps, rest = a_wing(making, making.rng.randint(2, 3))
        rig = on_wings(making, {side: (gaps, rest)})
        outs, wing = list(accumulate(gaps)), sum(gaps) + rest
        corner = rig.footrope.corner(side)
        off = self.off_mark(making)
        made = tuple(
            hung_at(each, corner + OUTWARD[side] * off)
            if abs(each.position - corner) <= ROUNDING
            else each
            for each in there(rig.droppers)
        )
        if outs[0] <= abs(off) or abs(corner) <= abs(off):
            return None
        stops = [wing - out for out in (*reversed(outs), off)]
        told = [feet_inches(b - a) for a, b in zip([0.0, *stops], stops, strict=False)]
        return rig.with_(droppers=made), (
            _("The {side} wing is {feet_inches} from wing end to corner.").format(
                side=side, feet_inches=feet_inches(wing)
            ),
            _("From the wing end it is {told} to the first dropper.").format(told=told[0]),
            _("On from there, the gaps are {listed}.").format(listed=listed(told[1:])),
        )


def _gaps(rig: Rig, side: str) -> list[tuple[float, bool]]:
    """Return the gaps of a wing in metres, and whether each is the last; none if unknown."""
    values, spots = DropperSpacing().read(rig) or NOTHING
    return [(gap, spot[3]) for gap, spot in zip(values, spots, strict=True) if spot[0] == side]


def _inward(gaps: list[tuple[float, bool]]) -> OffGear | None:
    """Return the gaps of a wing from its end in, without the stretch to the wing end."""
    inner = tuple(gap for gap, is_last in reversed(gaps) if not is_last)
    return inner if len(inner) > 1 else next(iter(inner), 0.0) if gaps else None


LAST = each_side(
    lambda side: Question(
        f"{side}_last",
        _("Wing end to the nearest dropper"),
        LENGTH,
        "ft",
        "gap",
        help=_("Along the footrope. If none hangs on the wing, to the corner."),
        part_of=WING[side].name,
        of=lambda rig: next((gap for gap, is_last in _gaps(rig, side) if is_last), None),
        stop=f"{side}_wing",
        place=10,
    )
)
_GAP = each_side(
    lambda side: Question(
        f"{side}_gap",
        _("Gaps on this wing, one by one, or the widest"),
        LENGTH,
        "ft",
        "gap",
        help=_(
            "From that dropper in to the corner, with commas between. The first is the one next to "
            "the wing end. 0 if there are no more."
        ),
        several=MOST,
        part_of=WING[side].name,
        of=lambda rig: _inward(_gaps(rig, side)),
        stop=f"{side}_wing",
        place=30,
    )
)


def _uneven(rig: Rig, rng: Random) -> Rig:
    """Shift one dropper that has two neighbors on its own wing."""
    half, hung = rig.footrope.bosom / 2, there(rig.droppers)
    inner = [
        index
        for index in range(1, len(hung) - 1)
        if all(abs(each.position) >= half for each in hung[index - 1 : index + 2])
        and abs(hung[index].position) > half
    ]
    if not inner:
        raise CannotMake(_("uneven gaps"))
    index = rng.choice(inner)
    return shifted(rig, index, rng.choice([-1, 1]) * rng.randint(6, 24) * INCH)


def _one_more(rig: Rig, rng: Random) -> Rig:
    """Hang one dropper more, half way between two others."""

    def between(here: Dropper, after: Dropper) -> Dropper:
        return hung_at(here, (here.position + after.position) / 2)

    return rig.with_(droppers=one_between(there(rig.droppers), rng, between))


class DropperSpacing(Measure):
    """How far apart the droppers of a wing hang, and from its end."""

    key = "dropper_spacing"
    in_steps = True
    lays_out_rig = True
    about = gettext_lazy("Droppers along a wing")
    sizes_of = gettext_lazy("Gaps between two droppers on a wing")
    on_drawing = gettext_lazy("Measure along each wing: corner, dropper, dropper, wing end.")
    worked_out = DROPPER_SPACING
    dimension = "length"
    allowance = "length"
    missing_fails = True
    scale = Steps(INCH, 12)
    turn = 30
    oddities = (
        Oddity(
            3,
            gettext_lazy("uneven gaps"),
            _uneven,
            gettext_lazy(
                "The droppers on one wing are not evenly spaced. Only the widest gap counts."
            ),
        ),
        Oddity(
            4,
            gettext_lazy("extra dropper"),
            _one_more,
            gettext_lazy("There is one dropper more than needed. Closer together is fine."),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        """
        Return the gaps along each wing from the corner outwards, the last one to the wing end.

        The spot of a wing's last gap ends in True: what is left beyond the last dropper
        must be less than a whole interval, not merely no more than one.
        """
        if rig.droppers is None:
            return None
        rope = rig.footrope
        half = rope.bosom / 2
        hung = places(rig)
        values = []
        spots = []
        for side, wing, outward in (
            (PORT, rope.port_wing, [-place - half for place in reversed(hung)]),
            (STARBOARD, rope.starboard_wing, [place - half for place in hung]),
        ):
            last = 0.0
            for out in outward:
                if out > 0:
                    values.append(out - last)
                    spots.append((side, last, out, False))
                    last = out
            values.append(wing - last)
            spots.append((side, last, wing, True))
        return values, spots

    def doubts(self, rig: Rig) -> Iterable[Doubt]:
        for side in SIDES:
            end = abs(rig.footrope.end(side))
            if past := beyond(rig.droppers or (), side, end):
                yield Doubt(
                    _(
                        "{many} past the {side} wing end, which is {feet_inches} from the center."
                    ).format(
                        many=many(len(past), "dropper"), side=side, feet_inches=feet_inches(end)
                    ),
                    past,
                    _("Check the place, or the lengths of bosom and wing. It counts for no gap."),
                )

    # Where on its wing a gap begins was not noted.
    sheet = OnSheet(
        tuple(
            each
            for side in SIDES
            for each in (
                Total(
                    (side, None, None, False),
                    ((1, _GAP[side]),),
                    each=_("{side} wing, gap {at} of {of} from the wing end").format(
                        side=side, at="{at}", of="{of}"
                    ),
                ),
                Total((side, None, None, True), ((1, LAST[side]),)),
            )
        )
    )

    def spoil(self, making: Making) -> Rig:
        """Take a wing dropper away, which leaves a wide gap, or shift it to leave one too wide."""
        rng, rope, hung = making.rng, making.rig.footrope, there(making.rig.droppers)
        winged = [i for i, each in enumerate(hung) if not on_bosom(each, rope)]
        if not winged:
            raise CannotMake(self.key)
        index = rng.choice(winged)
        here = hung[index].position
        outer = index in (0, len(hung) - 1)
        if making.level == EASIEST and rng.random() < 0.5:
            return without(making.rig, index)
        end, inward = rope.end(side_of(hung[index])), 1 if here < 0 else -1
        before = hung[index + inward].position
        if outer and rng.random() < 0.5:
            # Moved in, it leaves too much at the wing end.
            place = end + inward * making.reading(edge_breaks=True)
        else:
            place = before - inward * making.reading()
        after = end if outer else hung[index - inward].position
        if not abs(before) + ROUNDING < abs(place) <= abs(after):
            # It would pass another dropper, or hang on no part of the rope.
            raise CannotMake(self.key)
        return shifted(making.rig, index, place - here)

    def put(self, making: Making) -> Rig:
        """Hang the droppers of both wings anew, all gaps alike but one, the widest."""
        rig, rng, wide = making.rig, making.rng, making.either_side()
        rope, droppers, widest = rig.footrope, there(rig.droppers), making.reading()
        if widest > rope.wing(wide):
            raise CannotMake(self.key)
        make = min(droppers, key=lambda each: abs(each.position - rope.corner(wide)))
        anew = [side for side in SIDES if making.side in (None, side)]
        hung = [each for each in droppers if on_bosom(each, rope) or side_of(each) not in anew]
        for side in anew:
            usual = making.inside - rng.randint(3, 12) * INCH
            corner, wing = rope.corner(side), rope.wing(side)
            if side == wide:
                outs = _with_one_wide(wing, usual, widest, rng)
            else:
                outs = list(wing_positions(wing, usual))
            hung += [hung_at(make, corner + OUTWARD[side] * out) for out in outs if out > INCH]
        return rig.with_(droppers=in_order(hung))

    def near(self, making: Making) -> Told | None:
        """The gaps along a wing, the widest of them at the corner, further out or at the end."""
        rng, side = making.rng, making.either_side()
        count = rng.randint(2, 3)
        at_end = rng.random() < 1 / 3
        worst = making.reading(edge_breaks=at_end)
        sound = min(worst, making.limit)
        gaps = making.beside(worst, count)
        if at_end:
            if not making.broken and worst >= making.limit:
                return None
            rest = worst
        else:
            gaps[rng.randrange(count)] = worst
            rest = rng.randint(6, round(sound / INCH) - 6) * INCH
        # Nothing on the other wing is nearer to the limit, or past it.
        other = [sound - rng.randint(1, 12) * INCH for __ in range(count)]
        across = STARBOARD if side == PORT else PORT
        wings = {side: (gaps, rest), across: (other, rng.randint(6, 24) * INCH)}
        rig = on_wings(making, wings)
        if making.level == EASIEST:
            told = listed([feet_inches(gap) for gap in gaps])
            return rig, (
                _("On the {side} wing, gaps from the corner out: {told}.").format(
                    side=side, told=told
                ),
                _("Past the last dropper, {feet_inches} is left to the wing end.").format(
                    feet_inches=feet_inches(rest)
                ),
            )
        told = listed([feet_inches(out) for out in accumulate(gaps)])
        return rig, (
            _("The {side} wing is {feet_inches} from corner to wing end.").format(
                side=side, feet_inches=feet_inches(sum(gaps) + rest)
            ),
            _("From the corner out, droppers hang at {told}.").format(told=told),
        )


_AT_END = 0.3  # how often the widest gap of a wing is what is left at its end


def _with_one_wide(wing: float, usual: float, wide: float, rng: Random) -> list[float]:
    """Return how far from the corner droppers hang with gaps of ``usual`` and one ``wide``."""
    fits = int((wing - wide) / usual + ROUNDING)
    if rng.random() < _AT_END:
        # The gap that is left at the wing end: a whole step is too much already there.
        gaps = [wing - wide - fits * usual, *[usual] * fits]
    else:
        gaps = [usual] * fits
        gaps.insert(rng.randint(0, fits), wide)
    return list(accumulate(gaps))


def drawn(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with as few droppers as are allowed, all of one make."""
    length = sizing.sound(DropperLength.key)
    chain = sizing.upto(DropperStock.key, chains())
    return rig.with_(droppers=droppers(rig.footrope, sizing.rules, length, chain))


def eased(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with droppers closer than need be, longer, and of thinner chain."""
    rope, rng = rig.footrope, sizing.rng
    interval = sizing.limit(DropperSpacing.key) - rng.randint(1, 4) * INCH * 6
    at = [0.0]
    for side in SIDES:
        corner = rope.corner(side)
        outs = wing_positions(rope.wing(side), interval)
        at += [corner, *(corner + OUTWARD[side] * out for out in outs)]
    length = sizing.limit(DropperLength.key) + rng.randint(3, 10) * INCH
    chain = sizing.below(DropperStock.key, chains())
    swept = rig.sweep is not None
    return rig.with_(
        droppers=tuple(
            Dropper(place, length, chain, sweep_position=place if swept else None)
            for place in sorted(at)
        )
    )
