"""The sweep, if there is one: its chain, its length, and how it is joined to the rest."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import copysign, inf
from random import Random

from rigs.words import sizes
from rigs.words.gear import PORT, SIDES, STARBOARD, Rig, Sweep
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.sizes import CHAIN_LADDER, chains
from rigs.words.units import FOOT, INCH, ROUNDING, feet_inches, inches

from .base import APART, MORE_OR_LESS, Measure, worst
from .doubt import Doubt, many
from .droppers import DROPPERS
from .droppers_hung import LAST
from .hanging import OUTWARD, a_wing, hung_at, in_order, nearest, on_bosom, on_wings
from .making import CannotMake, Making, Told, swapped, there
from .oddity import Oddity
from .questions import LENGTH, MOST, RIGHT_THERE, OnSheet, Question, Total, each_side, one, sides
from .readings import NOTHING, PLAY, Between, Readings
from .ropes import BOSOM, FOOTROPE, WING
from .sights import LookedAt, Sights
from .sizing import Sizing
from .spans import SoldChain, Steps
from .worked_out.sweep import SWEEP_EXCESS, SWEEP_EXCESS_EACH_SIDE, SWEEP_WING_EXCESS

SWEEP = Question(
    "sweep",
    gettext_lazy("Is there a sweep on the net?"),
    of=lambda rig: rig.sweep is not None,
    stop="sweep",
    place=10,
)
_CHAIN = Question(
    "sweep_chain",
    gettext_lazy("Size of the sweep chain"),
    LENGTH,
    "in",
    "chain",
    help=gettext_lazy("The size it is sold under."),
    picks=tuple(inches(size) for size in sizes.chains()),
    of=lambda rig: None if rig.sweep is None else rig.sweep.diameter,
    stop="sweep",
    place=40,
)
_HALF = each_side(
    lambda side: Question(
        f"{side}_sweep",
        _("From under the center to the {side} bottom leg").format(side=side),
        LENGTH,
        "ft",
        _("half sweep"),
        chain=_CHAIN.name,
        of=lambda rig: None if rig.sweep is None else rig.sweep.half(side),
        stop="sweep",
        place=50,
    )
)


class NoSweep(LookedAt):
    """Whether there is no sweep."""

    key = "no_sweep"
    forbids_sweep = True
    about = gettext_lazy("Below the footrope")
    met = Sights(
        plain=(
            gettext_lazy("Only the droppers hang below the footrope, with their lower ends free."),
            gettext_lazy("Each dropper ends free. Nothing runs from one to the next."),
        ),
        close=(
            gettext_lazy(
                "A long chain is coiled on deck. The lower ends of the droppers are free."
            ),
            gettext_lazy(
                "Paint on the bottom legs shows where a sweep once was. The droppers end free."
            ),
            gettext_lazy(
                "The droppers on the wings are newer than the others. All of them end free."
            ),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy(
                "A chain runs below the footrope from leg to leg. Every dropper ends on it."
            ),
            gettext_lazy("The lower end of each dropper is shackled to one long chain."),
        ),
        close=(
            gettext_lazy("A light chain joins the lower ends of the droppers along the bosom."),
            gettext_lazy(
                "A short chain joins the droppers of each wing. The other droppers end free."
            ),
            gettext_lazy(
                "A chain is shackled to the bottom legs and hangs slack below the droppers."
            ),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        return [rig.sweep is None], ("sweep",)

    sheet = one("sweep", SWEEP, denied=True)

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        port, starboard = (abs(rig.footrope.end(each)) + 42 * INCH for each in SIDES)
        return rig.with_(sweep=Sweep(port, starboard, there(rig.droppers)[0].diameter))

    def spoil(self, making: Making) -> Rig:
        rig, rng = making.rig, making.rng
        port, starboard = (
            abs(rig.footrope.end(side)) + rng.randint(6, 36) * INCH for side in SIDES
        )
        return rig.with_(sweep=Sweep(port, starboard, rng.choice(chains())))


class SweepStock(Measure):
    """Of how thick a chain the sweep is."""

    key = "sweep_stock"
    about = gettext_lazy("Chain of the sweep")
    sizes_of = gettext_lazy("Chain for the sweep")
    dimension = "length"
    allowance = "diameter"
    chain = True
    scale = SoldChain()
    turn = 71

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.sweep is None else ([rig.sweep.diameter], ("sweep",))

    sheet = one("sweep", _CHAIN, absent=SWEEP)

    def put(self, making: Making) -> Rig:
        sweep = replace(there(making.rig.sweep), diameter=making.reading())
        return making.rig.with_(sweep=sweep)

    def near(self, making: Making) -> Told:
        """Its chain, and that of the droppers, which are lighter whatever the sweep is."""
        size, rig = making.reading(), making.rig
        most = making.limit_of("dropper_stock") + ROUNDING
        lighter = [each for each in CHAIN_LADDER if each < size - ROUNDING and each <= most]
        light = making.rng.choice(lighter[-2:] or CHAIN_LADDER[:1])
        droppers = tuple(replace(each, diameter=light) for each in there(rig.droppers))
        return rig.with_(sweep=replace(there(rig.sweep), diameter=size), droppers=droppers), (
            _("The sweep is {inches} chain.").format(inches=inches(size)),
            _("The droppers are {inches} chain.").format(inches=inches(light)),
        )


class SweepBare(LookedAt):
    """Whether the sweep is bare chain."""

    key = "sweep_bare"
    about = gettext_lazy("Make of the sweep")
    met = Sights(
        plain=(
            gettext_lazy("The sweep is plain chain from one bottom leg to the other."),
            gettext_lazy("Every link of the sweep is in sight, plain and rusty."),
        ),
        close=(
            gettext_lazy(
                "The links of the sweep are worn flat along the bosom. It is plain chain."
            ),
            gettext_lazy(
                "Each dropper is shackled straight to a link of the sweep, which is plain chain."
            ),
            gettext_lazy("A basket of rubber cookies is on deck. The sweep is plain chain."),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy("Rubber cookies are strung along the sweep from one end to the other."),
            gettext_lazy("The sweep is wrapped in old netting from one end to the other."),
        ),
        close=(
            gettext_lazy(
                "A few rubber cookies are threaded on the sweep at the middle of the bosom."
            ),
            gettext_lazy(
                "A fathom of the sweep is wrapped in old netting. The rest is plain chain."
            ),
            gettext_lazy("A turn of rope is wound around the sweep where one dropper meets it."),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.sweep is None else ([rig.sweep.bare], ("sweep",))

    sheet = one(
        "sweep",
        Question(
            "sweep_bare",
            gettext_lazy("Is the sweep all bare chain?"),
            of=lambda rig: None if rig.sweep is None else rig.sweep.bare,
            stop="sweep",
            place=20,
        ),
        absent=SWEEP,
    )

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        return rig.with_(sweep=replace(there(rig.sweep), bare=False))


class SweepOverFootrope(Measure, shared=True):
    """By how much a part of the sweep is longer than the footrope above it."""

    dimension = "length"
    allowance = "length"
    zero = MORE_OR_LESS


_ENDS = frozenset({"sweep_excess_each_side", "sweep_wing_excess"})


class SweepExcess(SweepOverFootrope):
    """By how much the whole sweep is longer than the whole footrope."""

    key = "sweep_excess"
    about = gettext_lazy("Sweep and footrope")
    sizes_of = gettext_lazy("How much longer the sweep is than the footrope, in all")
    worked_out = SWEEP_EXCESS
    # Printed as 7 ft and as 2.1 m, which is more than an inch less: either keeps it.
    scale = Steps(2 * INCH, 6)
    follows = _ENDS

    def read(self, rig: Rig) -> Readings | None:
        if rig.sweep is None:
            return NOTHING
        port, starboard = rig.sweep.port, rig.sweep.starboard
        if port is not None and starboard is not None:
            return [port + starboard - rig.footrope.length], ("sweep",)
        known = starboard if port is None else port
        if known is None:
            return None
        return [Between(known - rig.footrope.length, inf)], ("sweep",)

    sheet = OnSheet(
        (
            Total(
                "sweep",
                (
                    (1, _HALF[PORT]),
                    (1, _HALF[STARBOARD]),
                    *((-factor, question) for factor, question in FOOTROPE),
                ),
            ),
        ),
        absent=SWEEP,
    )

    def near(self, making: Making) -> Told:
        """Sweep and footrope as a whole."""
        rope, more = making.rig.footrope, making.reading()
        rig = with_halves(making.rig, {side: abs(rope.end(side)) + more / 2 for side in SIDES})
        whole = sum(there(there(rig.sweep).half(side)) for side in SIDES)
        return rig, (
            _("The sweep is {feet_inches} long in all, slack shared evenly.").format(
                feet_inches=feet_inches(whole)
            ),
            _("The footrope is {feet_inches} long in all.").format(
                feet_inches=feet_inches(rope.length)
            ),
        )


def _slacker(rig: Rig, rng: Random) -> Rig:
    """Let one half of the sweep hang slacker than the other."""
    if rig.sweep is None:
        raise CannotMake(_("slack half"))
    more = rng.randint(1, 6) * FOOT / 2
    return rig.with_(sweep=replace(rig.sweep, port=there(rig.sweep.port) + more))


class SweepExcessEachSide(SweepOverFootrope):
    """By how much the sweep is longer than the footrope on either side of the center."""

    key = "sweep_excess_each_side"
    about = gettext_lazy("Sweep and footrope, side by side")
    sizes_of = gettext_lazy("How much longer the sweep is than the footrope, on its tighter side")
    worked_out = SWEEP_EXCESS_EACH_SIDE
    scale = Steps(INCH, 6)
    follows = frozenset({"sweep_wing_excess"})
    turn = 70
    oddities = (
        Oddity(
            12,
            gettext_lazy("slack half"),
            _slacker,
            gettext_lazy(
                "One half of the sweep is slacker than the other. Each half is compared with its "
                "own side of the footrope."
            ),
        ),
    )

    SPOTS = (gettext_lazy("port side of the sweep"), gettext_lazy("starboard side of the sweep"))

    def read(self, rig: Rig) -> Readings | None:
        if rig.sweep is None:
            return NOTHING
        halves = [(rig.sweep.half(side), abs(rig.footrope.end(side))) for side in SIDES]
        values = [None if half is None else half - rope for half, rope in halves]
        return values, self.SPOTS

    sheet = OnSheet(
        sides(gettext_lazy("side of the sweep"), (1, _HALF), (-1, WING), (-0.5, BOSOM)),
        absent=SWEEP,
    )

    def put(self, making: Making) -> Rig:
        """Make one half of the sweep so long; the other has slack enough for both."""
        side = making.either_side()
        length = abs(making.rig.footrope.end(side)) + making.reading()
        return with_halves(making.rig, {side: length})

    def near(self, making: Making) -> Told:
        """Sweep and footrope from the center to each wing end."""
        rope, slack = making.rig.footrope, _slack(making)
        halves = {side: abs(rope.end(side)) + slack[side] for side in SIDES}
        return with_halves(making.rig, halves), tuple(
            _("{side}, center to wing end: footrope {feet_inches}, sweep {feet_inches2}.").format(
                side=side.capitalize(),
                feet_inches=feet_inches(abs(rope.end(side))),
                feet_inches2=feet_inches(halves[side]),
            )
            for side in SIDES
        )


def _past_last(rig: Rig, side: str) -> float | None:
    """Return the sweep's length from its outermost dropper to the wing end."""
    values, __ = SweepWingExcess().read(rig) or NOTHING
    rope, excess = LAST[side].of(rig), values[SIDES.index(side)] if values else None
    return None if rope is None or excess is None or isinstance(excess, Between) else rope + excess


_PAST_LAST = each_side(
    lambda side: Question(
        f"{side}_sweep_last",
        _("The same stretch along the sweep"),
        LENGTH,
        "ft",
        "gap",
        help=_("From where that dropper meets the sweep to the wing end."),
        of=lambda rig: _past_last(rig, side),
        stop=f"{side}_wing",
        place=20,
    )
)


class SweepWingExcess(SweepOverFootrope):
    """By how much it is longer than the footrope beyond each side's outermost dropper."""

    key = "sweep_wing_excess"
    about = gettext_lazy("Sweep and footrope at the wing ends")
    sizes_of = gettext_lazy("How much longer the sweep is than the footrope, past the last dropper")
    worked_out = SWEEP_WING_EXCESS
    scale = Steps(INCH, 6)
    follows = frozenset({"sweep_excess_each_side"})

    SPOTS = (gettext_lazy("port wing end"), gettext_lazy("starboard wing end"))

    def read(self, rig: Rig) -> Readings | None:
        if rig.sweep is None:
            return NOTHING
        if rig.droppers is None:
            return None
        values: list[float | Between | None] = []
        for side, sign in ((PORT, -1), (STARBOARD, 1)):
            end = abs(rig.footrope.end(side))
            on_it = [each for each in rig.droppers if 0 <= sign * each.position <= end + PLAY]
            half = rig.sweep.half(side)
            if not on_it or half is None:
                values.append(None)
                continue
            outer = max(on_it, key=lambda each: abs(each.position))
            rope_part = end - sign * outer.position
            if outer.sweep_position is None:
                # It meets the sweep somewhere from the middle to the end of this half.
                values.append(Between(-rope_part, half - rope_part))
            else:
                values.append(half - sign * outer.sweep_position - rope_part)
        return values, self.SPOTS

    sheet = OnSheet(sides(gettext_lazy("wing end"), (1, _PAST_LAST), (-1, LAST)), absent=SWEEP)

    def near(self, making: Making) -> Told:
        """Sweep and footrope from the last dropper of each side to the wing end."""
        wings = {side: a_wing(making, making.rng.randint(1, 3)) for side in SIDES}
        rig, slack = on_wings(making, wings), _slack(making)
        halves = {side: abs(rig.footrope.end(side)) + slack[side] for side in SIDES}
        return with_halves(rig, halves), tuple(
            _(
                "{side}, past the last dropper: footrope {feet_inches}, sweep {feet_inches2}."
            ).format(
                side=side.capitalize(),
                feet_inches=feet_inches(rest),
                feet_inches2=feet_inches(rest + slack[side]),
            )
            for side, (__, rest) in wings.items()
        )


class SweepAttachment(Measure):
    """How far a dropper leans: its lower end from straight below the upper."""

    key = "sweep_attachment"
    about = gettext_lazy("Droppers from footrope to sweep")
    dimension = "length"
    allowance = "length"
    zero = APART
    scale = Steps(INCH, 4)
    turn = 72

    def read(self, rig: Rig) -> Readings | None:
        if rig.sweep is None:
            return NOTHING
        if rig.droppers is None:
            return None
        values = [
            None if each.sweep_position is None else abs(each.sweep_position - each.position)
            for each in rig.droppers
        ]
        return values, rig.droppers

    def doubts(self, rig: Rig) -> Iterable[Doubt]:
        if rig.sweep is None:
            return
        for side, sign in ((PORT, -1), (STARBOARD, 1)):
            half = rig.sweep.half(side)
            if half is None:
                continue
            past = tuple(
                each
                for each in rig.droppers or ()
                if each.sweep_position is not None and sign * each.sweep_position > half + PLAY
            )
            if past:
                yield Doubt(
                    _(
                        "{many} joined to the sweep past its {side} end, which is {feet_inches} "
                        "from under the center."
                    ).format(
                        many=many(len(past), "dropper"), side=side, feet_inches=feet_inches(half)
                    ),
                    past,
                    _("Check where it meets the sweep, or the length of that half."),
                )

    sheet = one(
        gettext_lazy("the one that leans most"),
        Question(
            "lean",
            gettext_lazy("Lean of the droppers, one by one, or the worst"),
            LENGTH,
            "in",
            "offset",
            help=gettext_lazy(
                "How much farther from the center one end is than the other. Measure the "
                "upper end along the footrope, the lower end along the sweep. 0 if all hang "
                "straight down."
            ),
            picks=RIGHT_THERE,
            several=MOST,
            of=lambda rig: worst(SweepAttachment, rig, max),
            stop="droppers",
            place=50,
        ),
        absent=DROPPERS,
        each=gettext_lazy("lean of dropper {at} of {of} measured"),
    )

    def spoil(self, making: Making) -> Rig:
        """Let one dropper lean."""
        rng, hung = making.rng, there(making.rig.droppers)
        index = rng.randrange(1, len(hung) - 1)
        met = hung[index].position + rng.choice([-1, 1]) * making.reading()
        return making.rig.with_(droppers=swapped(hung, index, sweep_position=met))

    def put(self, making: Making) -> Rig:
        """Let one dropper lean, or hang one more, straight down, beside another of the bosom."""
        rng, hung = making.rng, there(making.rig.droppers)
        if making.broken:
            index = rng.randrange(1, len(hung) - 1)
            met = hung[index].position + rng.choice([-1, 1]) * making.apart()
            return making.rig.with_(droppers=swapped(hung, index, sweep_position=met))
        # On a wing it would part a gap that is to stay as it is.
        each = rng.choice([each for each in hung if on_bosom(each, making.rig.footrope)])
        inward = rng.choice([-1, 1]) if abs(each.position) < INCH else -each.position
        more = hung_at(each, each.position + copysign(making.apart(), inward))
        return making.rig.with_(droppers=in_order([*hung, more]))

    def near(self, making: Making) -> Told | None:
        """
        A dropper of each side, measured along the footrope and along the sweep.

        Two distances, each had twice: which two belong together is what it turns on.
        """
        rng, half = making.rng, making.rig.footrope.bosom / 2
        apart = making.limit + making.apart()
        wings = {side: a_wing(making, 2) for side in SIDES}
        long = max(gaps[0] for gaps, __ in wings.values())
        if long <= apart:
            return None
        along = dict.fromkeys(SIDES, long)
        if not making.broken or rng.random() < 0.5:
            along[making.either_side()] -= apart
        for side, out in along.items():
            wings[side][0][0] = out
        rig = on_wings(making, wings)
        # The lower end keeps to its dropper, or is where the other of the two lengths is.
        met = {side: long if out < long else long - apart for side, out in along.items()}
        if not making.broken:
            met = along
        hung = list(there(rig.droppers))
        for side in SIDES:
            index = nearest(tuple(hung), OUTWARD[side] * (half + along[side]))
            hung[index] = replace(hung[index], sweep_position=OUTWARD[side] * (half + met[side]))
        return rig.with_(droppers=tuple(hung)), tuple(
            _(
                "A dropper to {side} of the center: {feet_inches} off along the footrope, "
                "{feet_inches2} off along the sweep."
            ).format(
                side=side,
                feet_inches=feet_inches(half + along[side]),
                feet_inches2=feet_inches(half + met[side]),
            )
            for side in SIDES
        )


class SweepJoinsLeg(LookedAt):
    """Whether sweep and footrope meet the bottom leg at one point."""

    key = "sweep_joins_leg"
    about = gettext_lazy("Where sweep and bottom leg join")
    met = Sights(
        plain=(
            gettext_lazy("Footrope and sweep end on one shackle of the bottom leg, on both sides."),
            gettext_lazy("One shackle of the bottom leg takes footrope and sweep, on both sides."),
        ),
        close=(
            gettext_lazy(
                "Sweep and footrope share a shackle. The headrope ends on another, at the top leg."
            ),
            gettext_lazy(
                "On each side the footrope and the last link of the sweep share a shackle."
            ),
            gettext_lazy(
                "The shackle of the {side} bottom leg is new. It takes footrope and sweep."
            ),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy("The sweep is shackled to the bottom leg a fathom ahead of the footrope."),
            gettext_lazy("Footrope and sweep end far apart on the bottom leg, on both sides."),
        ),
        close=(
            gettext_lazy(
                "Sweep and footrope end on two shackles of the {side} bottom leg, a hand apart."
            ),
            gettext_lazy(
                "On each side the last link of the sweep has a shackle of its own on the leg."
            ),
            gettext_lazy(
                "The {side} bottom leg has two new shackles: footrope on one, sweep on the other."
            ),
        ),
    )

    SPOTS = (gettext_lazy("bottom leg"),)

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.sweep is None else ([rig.sweep.joins_with_footrope], self.SPOTS)

    sheet = one(
        gettext_lazy("bottom leg"),
        Question(
            "sweep_joins",
            gettext_lazy("Do sweep and footrope meet the bottom leg at one point?"),
            of=lambda rig: None if rig.sweep is None else rig.sweep.joins_with_footrope,
            stop="sweep",
            place=30,
        ),
        absent=SWEEP,
    )

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        return rig.with_(sweep=replace(there(rig.sweep), joins_with_footrope=False))


def with_halves(rig: Rig, halves: Mapping[str, float]) -> Rig:
    """Return ``rig`` with the halves of its sweep so long, in metres by side."""
    sweep = there(rig.sweep)
    port, starboard = (halves.get(side, sweep.half(side)) for side in SIDES)
    return rig.with_(sweep=replace(sweep, port=port, starboard=starboard))


def _slack(making: Making) -> dict[str, float]:
    """Return how much longer the sweep is on each side, by side: enough as a whole."""
    worst = making.reading()
    # As much as it may lack on the one side is there on the other, and a little more.
    far = making.limit - worst if making.broken else worst - making.limit
    other = worst + 2 * far + making.rng.randint(0, 6) * INCH
    return dict(zip(SIDES, making.mixed(worst, other), strict=True))


def drawn(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with a sweep, its droppers straight down to it, if the rules are of one."""
    if not sizing.rules.has(SweepStock.key):
        return rig
    port, starboard = (
        abs(rig.footrope.end(side)) + sizing.sound(SweepExcessEachSide.key) for side in SIDES
    )
    sweep = Sweep(port, starboard, sizing.upto(SweepStock.key, chains()))
    hung = tuple(replace(each, sweep_position=each.position) for each in there(rig.droppers))
    return rig.with_(sweep=sweep, droppers=hung)


def eased(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with its sweep, if it has one, of thinner chain, with slack to spare."""
    if rig.sweep is None:
        return rig
    chain = sizing.below(SweepStock.key, chains())
    extra = sizing.limit(SweepExcessEachSide.key)
    port, starboard = (
        abs(rig.footrope.end(side)) + extra + sizing.rng.randint(26, 48) * INCH for side in SIDES
    )
    return rig.with_(sweep=replace(rig.sweep, port=port, starboard=starboard, diameter=chain))
