"""
The modelled people by whom exams and kinds of exercise are judged, and what is assumed of them.

Nothing in here was measured: there are no records of real people yet. Every figure is an
assumption without a source, and so is whatever an exam is said to do by them.
"""

import json
from collections import Counter, defaultdict
from random import Random
from typing import NamedTuple

from .. import kinds
from .mind import ALL, SLIPS, Mind, identity

PERFECT = Mind(known=ALL, slips=SLIPS.times(0))
"""Somebody who knows it all and never slips: gives the right answer to any task."""

SHARES = (60, 80, 95, 100)
"""Percent of the rules that the modelled knowers know."""

HONEST = {60: 0.10, 80: 0.20, 95: 0.40, 100: 0.30}
"""Who comes to an exam after some training: the share of people by percent of rules known."""

ENOUGH = 90
"""From how many percent of the rules on somebody ought to pass: below it a pass is a false
pass, from it on a fail is a false fail."""

SLIPS_OF_A_BEGINNER = 4
"""How many times as often as a trained person somebody without any skill slips."""

PRACTICE_TASKS = 300
"""How many practice tasks somebody goes through to make a crib."""

CONSTANTS = 2
"""How many limits are on a crib. More than a few are the rules themselves: learned, not copied."""


def of_skill(seed, skill):
    """
    Return a person in training, of a ``skill`` from 0 to 1.

    The same ``seed`` makes the same person: with more skill all that was known is known still.
    """
    slips = SLIPS.times(SLIPS_OF_A_BEGINNER * (1 - skill))
    return Mind(seed=seed, share=skill, slips=slips)


def at_random(seed):
    """Return somebody who answers by chance."""
    return Mind(seed=seed, known=frozenset(), directed=False, by_looks=False)


def blind(seed):
    """
    Return somebody who knows which way each rule points, but no limit, and reads shapes well.

    Of each limit a guess is made, and kept to.
    """
    return Mind(seed=seed, known=frozenset())


def odd_one_out(seed):
    """Return somebody who takes whatever differs from its fellows for what is wrong."""
    return Mind(seed=seed, known=frozenset(), naive=True, ways=("odd",))


def splitter(seed, *ways):
    """Return a blind person who finds limits by comparing the questions of one exam."""
    return Mind(seed=seed, known=frozenset(), ways=ways)


def knower(seed, percent, rules):
    """
    Return somebody who knows so many ``percent`` of ``rules``, identities, drawn at random.

    Where that is no whole number of rules it is the next one up or down, by chance. What is
    not known is answered as ``blind`` does.
    """
    rng = Random(f"knower/{seed}")
    count = int(len(rules) * percent / 100 + rng.random())
    known = frozenset(rng.sample(sorted(rules), min(count, len(rules))))
    return Mind(seed=seed, known=known, share=percent / 100)


def rules_of(books):
    """Return the identities of all rules on gear that bind under any of ``books``, Rulebooks."""
    return frozenset(
        identity(each)
        for book in books
        for each in book.requirements
        if each.binds and not each.of_trip
    )


# Copied answers ------------------------------------------------------------------------------


class Place(NamedTuple):
    """A question before it is read: kind, level, Rulebook, and the keys that it turns on."""

    kind: str
    level: int
    book: object
    focus: tuple[str, ...] = ()


class Practiced(NamedTuple):
    """A practice task of a Place with its right answer, both as feedback shows them."""

    place: Place
    task: object
    right: dict


def practice(places, seed, count=PRACTICE_TASKS):
    """Return ``count`` Practiced tasks, spread evenly over ``places``."""
    rng = Random(f"practice/{seed}")
    done = []
    for number in range(count):
        place = places[number % len(places)]
        kind = kinds.get(place.kind)
        task = kind.generate(rng.randrange(2**31), place.book, place.level, place.focus)
        done.append(Practiced(place, task, right_answer(place.kind, task)))
    return done


def right_answer(slug, task):
    """Return a right raw answer to ``task`` of the kind ``slug``."""
    return kinds.get(slug).hand(task, PERFECT, Random(0))


def commonest(seed, practiced):
    """Return somebody who always gives the answer right most often at the kind and level."""
    counts = defaultdict(Counter)
    for place, _, right in practiced:
        counts[place.kind, place.level][json.dumps(right, sort_keys=True)] += 1
    fixed = {place: json.loads(each.most_common(1)[0][0]) for place, each in counts.items()}
    return Mind(seed=seed, known=frozenset(), fixed=fixed)


def crib(seed, practiced, constants=CONSTANTS):
    """
    Return a blind person with a crib made from ``practiced``.

    On it are the limits of so many rules, those that came up most among the ones with a limit
    to know, and for each kind and rule the fixed answer that was right most often, if it was
    right more often than what a blind person says.
    """
    asked, counts, blindly, total = Counter(), defaultdict(Counter), Counter(), Counter()
    mind = blind(seed)
    for place, task, right in practiced:
        for key in place.focus:
            # Beside rules a focus can name the side that they come out on.
            requirement = place.book.requirement(key) if place.book.has(key) else None
            if requirement and not requirement.is_plain:
                asked[identity(requirement)] += 1
        where = where_of(place.kind, task)
        counts[where][json.dumps(right, sort_keys=True)] += 1
        total[where] += 1
        blindly[where] += _passes(place.kind, task, mind, Random(f"{seed}/{len(blindly)}"))
    fixed = {}
    for where, each in counts.items():
        answer, times = each.most_common(1)[0]
        # Of a few tasks one answer is the commonest by chance alone.
        if times > max(blindly[where] + total[where] ** 0.5, 0.5 * total[where]):
            fixed[where] = json.loads(answer)
    known = frozenset(key for key, _ in asked.most_common(constants))
    fixed = {where: each for where, each in fixed.items() if where[-1] not in {k for k, _ in known}}
    return Mind(seed=seed, known=known, fixed=fixed, slips=SLIPS)


def where_of(slug, task):
    """Return by what a fixed answer is looked up: kind, level, rule set and rule, if any."""
    requirement = getattr(task, "requirement", None)
    return slug, task.difficulty, task.rulebook.name, requirement.key if requirement else ""


def _passes(slug, task, mind, rng):
    kind = kinds.get(slug)
    return kind.grade(task, kind.hand(task, mind, rng)).passed
