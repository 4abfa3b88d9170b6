"""The modelled people: what each knows, guesses and slips on."""

import random
from datetime import date

import pytest

from rigs.rules import rulebook
from training.exercises import kinds
from training.exercises.hands import answer, looked_over, people
from training.exercises.hands.mind import SLIPS, identity
from training.exercises.kinds.base import EASIEST, HARDEST

DAY = date(2026, 9, 1)
EACH = 12  # tasks of a kind and level
LEVELS = range(EASIEST, HARDEST + 1)


def tasks(slug, level, count=EACH):
    kind = kinds.get(slug)
    for seed in range(count):
        yield kind.generate(seed, kind.pick_rulebook(seed, level, DAY), level)


def passed(slug, task, mind, seed=1):
    return kinds.get(slug).grade(task, answer(slug, task, mind, random.Random(seed))).passed


@pytest.fixture
def book():
    return rulebook.in_force("no-sweep", DAY)


@pytest.mark.parametrize("slug", sorted(kinds.KINDS))
class TestHands:
    def test_who_knows_it_all_and_never_slips_is_always_right(self, slug):
        for level in LEVELS:
            assert all(passed(slug, task, people.PERFECT) for task in tasks(slug, level))
            assert all(passed(slug, task, people.of_skill(5, 1)) for task in tasks(slug, level))

    def test_whatever_anybody_answers_can_be_read(self, slug):
        kind, level = kinds.get(slug), HARDEST
        minds = [people.at_random(3), people.blind(3), people.odd_one_out(3), people.of_skill(3, 0)]
        for task in tasks(slug, level):
            for mind in minds:
                kind.read(task, answer(slug, task, mind, random.Random(task.seed)))

    def test_without_knowing_anything_some_fail(self, slug):
        for level in LEVELS:
            assert not all(
                passed(slug, task, people.at_random(3), task.seed) for task in tasks(slug, level)
            )


class TestKnowing:
    def test_so_many_percent_of_the_rules(self, book):
        rules = people.rules_of([book])
        for percent in people.SHARES:
            known = [len(people.knower(seed, percent, rules).known) for seed in range(300)]
            assert {int(len(rules) * percent / 100)} <= set(known)
            assert max(known) - min(known) <= 1
            # The share itself on average: a coin each for the last rule, so 300 of them are
            # within 0.15 rules, five standard errors, of it.
            assert sum(known) / 300 == pytest.approx(len(rules) * percent / 100, abs=0.15)

    def test_other_people_know_other_rules(self, book):
        rules = people.rules_of([book])
        assert len({people.knower(seed, 60, rules).known for seed in range(5)}) == 5

    def test_a_limit_that_is_another_under_other_rules_is_another_thing_to_know(self):
        both = people.rules_of(
            [rulebook.in_force(each, DAY) for each in ("no-sweep", "chain-sweep")]
        )
        assert len([key for key, _ in both if key == "dropper_stock"]) == 2
        assert len([key for key, _ in both if key == "float_spacing"]) == 1

    def test_with_more_skill_all_is_known_that_was(self, book):
        def known(skill):
            mind = people.of_skill("somebody", skill)
            return {each.key for each in book.requirements if mind.knows(each)}

        steps = [known(skill / 10) for skill in range(11)]
        assert all(less <= more for less, more in zip(steps, steps[1:], strict=False))
        assert steps[0] == set()
        assert len(steps[10]) == len(book.requirements)

    def test_a_guessed_limit_is_kept_to(self, book):
        spacing = book.requirement("dropper_spacing")
        assert people.blind(7).limit(spacing) == people.blind(7).limit(spacing)
        assert people.blind(7).limit(spacing) != people.blind(8).limit(spacing)

    def test_slips_rise_with_the_level(self):
        for shares in (SLIPS.reading, SLIPS.missed, SLIPS.work):
            assert shares[1] < shares[2] < shares[3]


def test_a_crib_has_the_limits_that_come_up_most(book):
    places = [
        people.Place("judge-rig", 1, book, (key,)) for key in ("dropper_bare", "float_spacing")
    ]
    mind = people.crib(1, people.practice(places, 1, 8), constants=1)
    # A bare dropper is told by the rule's name: no limit has to be copied for it.
    assert mind.known == {identity(book.requirement("float_spacing"))}


def test_nothing_is_learned_from_an_exam_without_readings(book):
    mind = people.splitter(1, "middle", "gap")
    assert looked_over(mind, list(tasks("space-droppers", 1))).believed == {}
