"""The demo's rounds: marked as invented, judged as people judge."""

from datetime import date

import pytest

from tests.calibration.round_factory import make_officers
from training.calibration import practice, turns
from training.calibration.forms import CallForm
from training.calibration.models import PracticeRig, Round, Turn
from training.calibration.report import figures_of, turns_handed_in
from training.demo import calibration

SEASON_ENDS = date(2026, 11, 20)


@pytest.fixture
def loaded(db):
    officers = make_officers(6)
    calibration.load(officers, SEASON_ENDS)
    return officers


def test_one_round_is_finished_and_one_is_to_go_on_with(loaded):
    opened, done = Round.objects.all()
    assert done.closed
    assert done.turns.filter(handed_in__isnull=False).count() == 6
    mine = opened.turns.get(officer=loaded[0])
    assert turns.is_open(mine)
    assert mine.calls.count() == calibration.BEGUN
    assert Round.objects.filter(is_demo=False).count() == 0


def test_the_officers_are_mostly_right_and_each_departs_somewhere(loaded):
    done = Round.objects.get(closed__isnull=False)
    figures = figures_of(done, turns_handed_in(done))
    for each in figures.by_officer:
        assert 0.5 < each.right.share < 1
        assert practice.standings(each.officer)
    assert figures.kappa.kappa > 0.3
    assert figures.among.kappa > 0


def test_every_call_could_have_been_made_on_the_page(loaded):
    for turn in Turn.objects.select_related("round"):
        for entry in turns.entries(turn):
            if entry.call:
                said = {"verdict": entry.call.verdict, "failing": entry.call.failing}
                assert CallForm(said, rig=entry.shown).is_valid()


def test_the_officer_to_sign_in_as_has_practiced(loaded):
    rigs = PracticeRig.objects.all()
    assert len(rigs) == calibration.PRACTISED
    for rig in rigs:
        assert rig.turn.officer == loaded[0]
        assert rig.turn.handed_in < rig.made < rig.handed_in
        again = practice.marked(rig).lines
        assert all(line.right is rig.calls[line.key] for line in again if line.key in rig.calls)


def _story():
    """Return all that was drawn at random, in an order that no database chooses."""
    rounds = Round.objects.order_by("seed", "turns__officer")
    said = Turn.objects.order_by("round__seed", "officer", "calls__number", "practice__made")
    return (
        list(rounds.values_list("title", "seed", "created", "turns__handed_in")),
        list(said.values_list("calls__verdict", "calls__failing", "practice__seed")),
    )


def test_the_same_story_is_told_each_time(loaded):
    first = _story()
    PracticeRig.objects.all().delete()
    for turn in Turn.objects.all():
        turn.calls.all().delete()
    Turn.objects.all().delete()
    Round.objects.all().delete()
    calibration.load(loaded, SEASON_ENDS)
    assert _story() == first
