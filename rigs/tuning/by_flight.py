"""
What would put a net right, by the whole of it in flight: changes within the rules, best first.

Each sort of change is flown by ever more of it, until more no longer serves. Beside each stands
what the model of one dropper says of it, where that says anything, and which way the trade has it.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from rigs.make.changes import commonest
from rigs.physics.flight import NOTHING, Beliefs, Moved, NotAtRest, compare
from rigs.physics.practice import RuleOfThumb
from rigs.rules.judge import Verdict, judge
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import PORT, STARBOARD, Rig
from rigs.words.sizes import chains
from rigs.words.units import INCH

from .advice import Tuning, keeps_the_rules
from .flights.mends import Mend
from .flights.table import apart, height
from .proposals import LOOK, lift
from .shown import Shown, shown
from .uplift import Uplift
from .window import EVEN, TOO_HIGH, TOO_LOW

_FLOATS = (1, 2, 3, 4, 6, 8, 10)
_DROPPERS = (2, 4, 6, 8)
_INCHES = (1, 2, 3, 4)
_ROPE_INCHES = (2, 4, 8, 12)
_ON_A_SIDE = (1, 2, 3, 4)
_SHIFTED = (1, 2, 3)

Kind = tuple[Mend, ...]
"""Changes of one sort, from the smallest up."""


@dataclass(frozen=True, slots=True)
class Offer:
    """
    A change that serves, within the rules, with what it likely does in flight.

    ``rig`` is the net after it, ``moved`` what it does at the five places, ``verdict`` the
    judge's word on it. ``simple`` is what the model of one dropper says, None where that says
    nothing. ``misses`` is by how many metres the net then misses the middle of the trade's range
    and an even height; ``good`` says that it is within the range and even.
    """

    mend: Mend
    rig: Rig
    moved: tuple[Moved, ...]
    verdict: Verdict
    simple: Uplift | None
    misses: float
    good: bool

    @property
    def before(self) -> float:
        """The height before it in metres, by center and corners."""
        return height([each.before.up for each in self.moved])

    @property
    def after(self) -> float:
        """The height after it."""
        return height([each.after.up for each in self.moved])

    @property
    def apart_before(self) -> float:
        """By how much port flies higher than starboard before it, metres."""
        return apart([each.before.up for each in self.moved])

    @property
    def apart_after(self) -> float:
        """The same after it."""
        return apart([each.after.up for each in self.moved])


@dataclass(frozen=True, slots=True)
class Offered:
    """
    The ``offers`` for a net, best first, and what was left out of them.

    ``forbidden`` would break a rule at any amount that serves; of ``contested`` the trade and
    the model say the opposite; with ``lost`` the net comes to no steady flight.
    """

    offers: tuple[Offer, ...] = ()
    forbidden: tuple[Mend, ...] = ()
    contested: tuple[Mend, ...] = ()
    lost: tuple[Mend, ...] = ()


def can_offer(tuned: Tuning) -> bool:
    """
    Return whether changes can be offered at all: something is wrong, and the shine shows what.

    Not where something should be looked for first, nor where the readings leave it open.
    """
    if not tuned.used or tuned.doubts or any(each.kind == LOOK for each in tuned.advice):
        return False
    return tuned.uneven or tuned.status in (TOO_LOW, TOO_HIGH)


def offered(
    tuned: Tuning, rig: Rig, beliefs: Beliefs, rulebook: Rulebook, on: date | None = None
) -> Offered:
    """
    Return what is Offered for ``rig``, which flies as ``tuned`` and ``beliefs`` have it.

    Nothing unless ``can_offer``. Judged by ``rulebook`` on the date ``on``. Raise what
    ``flown.fly`` raises of the net as it is.
    """
    if not can_offer(tuned):
        return Offered()
    beliefs.flown(rig)
    sifter = _Sifter(tuned.window, rig, beliefs, rulebook, on, shown(rig, tuned.run))
    for kind in _kinds(tuned, rig):
        sifter.sift(kind)
    # What nobody could see apart is one: then the smaller change comes first.
    ranked = sorted(
        sifter.offers,
        key=lambda each: (not each.good, round(each.misses / NOTHING), abs(each.mend.amount)),
    )
    return Offered(
        tuple(ranked), tuple(sifter.forbidden), tuple(sifter.contested), tuple(sifter.lost)
    )


def _kinds(tuned: Tuning, rig: Rig) -> Iterator[Kind]:
    if tuned.low_side is not None:
        yield from _for_a_side(tuned.low_side, tuned.status)
    elif tuned.status == TOO_LOW:
        yield from (
            _each("floats", _FLOATS),
            _each("headrope", _ROPE_INCHES),
            _each("top-leg", _INCHES),
            _chain(rig, -1),
        )
    else:
        yield from (
            _each("floats", [-count for count in _FLOATS]),
            _each("droppers", _DROPPERS),
            _each("bottom-leg", _INCHES),
            _each("footrope", [2 * each for each in _ROPE_INCHES]),
            _chain(rig, 1),
        )


def _for_a_side(low: str, status: str) -> Iterator[Kind]:
    high = PORT if low == STARBOARD else STARBOARD
    yield (Mend("floats", 0),)
    yield tuple(Mend("equal-legs", 0, side) for side in (low, high))
    yield _each("shift", _SHIFTED, low)
    if status != TOO_HIGH:
        yield _each("floats", _ON_A_SIDE, low)
    if status != TOO_LOW:
        yield _each("droppers", _ON_A_SIDE, high)


def _each(sort: str, amounts: Iterable[int], side: str | None = None) -> Kind:
    return tuple(Mend(sort, amount, side) for amount in amounts)


def _chain(rig: Rig, step: int) -> Kind:
    """Return the next chain, lighter or heavier, for every dropper; none if it is mixed."""
    sizes = {each.diameter for each in rig.droppers or ()}
    now = commonest(each.diameter for each in rig.droppers or ())
    sold = [size for size in chains() if now is not None and (size - now) * step > INCH / 64]
    if len(sizes) != 1 or not sold:
        return ()
    return (Mend("chain", (min(sold) if step > 0 else max(sold)) / INCH),)


class _Sifter:
    """Flies changes, and keeps of each kind the one that serves best within the rules."""

    def __init__(
        self,
        window: RuleOfThumb,
        rig: Rig,
        beliefs: Beliefs,
        rulebook: Rulebook,
        on: date | None,
        pull: Shown,
    ) -> None:
        self.window, self.rig, self.beliefs = window, rig, beliefs
        self.rulebook, self.on, self.pull = rulebook, on, pull
        self.present = judge(rig, rulebook, on)
        quarter = (window.high - window.low) / 4
        self.aim = (window.low + quarter, window.high - quarter)
        self.now = self.misses([each.up for each in beliefs.flown(rig).points])
        self.offers: list[Offer] = []
        self.forbidden: list[Mend] = []
        self.contested: list[Mend] = []
        self.lost: list[Mend] = []

    def misses(self, heights: Sequence[float]) -> float:
        """Return the metres by which heights miss the middle of the window and each other."""
        low, high = self.aim
        up = height(heights)
        return max(0.0, low - up, up - high) + max(0.0, abs(apart(heights)) - EVEN)

    def good(self, heights: Sequence[float]) -> bool:
        return abs(apart(heights)) <= EVEN and self.window.holds(height(heights))

    def sift(self, kind: Kind) -> None:
        """Keep the best of ``kind``, or note why none is."""
        best: Offer | None = None
        forbidden: Mend | None = None
        for mend in kind:
            try:
                rig = mend.on(self.rig)
                moved = compare(self.beliefs, self.rig, rig)
            except ValueError:
                continue  # there is no such part, or it was not measured
            except NotAtRest:
                self.lost.append(mend)
                break
            after = [each.after.up for each in moved]
            misses = self.misses(after)
            if misses > self.now - NOTHING or rig == self.rig:
                if _against_thumb(mend, moved):
                    self.contested.append(mend)
                    break
                if best is not None:
                    break  # more of it goes too far
                continue
            if best is not None and misses > best.misses - NOTHING:
                break
            verdict = judge(rig, self.rulebook, self.on)
            if not keeps_the_rules(verdict, self.present):
                forbidden = forbidden or mend
                continue
            if _against_thumb(mend, moved):
                self.contested.append(mend)
                break
            best = Offer(
                mend, rig, moved, verdict, self._simple(rig), misses, good=self.good(after)
            )
        if best is not None:
            self.offers.append(best)
        elif forbidden is not None:
            self.forbidden.append(forbidden)

    def _simple(self, rig: Rig) -> Uplift | None:
        """Return what one dropper's model says, None where it counts not all of the change."""
        before = self.rig
        if before.with_(droppers=rig.droppers, floats=rig.floats) != rig:
            return None
        return self.pull.effect(before, rig, lift=lift(rig) - lift(before))


def _against_thumb(mend: Mend, moved: Sequence[Moved]) -> bool:
    """Return whether the trade has ``mend`` work the other way."""
    change = height([each.after.up for each in moved]) - height([each.before.up for each in moved])
    return mend.side is None and abs(change) >= NOTHING and mend.thumb * change < 0
