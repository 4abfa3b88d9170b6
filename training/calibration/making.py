"""The rigs of a round, made anew from its seed whenever they are wanted."""

import random
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from rigs.drawing.plan import writes_all
from rigs.make import faults, spots
from rigs.make.clearance import roomy_rig
from rigs.rules.judge import Verdict, judge
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import Rig
from training.exercises.kinds.base import EASIEST, HARDEST

FEWEST_RIGS, MOST_RIGS = 20, 40

# Of the rigs of a round about so many are sound, and about so many have several faults.
# What is left has one fault each.
SOUND_SHARE = 0.4
SEVERAL_SHARE = 0.15
SEVERAL = (2, 3)

# So many readings on every rig lie near their limits, whichever side of it: more rules are
# met by little than broken.
NEAR = (2, 2, 2, 3)

# Some rules cannot be broken together on one rig; a part of the deck that long is
# looked through for one that can, and so many rigs are tried for each.
TRIES = 200
RIGS_TRIED = 20


@dataclass(frozen=True)
class RoundRig:
    """
    One rig of a round; ``number`` counts from 1, ``drawn`` says how it is shown.

    ``about`` are the keys of the rules that it was made to break or to meet by little.
    """

    number: int
    drawn: bool
    rig: Rig
    verdict: Verdict
    about: tuple[str, ...]

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
    by more than one or two in how often they are broken, and so do those that are met by
    little. What is done by custom is among the faults: a rig that does otherwise looks wrong
    and breaks nothing.
    """
    rng = random.Random(f"round/{seed}/{rulebook.name}/{rulebook.version}/{count}/{drawn_percent}")
    broken = _Deck(faults.spoilable(rulebook, customs=True), rng)
    near = _Deck(spots.measured(rulebook), rng)
    shown = _shuffled([place < round(count * drawn_percent / 100) for place in range(count)], rng)
    made = []
    for number, (faulty, drawn) in enumerate(zip(_plan(count, rng), shown, strict=True), 1):
        rig, about = _rig(faulty, (broken, near), _Wanted(drawn, rng, rulebook))
        made.append(RoundRig(number, drawn, rig, judge(rig, rulebook), about))
    return tuple(made)


def _shuffled(items, rng):
    rng.shuffle(items)
    return items


def _plan(count, rng):
    """Return how many faults each rig is to have."""
    plan = [0] * round(count * SOUND_SHARE)
    several = round(count * SEVERAL_SHARE)
    plan += [SEVERAL[place % len(SEVERAL)] for place in range(several)]
    return _shuffled(plan + [1] * (count - len(plan)), rng)


class _Deck:
    """Rules dealt in turn; what does not fit a rig stays for the next."""

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
        raise faults.CannotMake


class _Wanted(NamedTuple):
    """How a rig is to be shown, and what it is drawn from."""

    drawn: bool
    rng: random.Random
    rulebook: Rulebook


def _rig(faulty, decks, wanted):
    """
    Return a rig with ``faulty`` faults and some rules met by little, and all those rules.

    ``decks`` are that of the rules to break and that of the rules to meet.
    """
    broken, near = decks
    level = wanted.rng.randint(EASIEST, HARDEST)
    count = max(faulty, wanted.rng.choice(NEAR))
    sides, rig = {}, None
    for number in range(count):
        is_broken = number < faulty

        def fits(key, is_broken=is_broken, sides=sides):
            return None if key in sides else _made(sides | {key: is_broken}, level, wanted)

        rig, sides = (broken if is_broken else near).deal(fits)
    return rig, tuple(sides)


def _made(sides, level, wanted):
    """Return (rig, ``sides``) with every reading on its side, None where that cannot be."""
    drawn, rng, rulebook = wanted
    if any(set(pair) <= set(sides) for pair in spots.one_of()):
        return None
    for _ in range(RIGS_TRIED):
        rig = roomy_rig(rng, rulebook, difficulty=level)
        try:
            rig = spots.put_many(rig, sides, faults.Draw(rng, rulebook, level))
        except faults.CannotMake:
            continue
        if not drawn or writes_all(rig):
            return rig, sides
    return None
