"""Readings near a limit: on the side asked for, as near as the level says, and telling nothing."""

import random
import re
from collections import Counter, defaultdict
from statistics import mean

import pytest

from rigs import requirements
from rigs.make import near
from rigs.requirements.sights import LookedAt
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.units import ROUNDING

BOOKS = [rulebook.load(name) for name in ("no-sweep", "chain-sweep", "grate")]
EVERY_RULE = [
    pytest.param(book, key, id=f"{book.name}-{key}") for book in BOOKS for key in near.keys(book)
]
# Each rule once, by the first rule set that has it.
ONCE = {key: book for book in reversed(BOOKS) for key in near.keys(book)}
SIGHTS = {
    each.key: (each.met, each.broken) for each in requirements.all() if isinstance(each, LookedAt)
}
MEASURED = sorted(key for key in ONCE if key not in SIGHTS)
LEVELS = (1, 2, 3)


def _draw(book, key, broken, level, seed):
    return near.draw(random.Random(f"{key}{level}{seed}"), book, key, broken, level)


def _about(key):
    return requirements.find(key).about


def _finding(made, book, key):
    return judge(made.rig, book).finding(key)


@pytest.mark.parametrize("book", BOOKS, ids=lambda book: book.name)
def test_every_law_of_gear_can_be_read_both_ways(book):
    gear = [each.key for each in book.requirements if each.binds and not each.of_trip]
    assert sorted(near.keys(book)) == sorted(gear)


@pytest.mark.parametrize(("book", "key"), EVERY_RULE)
def test_a_rig_is_sound_in_all_but_the_rule_that_it_is_to_break(book, key):
    for level in LEVELS:
        for seed in range(12):
            assert not judge(_draw(book, key, False, level, seed).rig, book).missed_keys
            missed = judge(_draw(book, key, True, level, seed).rig, book).missed_keys
            assert key in missed
            assert missed - {key} <= near.follows(key)


@pytest.mark.parametrize("key", MEASURED)
def test_misses_shrink_from_level_to_level_on_both_sides(key):
    book = ONCE[key]
    requirement = book.requirement(key)
    for broken in (True, False):
        sizes = []
        for level in LEVELS:
            made = [_draw(book, key, broken, level, seed) for seed in range(60)]
            off = [abs(_finding(each, book, key).margin) for each in made]
            sizes.append(off)
            least, most = near.span(requirement, level)
            if broken:
                # Where the limit is printed in two systems, the looser one counts.
                assert max(off) <= most + ROUNDING
                looser = abs(requirement.figure - requirement.limit)
                assert level == 3 or min(off) >= least - looser - ROUNDING
        # Where two lengths have to be equal, what keeps the rule is never off.
        if broken or requirement.limit:
            assert mean(sizes[0]) > mean(sizes[1]) > mean(sizes[2])


# What can be seen of a reading without reading it: how long it is, how round, how even.
FEATURES = {
    "length": len,
    "figures": lambda text: len(re.findall(r"\d+", text)),
    "fractions": lambda text: text.count("/"),
    "finest": lambda text: max(map(int, re.findall(r"/(\d+)", text)), default=1),
    "whole feet": lambda text: len(re.findall(r"\d ft(?! \d)", text)),
    "different": lambda text: len(set(re.findall(r"[\d /]+ (?:in|ft|mm)", text))),
}
MOST_TOLD = 0.7
"""How often a feature may tell the side at the near level. Tossing a coin 400 times comes out
as often as that in fewer than one of a million trials (binomial); what is over half is mostly
that of the figures themselves, such as 10 in being longer than 9 in."""


@pytest.mark.parametrize("key", MEASURED)
def test_no_single_feature_of_a_near_reading_tells_its_side(key):
    book = ONCE[key]
    texts = [
        (" ".join(_draw(book, key, broken, 3, f"{broken}{seed}").lines), broken)
        for seed in range(400)
        for broken in (True, False)
    ]
    learnt_from, tried_on = texts[:400], texts[400:]
    for name, feature in FEATURES.items():
        seen = defaultdict(Counter)
        for text, broken in learnt_from:
            seen[feature(text)][broken] += 1
        told = [seen[feature(text)].most_common(1)[:1] for text, _ in tried_on]
        right = [
            found[0][0] is broken if found else 0.5
            for found, (_, broken) in zip(told, tried_on, strict=True)
        ]
        assert mean(right) <= MOST_TOLD, name


@pytest.mark.parametrize("key", ["float_spacing", "dropper_spacing", "mesh_count_long"])
def test_round_figures_break_a_rule_as_often_as_they_keep_it(key):
    requirement, rng = ONCE[key].requirement(key), random.Random(key)
    size, to_round = requirement.measure.scale.step, requirement.measure.scale.to_round
    whole = Counter()
    for broken in (True, False):
        for _ in range(3000):
            off = abs(
                requirement.measure.scale.reading(rng, requirement, broken, 3) - requirement.limit
            )
            whole[broken] += round(off / size) % to_round == 0
    # About a sixth of 3,000 are round on each side; six standard deviations are 173.
    assert abs(whole[True] - whole[False]) < 173
    assert whole[True] > 300


@pytest.mark.parametrize("key", sorted(SIGHTS))
def test_what_is_seen_on_either_side_is_never_the_same(key):
    met, broken = SIGHTS[key]
    assert not {*met.plain, *met.close} & {*broken.plain, *broken.close}
    assert len(met.close) == len(broken.close)
    # What breaks a rule is not told by its denial.
    assert not any(re.search(r"\bnot\b", text) for text in (*broken.plain, *broken.close))


def test_what_a_reading_is_about_does_not_say_its_rule():
    for key, book in ONCE.items():
        about = near.about(book.requirement(key))
        assert requirements.find(key).about
        assert not re.search(r"\d|longer|at least|at most|equal|same|\bno\b", about)
    # One can tell neither leg's rule nor either rule about the ropes from what it is about.
    assert _about("top_leg_wire") == _about("bottom_leg_wire")
    assert _about("footrope_longer") == _about("footrope_excess")


@pytest.mark.parametrize("level", LEVELS)
def test_the_limit_lies_anywhere_about_sizes_that_are_offered(level):
    requirement, rng = ONCE["float_spacing"].requirement("float_spacing"), random.Random(level)
    met = Counter()
    for _ in range(600):
        sizes = requirement.measure.scale.around(rng, requirement, level, 3)
        assert sizes == sorted(set(sizes))
        met[sum(size <= requirement.edge for size in sizes)] += 1
    assert set(met) == {0, 1, 2, 3}
    # Each is as likely, 150 of 600, but that three wide gaps hardly fit below a limit.
    assert min(met[0], met[1], met[2]) > 100
