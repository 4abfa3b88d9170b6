"""The demo's paired tows: marked, shared as was chosen, and enough to show something."""

from datetime import date

import pytest

from tests.register.events_factory import make_vessel
from training.demo import tows
from training.evidence.models import PairedTows
from training.evidence.pooled import evidence
from training.people.models import Group, Membership, User
from training.people.sharing import Level, What, level_of

pytestmark = pytest.mark.django_db

SEASON = (date(2026, 7, 1), date(2026, 11, 20))


@pytest.fixture
def fishermen():
    group = Group.objects.create(name="Kettle Harbor crews", harbor="Kettle Harbor")
    for number in range(12):
        make_vessel(f"Vessel {number}")
    people = [
        User.objects.create_user(f"hand{number}@example.com", name=f"Hand {number}")
        for number in range(25)
    ]
    Membership.objects.bulk_create(Membership(group=group, user=person) for person in people)
    return people


def told():
    return list(
        PairedTows.objects.order_by("key").values_list(
            "key", "day", "catches__group", "catches__with_sweep"
        )
    )


def test_the_same_tows_each_time_all_of_them_marked(fishermen):
    tows.load(fishermen, SEASON)
    first = told()
    assert PairedTows.objects.filter(is_demo=False).count() == 0
    assert all(SEASON[0] <= day <= SEASON[1] for _, day, _, _ in first)
    PairedTows.objects.all().delete()
    tows.load(fishermen, SEASON)
    assert len(told()) == len(first)


def test_there_is_enough_to_show_and_all_choices_are_there(fishermen):
    tows.load(fishermen, SEASON)
    assert {level_of(person, What.CATCHES) for person in fishermen[: tows.OWNERS]} == set(Level)
    found = evidence()
    assert set(found.groups) == set(tows.CATCHES)
    assert found.is_demo
