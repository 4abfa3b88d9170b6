"""Practice on just those rules that were called otherwise than by the rule module."""

import random
from collections import Counter

import pytest

from rigs.rules import rulebook
from tests.calibration.round_factory import UNSURE, judge_all, make_round, truth
from training.calibration import practice
from training.calibration.holding import Count
from training.calibration.making import make, rigs_of
from training.calibration.models import PracticeRig, Turn
from training.calibration.report import figures_of
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.judge_rig import LEGAL, NOT_LEGAL
from training.exercises.kinds.one_reading import BROKEN, MET
from training.recall import memory
from training.recall.models import RuleMemory

BLIND = ["float_diameter"]


@pytest.fixture
def departed(turn):
    """A turn handed in by who does not see small floats and thinks all legs unequal."""
    return judge_all(turn, lambda rig: truth(rig, miss=BLIND, claim=["legs_equal"]))


def fresh(turn):
    """Return ``turn`` as it stands in the database."""
    return Turn.objects.get(pk=turn.pk)


def answer(rig, miss=()):
    """Return the raw answer to a practice rig by who is right but for the rules in ``miss``."""
    verdict = practice.task_of(rig).verdict
    failing = set(verdict.failed_keys) ^ set(miss)
    law = {each.key for each in verdict.rulebook.requirements if each.basis == "regulation"}
    return {"verdict": NOT_LEGAL if failing & law else LEGAL, "failing": sorted(failing)}


def practice_on(turn, miss=()):
    """Do the open rig of ``turn``, and return it."""
    rig = practice.open_rig(fresh(turn))
    return practice.hand_in(rig, answer(rig, miss))


def standing(turn, key):
    return next(each for each in practice.standings(fresh(turn)) if each.requirement.key == key)


class TestDepartures:
    def test_are_what_was_called_wrong(self, departed):
        for number, wrong in practice.departures(departed).items():
            rig = rigs_of(departed.round)[number - 1]
            for key, claimed in wrong.items():
                assert key in ("float_diameter", "legs_equal")
                assert rig.verdict.finding(key).failed is not claimed

    def test_count_over_and_under_apart(self, departed):
        rigs = rigs_of(departed.round)
        small, equal = standing(departed, "float_diameter"), standing(departed, "legs_equal")
        failing = sum("float_diameter" in rig.verdict.failed_keys for rig in rigs)
        sound = sum("legs_equal" not in rig.verdict.failed_keys for rig in rigs)
        assert (small.over, small.under) == (0, failing)
        assert (equal.over, equal.under) == (sound, 0)
        assert len(practice.standings(departed)) == 2

    def test_leave_out_what_could_not_be_told(self, turn):
        judge_all(turn, lambda rig: (UNSURE, []))
        assert practice.departures(turn) == {}

    def test_there_are_none_of_who_is_right(self, turn):
        judge_all(turn)
        assert practice.standings(turn) == []
        assert practice.open_rig(turn) is None


class TestRigs:
    def test_one_is_open_however_often_it_is_asked_for(self, departed):
        first = practice.open_rig(fresh(departed))
        assert practice.open_rig(fresh(departed)) == first
        assert PracticeRig.objects.count() == 1

    def test_are_made_for_rules_of_the_list_and_break_or_keep_them(self, departed):
        for _ in range(12):
            # Always wrong on another rule, so that the list never empties.
            rig = practice_on(departed, miss=["float_diameter", "legs_equal"])
            assert rig.rule in ("float_diameter", "legs_equal")
            finding = practice.task_of(rig).verdict.finding(rig.rule)
            assert finding.failed is (BROKEN in rig.focus)

    def test_go_by_the_rounds_rule_set(self, departed):
        rig = practice.open_rig(fresh(departed))
        assert practice.task_of(rig).rulebook == departed.round.rulebook

    @pytest.mark.parametrize("name", ["no-sweep", "chain-sweep", "grate"])
    def test_any_rule_is_practiced_near_its_limit_on_both_sides(self, officer, name):
        """Those too that cannot be broken alone: what goes with them is broken as well then."""
        turn = make_round([officer], name=name).turns.get()
        book = turn.round.rulebook
        for rule in [each.key for each in book.requirements if each.binds and not each.of_trip]:
            for side in (MET, BROKEN):
                rig = PracticeRig(turn=turn, rule=rule, seed=7, focus=[rule, side])
                task = practice.task_of(rig)
                assert (rule in task.verdict.failed_keys) is (side == BROKEN), rule
                assert practice.KIND.grade(task, practice.KIND.any_answer(task)).lines

    def test_what_was_broken_last_tells_nothing_of_the_next(self):
        """After two alike, or any number, the next is broken as often as not."""
        book, draw = rulebook.load("no-sweep", "1"), random.Random(5).randrange
        broken = Counter()
        for before in ([], [True] * 2, [False] * 2, [True] * 5):
            done = [
                PracticeRig(rule="legs_equal", focus=["legs_equal", BROKEN if each else MET])
                for each in before
            ]
            for _ in range(400):
                made = practice._next_rig(book, ["legs_equal"], done, draw)
                broken[len(before), sum(before)] += BROKEN in made["focus"]
        # A fair coin leaves 400 tosses beyond these about once in 300,000 times.
        assert all(155 < count < 245 for count in broken.values()), broken


class TestHoldingARule:
    def test_takes_so_many_right_running(self, departed):
        done = 0
        while practice.open_rig(fresh(departed)):
            practice_on(departed)
            done += 1
        assert done == 2 * Count().whole
        assert all(each.holds for each in practice.standings(fresh(departed)))

    def test_a_wrong_call_counts_against_it(self, departed):
        rig = practice_on(departed)
        before = standing(departed, rig.rule).count
        assert before == Count(right=1)
        practice_on(departed, miss=[rig.rule])
        found = standing(departed, rig.rule)
        assert (found.count, found.missed) == (Count(right=1, wrong=1), 1)
        assert found.count.to_go > before.to_go

    def test_a_wrong_call_after_holding_brings_the_rule_back(self, departed):
        key = "float_diameter"
        while not standing(departed, key).holds:
            practice_on(departed, miss=["legs_equal"])  # so that something is left to practice
        practice_on(departed, miss=[key])
        assert not standing(departed, key).holds

    def test_a_rule_called_wrong_in_practice_joins_the_list(self, departed):
        practice_on(departed, miss=["ground_gear_bare"])
        found = standing(departed, "ground_gear_bare")
        assert (found.over, found.under, found.missed) == (0, 0, 1)
        assert found.count == Count(wrong=1)

    def test_a_right_call_on_a_rig_made_for_another_rule_does_not_count(self, departed):
        rig = practice_on(departed)
        other = ({"float_diameter", "legs_equal"} - {rig.rule}).pop()
        assert standing(departed, other).count == Count()

    @pytest.mark.parametrize("say", ["met", "broken", "toss", "other side"])
    def test_whoever_cannot_tell_hardly_ever_holds_it(self, say):
        """Over 200 practices of 40 rigs each: fewer than 1 in 20 but for the luck of the draw."""
        book, rng = rulebook.load("no-sweep", "1"), random.Random(say)
        held = 0
        for _ in range(200):
            count, last, done = Count(), False, []
            for _ in range(40):
                made = practice._next_rig(book, ["legs_equal"], done, rng.randrange)
                broken = BROKEN in made["focus"]
                said = {
                    "met": False,
                    "broken": True,
                    "toss": rng.random() < 0.5,
                    "other side": not last,
                }[say]
                count, last = count.after(said is broken), broken
                done.append(PracticeRig(**made))
            held += count.held
        assert held <= 20


class TestWhatIsRemembered:
    def memory_of(self, turn, key):
        name = turn.round.rulebook_name
        return RuleMemory.objects.get(user=turn.officer, rulebook_name=name, key=key)

    def test_practice_feeds_what_comes_back(self, departed):
        rig = practice_on(departed)
        row = self.memory_of(departed, rig.rule)
        assert row.asked >= 1
        assert row.last_asked == rig.handed_in
        assert row.right_last
        rig = practice_on(departed, miss=["ground_gear_bare"])
        assert not self.memory_of(departed, "ground_gear_bare").right_last

    def test_made_anew_it_comes_out_the_same(self, departed):
        for miss in ([], ["ground_gear_bare"], []):
            practice_on(departed, miss=miss)
        fields = ("rulebook_name", "key", "step", "asked", "right", "last_asked", "due")
        before = sorted(RuleMemory.objects.values_list(*fields))
        memory.rebuild([departed.officer_id])
        assert sorted(RuleMemory.objects.values_list(*fields)) == before


class TestHandingIn:
    def test_the_first_answer_stands(self, departed):
        rig = practice.open_rig(fresh(departed))
        right, wrong = answer(rig), answer(rig, miss=["float_diameter"])
        practice.hand_in(rig, right)
        practice.hand_in(rig, wrong)
        rig.refresh_from_db()
        assert rig.answer == right
        assert all(rig.calls.values())
        assert practice.marked(rig).passed

    def test_what_cannot_be_read_is_not_kept(self, departed):
        rig = practice.open_rig(fresh(departed))
        with pytest.raises(BadAnswer):
            practice.hand_in(rig, {"verdict": "perhaps"})
        rig.refresh_from_db()
        assert rig.handed_in is None

    def test_every_rule_of_the_rig_counts(self, departed):
        rig = practice_on(departed, miss=["top_leg_wire"])
        binding = {each.key for each in practice.task_of(rig).requirements}
        assert set(rig.calls) == binding
        assert [key for key, right in rig.calls.items() if not right] == ["top_leg_wire"]


class TestCustom:
    """What is done by custom, which no clause asks, counts for and against nobody."""

    @pytest.fixture
    def off_custom(self, officer):
        """A turn in a round that has a rig with short droppers and nothing else broken."""
        book = rulebook.load("no-sweep", "1")
        seed = next(
            seed
            for seed in range(99)
            if any(
                each.verdict.off_custom and each.verdict.legal for each in make(seed, book, 20, 50)
            )
        )
        return make_round([officer], seed=seed).turns.get()

    def test_it_is_not_among_the_rules_to_judge_by(self, off_custom):
        customs = {each.key for each in off_custom.round.rulebook.requirements if each.by_custom}
        assert customs
        for rig in rigs_of(off_custom.round):
            assert customs.isdisjoint(each.key for each in rig.requirements)

    def test_whoever_passes_a_rig_that_is_off_custom_is_right(self, off_custom):
        turn = judge_all(off_custom)
        assert practice.departures(turn) == {}
        figures = figures_of(turn.round, [turn])
        assert figures.right.share == 1
        customs = {each.key for each in turn.round.rulebook.requirements if each.by_custom}
        assert customs.isdisjoint(each.requirement.key for each in figures.by_rule)

    def test_practice_never_counts_it(self, off_custom):
        turn = judge_all(off_custom, lambda rig: ("passes", []))
        customs = {each.key for each in turn.round.rulebook.requirements if each.by_custom}
        for seed in range(20):
            rig = practice.open_rig(turn, draw=random.Random(seed).randrange)
            assert rig.rule not in customs
            rig = practice.hand_in(rig, practice.KIND.any_answer(practice.task_of(rig)))
            assert customs.isdisjoint(rig.calls)
