"""The rigs of a round, made anew from its seed whenever they are wanted."""

import random
from collections import Counter
from dataclasses import dataclass
from functools import lru_cache

from rigs import faults, sample
from rigs.drawing import marks
from rigs.drawing.plan import plan_view
from rigs.gear import Rig
from rigs.judge import Verdict, judge
from rigs.oddities import make_odd
from rigs.units import feet_inches
from training.exercises.kinds.base import EASIEST, HARDEST

FEWEST_RIGS, MOST_RIGS = 20, 40

# Of the rigs of a round, about so many are sound, and of those half are odd; about so
# many have several faults. What is left has one fault each.
SOUND_SHARE = 0.3
SEVERAL_SHARE = 0.15
SEVERAL = (2, 3)

# Some rules cannot be broken together on one rig; a part of the deck that long is
# looked through for one that can.
TRIES = 200


@dataclass(frozen=True)
class RoundRig:
    """One rig of a round; ``number`` counts from 1, ``drawn`` says how it is shown."""

    number: int
    drawn: bool
    rig: Rig
    verdict: Verdict

    @property
    def requirements(self):
        """The requirements of a clause that bind this rig, in the rule set's order."""
        return tuple(finding.requirement for finding in self.verdict.regulation)


def rigs_of(round_):
    """Return the RoundRigs of ``round_``, in the order of their numbers."""
    return make(round_.seed, round_.rulebook, round_.count, round_.drawn_percent)


@lru_cache(maxsize=16)
def make(seed, rulebook, count, drawn_percent):
    """
    Return ``count`` RoundRigs as a tuple: the same arguments give the same for ever.

    The rules that can be broken singly come up as faults in turn, so that no two differ
    by more than one or two in how often they are broken. So does what is done by custom:
    a rig that does otherwise looks wrong and breaks nothing.
    """
    rng = random.Random(f"round/{seed}/{rulebook.name}/{rulebook.version}/{count}/{drawn_percent}")
    deck = _Deck(faults.spoilable(rulebook, customs=True), rng)
    shown = _shuffled([place < round(count * drawn_percent / 100) for place in range(count)], rng)
    made = []
    for number, (faulty, drawn) in enumerate(zip(_plan(count, rng), shown, strict=True), 1):
        rig = _rig(faulty, drawn, deck, rng, rulebook)
        made.append(RoundRig(number, drawn, rig, judge(rig, rulebook)))
    return tuple(made)


def _shuffled(items, rng):
    rng.shuffle(items)
    return items


def _plan(count, rng):
    """Return how many faults each rig is to have; None for a sound one that looks odd."""
    sound = round(count * SOUND_SHARE)
    several = round(count * SEVERAL_SHARE)
    plan = [None] * (sound // 2) + [0] * (sound - sound // 2)
    plan += [SEVERAL[place % len(SEVERAL)] for place in range(several)]
    return _shuffled(plan + [1] * (count - len(plan)), rng)


class _Deck:
    """The rules to be broken, dealt in turn; what does not fit stays for the next rig."""

    def __init__(self, keys, rng):
        self.keys, self.rng = keys, rng
        self.left = []

    def deal(self, fits):
        """Return the first key in turn for which ``fits`` returns something, and that."""
        for place in range(TRIES):
            if place >= len(self.left):
                self.left += _shuffled(list(self.keys), self.rng)
            found = fits(self.left[place])
            if found is not None:
                del self.left[place]
                return found
        raise faults.CannotSpoil


def _rig(faulty, drawn, deck, rng, rulebook):
    """Return a rig with ``faulty`` faults of the next in ``deck``, or one that is odd."""
    if not faulty:
        return _sound(drawn, rng, rulebook, odd=faulty is None)
    rig = deck.deal(lambda key: _first_spoilt(key, drawn, rng, rulebook))
    for _ in range(faulty - 1):
        rig = deck.deal(lambda key, rig=rig: _spoilt(rig, key, drawn, rng, rulebook))
    return rig


def _sound(drawn, rng, rulebook, odd):
    while True:
        rig = sample.legal_rig(rng, rulebook, rng.randint(EASIEST, HARDEST))
        try:
            rig = make_odd(rig, rng, rulebook) if odd else rig
        except faults.CannotSpoil:
            continue
        if not drawn or says_all(rig):
            return rig


def _first_spoilt(key, drawn, rng, rulebook):
    """Return a rig that breaks ``key`` alone: of many legal rigs, one can be spoilt so."""
    while True:
        rig = sample.legal_rig(rng, rulebook, rng.randint(EASIEST, HARDEST))
        if (spoilt := _spoilt(rig, key, drawn, rng, rulebook)) is not None:
            return spoilt


def _spoilt(rig, key, drawn, rng, rulebook):
    """Return ``rig`` with the fault ``key`` too, None where that cannot be."""
    may_be = faults.spoilable(rulebook, rig, customs=True)
    if key not in may_be or judge(rig, rulebook).finding(key).failed:
        return None
    try:
        spoilt = faults.spoil(rig, key, rng, rulebook, HARDEST)
    except faults.CannotSpoil:
        return None
    return spoilt if not drawn or says_all(spoilt) else None


def says_all(rig):
    """Return whether the plan of ``rig`` has room to write every distance along the footrope."""
    stops = marks.stops(rig.footrope, rig.droppers or ())
    needed = Counter(feet_inches(b - a) for a, b in zip(stops, stops[1:], strict=False))
    return not needed - Counter(text.text for text in plan_view(rig).texts)
