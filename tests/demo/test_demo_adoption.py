"""The demo's vessels: each with people, and two seasons of taking up the rig."""

from datetime import date

import pytest
from django.db import transaction

from training.demo.load import load, seasons
from training.register import uptake
from training.register.models import AdoptionEvent, Crew, Vessel, VesselState
from training.register.stages import Known, Stage

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def loaded(django_db_setup, django_db_blocker):
    """The demo's data, made once for all tests of this module and then rolled back."""
    with django_db_blocker.unblock(), transaction.atomic():
        load(today=TODAY)
        yield
        transaction.set_rollback(True)


@pytest.fixture
def demo(loaded, db):
    return loaded


def test_vessels_have_owners_captains_and_numbers(demo):
    assert not Vessel.objects.filter(owner="").exists()
    assert not Vessel.objects.filter(captain="").exists()
    assert Vessel.objects.values("registration").distinct().count() == 40


def test_crews_fish_where_they_train(demo):
    crew = Crew.objects.select_related("vessel").prefetch_related("user__memberships__group")
    assert len(crew) > 60
    for each in crew:
        assert each.user.memberships.get().group.harbor == each.vessel.harbor


def test_events_lie_in_the_two_seasons(demo):
    (first, _), (_, last) = seasons(TODAY)
    days = AdoptionEvent.objects.values_list("day", flat=True)
    assert first <= min(days)
    assert max(days) <= TODAY
    years = {day.year for day in days}
    assert years == {first.year, last.year}


def test_every_stage_is_to_be_seen_and_some_derived(demo):
    stages = set(AdoptionEvent.objects.values_list("stage", flat=True))
    assert stages >= {Stage.TOLD, Stage.TRAINING, Stage.CREWED, Stage.CONVERTED, Stage.BACK}
    known = set(AdoptionEvent.objects.values_list("known", flat=True))
    assert known >= {Known.HAND, Known.CREW, Known.CERTIFICATE}
    assert VesselState.objects.filter(stage=Stage.CONVERTED).count() >= 5


def test_the_sums_are_as_a_recount_has_them(demo):
    assert uptake.check() == []
