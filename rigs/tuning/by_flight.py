"""
What would put a net right, by the whole of it in flight: changes within the rules, best first.

Each sort of change is flown by ever more of it, until more no longer serves. Beside each stands
what the model of one dropper says of it, where that says anything, and which way the trade has it.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from rigs.make.changes import commonest
from rigs.physics.flight import NOTHING, Beliefs, Cases, Moved, NotAtRest, Span, compare
from rigs.rules.judge import Verdict, judge
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import PORT, STARBOARD, Rig
from rigs.words.sizes import chains
from rigs.words.units import INCH

from .advice import Tuning, hides_the_sides, keeps_the_rules
from .causes import beyond
from .flight_words import SURE
from .flights.mends import Mend
from .flights.table import apart, height
from .proposals import LOOK, lift
from .shown import shown
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
    and an even height; ``good`` says that it is within the range and even. ``beyond`` is by how
    much port was read higher than starboard for a cause that nobody entered: it stays.
    """

    mend: Mend
    rig: Rig
    moved: tuple[Moved, ...]
    verdict: Verdict
    simple: Uplift | None
    misses: float
    good: bool
    beyond: float = 0.0

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
        return apart([each.before.up for each in self.moved]) + self.beyond

    @property
    def apart_after(self) -> float:
        """The same after it."""
        return apart([each.after.up for each in self.moved]) + self.beyond

    @property
    def evens(self) -> bool:
        """Whether it is there to bring the sides to one height."""
        return abs(self.apart_before) > EVEN


class Sure(NamedTuple):
    """
    How sure an Offer is: ``agree`` of ``of`` nets go its way, ``lost`` fly no more.

    Its way is up or down or, of sides that differ, nearer to each other; ``low`` and ``high``
    hold nine in ten of how far they go that way, in metres.
    """

    agree: int
    of: int
    lost: int
    low: float
    high: float

    @property
    def is_sure(self) -> bool:
        """Whether nearly all agree."""
        return self.agree >= SURE * self.of


def sure(offer: Offer, cases: Cases) -> Sure:
    """Return how sure ``offer`` is in ``cases``; raise NotAtRest if hardly any flies with it."""
    pairs = [
        ([each.up for each in old], [each.up for each in new])
        for old, new in cases.pairs(offer.rig)
    ]
    if offer.evens:
        gone = [
            abs(apart(old) + offer.beyond) - abs(apart(new) + offer.beyond) for old, new in pairs
        ]
    else:
        way = 1 if offer.after > offer.before else -1
        gone = [way * (height(new) - height(old)) for old, new in pairs]
    span = Span.of(gone)
    of = len(cases.each)
    return Sure(sum(each > NOTHING for each in gone), of, of - len(pairs), span.low, span.high)


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
    rig = tuned.verdict.rig
    if rig is None or not tuned.used or any(each.kind == LOOK for each in tuned.advice):
        return False
    if tuned.uneven:
        return not hides_the_sides(rig, tuned.run)
    return not tuned.doubts and tuned.status in (TOO_LOW, TOO_HIGH)


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
    sifter = _Sifter(tuned, rig, beliefs, rulebook, on)
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


def offer(
    mend: Mend,
    tuned: Tuning,
    rig: Rig,
    beliefs: Beliefs,
    rulebook: Rulebook,
    on: date | None = None,
) -> Offer | None:
    """
    Return ``mend`` as an Offer, as ``offered`` would; None if it is none that could be offered.

    Whether it serves better than others is not asked. Raise what ``flown.fly`` raises.
    """
    if not can_offer(tuned) or not any(mend in kind for kind in _kinds(tuned, rig)):
        return None
    return _Sifter(tuned, rig, beliefs, rulebook, on).offer(mend)


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
        self, tuned: Tuning, rig: Rig, beliefs: Beliefs, rulebook: Rulebook, on: date | None
    ) -> None:
        self.window, self.rig, self.beliefs = tuned.window, rig, beliefs
        self.rulebook, self.on = rulebook, on
        self.pull = shown(rig, tuned.run)
        self.beyond = beyond(rig, beliefs, tuned.run) if tuned.uneven else 0.0
        self.present = judge(rig, rulebook, on)
        quarter = (self.window.high - self.window.low) / 4
        self.aim = (self.window.low + quarter, self.window.high - quarter)
        self.now = self.misses([each.up for each in beliefs.flown(rig).points])
        self.offers: list[Offer] = []
        self.forbidden: list[Mend] = []
        self.contested: list[Mend] = []
        self.lost: list[Mend] = []

    def misses(self, heights: Sequence[float]) -> float:
        """Return the metres by which heights miss the middle of the window and each other."""
        low, high = self.aim
        up = height(heights)
        return max(0.0, low - up, up - high) + max(0.0, self._apart(heights) - EVEN)

    def good(self, heights: Sequence[float]) -> bool:
        return self._apart(heights) <= EVEN and self.window.holds(height(heights))

    def _apart(self, heights: Sequence[float]) -> float:
        return abs(apart(heights) + self.beyond)

    def offer(self, mend: Mend) -> Offer | None:
        """Return ``mend`` as an Offer, None if the net has no part for it; raise NotAtRest."""
        try:
            rig = mend.on(self.rig)
        except ValueError:
            return None  # there is no such part, or it was not measured
        if rig == self.rig:
            return None
        moved = compare(self.beliefs, self.rig, rig)
        after = [each.after.up for each in moved]
        return Offer(
            mend=mend,
            rig=rig,
            moved=moved,
            verdict=judge(rig, self.rulebook, self.on),
            simple=None if mend.side else self._simple(rig),
            misses=self.misses(after),
            good=self.good(after),
            beyond=self.beyond,
        )

    def sift(self, kind: Kind) -> None:
        """Keep the best of ``kind``, or note why none is."""
        best: Offer | None = None
        forbidden: Mend | None = None
        for mend in kind:
            try:
                found = self.offer(mend)
            except NotAtRest:
                self.lost.append(mend)
                break
            if found is None:
                continue
            if _against_thumb(found):
                self.contested.append(mend)
                break
            least = self.now if best is None else best.misses
            if found.misses > least - NOTHING:
                if best is not None:
                    break  # more of it goes too far
                continue
            if keeps_the_rules(found.verdict, self.present):
                best = found
            else:
                forbidden = forbidden or mend
        if best is not None:
            self.offers.append(best)
        elif forbidden is not None:
            self.forbidden.append(forbidden)

    def _simple(self, rig: Rig) -> Uplift | None:
        """Return what one dropper's model says, None where it counts not all of the change."""
        before = self.rig
        if before.with_(droppers=rig.droppers, floats=rig.floats) != rig:
            return None
        if rig.droppers == before.droppers and len(rig.floats or ()) == len(before.floats or ()):
            return None  # floats that only move lift as much as before
        return self.pull.effect(before, rig, lift=lift(rig) - lift(before))


def _against_thumb(offer: Offer) -> bool:
    """Return whether the trade has it work the other way."""
    change = offer.after - offer.before
    return offer.mend.side is None and abs(change) >= NOTHING and offer.mend.thumb * change < 0
