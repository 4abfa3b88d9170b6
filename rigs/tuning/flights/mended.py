"""
Whether a change mends its net: by the flights of the table, and by the judge.

Nothing is typed here that a rule or the trade has: the height to fish at is the trade's window,
what is even is as fine as shine is read, how sure is sure enough is what the site says of any
change in flight.
"""

from dataclasses import dataclass
from functools import cached_property

from rigs.physics.flight import COUNT
from rigs.physics.practice import FOOTROPE_HEIGHT, RuleOfThumb
from rigs.rules.judge import Finding, judge
from rigs.rules.rulebook import Rulebook
from rigs.tuning.flight_words import SURE
from rigs.tuning.window import EVEN
from rigs.words.gear import Rig

from .mends import DOWN, UP
from .nets import HIGH, LOPSIDED, LOW
from .table import Flight, Flights, apart, height

WRONG_WAY, UNSURE, STILL_LOW, STILL_HIGH, STILL_UNEVEN = (
    "wrong-way",
    "unsure",
    "still-too-low",
    "still-too-high",
    "still-uneven",
)
"""What is wrong with a change as the net flies after it."""

_WAY = {LOW: UP, HIGH: DOWN}


@dataclass(frozen=True)
class Mended:
    """What ``flight`` makes of the net of ``flights``, by ``rulebook``; metres throughout."""

    flights: Flights
    flight: Flight
    rulebook: Rulebook
    window: RuleOfThumb = FOOTROPE_HEIGHT

    @cached_property
    def rig(self) -> Rig:
        """The net after the change."""
        return self.flight.mend.on(self.flights.ailing.rig)

    @property
    def height(self) -> float:
        """How high it then flies, by center and corners."""
        return height(self.flight.after)

    @property
    def apart(self) -> float:
        """By how much port then flies higher than starboard."""
        return apart(self.flight.after)

    @property
    def change(self) -> float:
        """How far its height goes up."""
        return self.height - height(self.flights.before)

    @property
    def is_lopsided(self) -> bool:
        """Whether it is the sides that have to be brought to one height."""
        return self.flights.ailing.ails == LOPSIDED

    @property
    def way(self) -> int:
        """UP or DOWN, as the net has to go; 0 if it is to be brought even."""
        return _WAY.get(self.flights.ailing.ails, 0)

    @property
    def agree(self) -> int:
        """In how many nets like this one it goes the way that is asked for."""
        return self._moved(self.way)

    def _moved(self, way: int) -> int:
        return {
            UP: self.flight.lifted,
            DOWN: self.flight.lowered,
            0: self.flight.nearer,
        }[way]

    @property
    def is_sure(self) -> bool:
        """Whether it goes that way in nearly all: a net whose mouth closes by it does not."""
        return self.agree >= SURE * COUNT

    @property
    def goes_wrong(self) -> bool:
        """Whether it likely goes the other way."""
        if self.is_lopsided:
            return abs(self.apart) > abs(apart(self.flights.before))
        return self.change * self.way < 0

    @property
    def fault(self) -> str | None:
        """What is wrong with how the net then flies, by its size before its chance; or None."""
        if self.goes_wrong:
            return WRONG_WAY
        if self.is_lopsided and abs(self.apart) > EVEN:
            return STILL_UNEVEN
        if self.height < self.window.low:
            return STILL_LOW
        if self.height > self.window.high:
            return STILL_HIGH
        return None if self.is_sure else UNSURE

    @cached_property
    def broken(self) -> tuple[Finding, ...]:
        """
        The Findings that the net then misses: of the law, and of customs that it kept before.

        What a sound net of the table misses too is no part of it, such as a grate.
        """
        ailing = self.flights.ailing
        lacking = judge(ailing.net.sound, self.rulebook).missed_keys
        before = judge(ailing.rig, self.rulebook).missed_keys
        return tuple(
            each
            for each in judge(self.rig, self.rulebook).findings
            if each.failed
            and each.key not in lacking
            and (not each.by_custom or each.key not in before)
        )

    @property
    def mends(self) -> bool:
        """Whether it is a right answer."""
        return self.fault is None and not self.broken

    @property
    def off(self) -> float:
        """
        How far in metres the likely flight lies from being judged otherwise.

        Of a change that goes the wrong way, how far it goes.
        """
        if self.goes_wrong:
            if self.is_lopsided:
                return abs(self.apart) - abs(apart(self.flights.before))
            return abs(self.change)
        ends = [abs(self.height - end) for end in (self.window.low, self.window.high)]
        uneven = abs(abs(self.apart) - EVEN)
        if not self.is_lopsided:
            return min(ends)
        return min(*ends, uneven) if abs(self.apart) <= EVEN else uneven

    @property
    def against_thumb(self) -> bool:
        """Whether the model and the trade say the opposite of it: then neither is asked about."""
        thumb = self.flight.mend.thumb
        return self.flight.mend.side is None and thumb * self.change < 0


def all_of(told: Flights, rulebook: Rulebook) -> tuple[Mended, ...]:
    """
    Return what each change that was tried on a net makes of it.

    Those are left out on which the trade and the model say the opposite.
    """
    found = (Mended(told, flight, rulebook) for flight in told.tried)
    return tuple(each for each in found if not each.against_thumb)


def of(told: Flights, key: str, rulebook: Rulebook) -> Mended:
    """Return what the change of the name ``key`` makes of a net; KeyError if it was not tried."""
    for flight in told.tried:
        if flight.mend.key == key:
            return Mended(told, flight, rulebook)
    raise KeyError(key)
