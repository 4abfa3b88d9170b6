"""A turn: saved rig by rig, never lost, handed in once."""

import pytest
from django.utils import timezone

from tests.calibration.round_factory import FAILS, PASSES, judge_all, make_round
from training.calibration import turns
from training.calibration.making import rigs_of
from training.calibration.models import Call, Round, Turn


def numbers(turn):
    return [entry.shown.number for entry in turns.entries(turn)]


class TestOrder:
    def test_everybody_gets_the_same_rigs_in_another_order(self, round_):
        orders = [numbers(turn) for turn in round_.turns.all()]
        assert all(sorted(order) == list(range(1, round_.count + 1)) for order in orders)
        assert len({tuple(order) for order in orders}) == len(orders)

    def test_the_order_stays(self, turn):
        assert numbers(turn) == numbers(Turn.objects.get(pk=turn.pk))

    def test_next_comes_what_is_not_judged(self, turn):
        entries = turns.entries(turn)
        assert turns.next_open(entries).place == 1
        turns.save(turn, entries[0].shown.number, PASSES, [], 0)
        assert turns.next_open(turns.entries(turn)).place == 2
        # From the end it goes back to what was passed over.
        assert turns.next_open(turns.entries(turn), after=turn.round.count).place == 2
        judge_all(turn, hand_in=False)
        assert turns.next_open(turns.entries(turn)) is None


class TestSaving:
    def test_the_same_call_twice_is_saved_once(self, turn):
        first = turns.save(turn, 1, FAILS, ["legs_equal", "float_diameter"], 0)
        again = turns.save(turn, 1, FAILS, ["float_diameter", "legs_equal"], 0)
        assert (again.pk, again.revision) == (first.pk, 1)
        assert Call.objects.get().failing == ["float_diameter", "legs_equal"]

    def test_a_change_by_who_has_seen_the_last_counts_up(self, turn):
        turns.save(turn, 1, PASSES, [], 0)
        assert turns.save(turn, 1, FAILS, ["legs_equal"], 1).revision == 2
        assert Call.objects.get().verdict == FAILS

    def test_a_change_by_who_has_not_is_refused(self, turn):
        turns.save(turn, 1, PASSES, [], 0)
        turns.save(turn, 1, FAILS, ["legs_equal"], 1)
        with pytest.raises(turns.StaleCall):
            turns.save(turn, 1, FAILS, ["float_spacing"], 1)
        assert Call.objects.get().failing == ["legs_equal"]

    def test_after_handing_in_nothing_changes(self, turn):
        judge_all(turn)
        before = list(Call.objects.values_list("number", "verdict", "failing"))
        with pytest.raises(turns.TurnClosed, match="turned this round in"):
            turns.save(turn, 1, PASSES, ["legs_equal"], 1)
        assert list(Call.objects.values_list("number", "verdict", "failing")) == before

    def test_a_closed_round_takes_nothing_in_and_keeps_what_it_has(self, turn):
        turns.save(turn, 1, PASSES, [], 0)
        Round.objects.update(closed=timezone.now())
        with pytest.raises(turns.TurnClosed, match="closed"):
            turns.save(turn, 2, PASSES, [], 0)
        with pytest.raises(turns.TurnClosed):
            turns.hand_in(turn)
        assert Call.objects.count() == 1

    def test_nothing_that_is_true_is_stored(self, turn):
        turns.save(turn, 1, PASSES, [], 0)
        names = {field.name for field in Call._meta.fields}
        assert names == {"id", "turn", "number", "verdict", "failing", "revision", "saved"}


class TestHandingIn:
    def test_needs_every_rig(self, turn):
        with pytest.raises(turns.NotFinished, match="20 rigs are"):
            turns.hand_in(turn)
        judge_all(turn, hand_in=False)
        Call.objects.filter(number=3).delete()
        with pytest.raises(turns.NotFinished, match="1 rig is"):
            turns.hand_in(turn)
        assert Turn.objects.get(pk=turn.pk).handed_in is None

    def test_twice_is_once(self, turn):
        judge_all(turn)
        moment = Turn.objects.get(pk=turn.pk).handed_in
        assert turns.hand_in(turn).handed_in == moment
        # Even when the round was closed since.
        Round.objects.update(closed=timezone.now())
        assert turns.hand_in(Turn.objects.get(pk=turn.pk)).handed_in == moment


def test_a_round_keeps_the_version_of_its_rule_set(officer):
    found = make_round([officer], name="chain-sweep")
    assert found.rulebook.name == "chain-sweep"
    assert {rig.verdict.rulebook for rig in rigs_of(found)} == {found.rulebook}
