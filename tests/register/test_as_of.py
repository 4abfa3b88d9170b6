"""The register as it was on a day, counted again event by event."""

from datetime import date, datetime, timedelta

import pytest
from django.utils import timezone

from tests.register.events_factory import happen, make_vessel, new_key
from tests.register.test_uptake_pages import HARBOURS, TODAY, made_up_fleet, stage_on
from training.people import sight
from training.people.models import Group, Membership, Reach, User
from training.register import as_of, conversion, events, uptake_sums
from training.register.models import Crew, Vessel, VesselDetails
from training.register.sizes import SIZES, size_of
from training.register.stages import Stage

pytestmark = pytest.mark.django_db

DAY = date(2025, 11, 30)


def morning(day):
    return timezone.make_aware(datetime(day.year, day.month, day.day, 9))


def registered(day):
    """Have all vessels be on the register since ``day``."""
    Vessel.objects.update(added=morning(day))
    VesselDetails.objects.update(since=morning(day))


def changed(vessel, day, **told):
    """Have the register say of ``vessel`` what is ``told`` from ``day`` on."""
    known = set(vessel.details.values_list("pk", flat=True))
    for name, value in told.items():
        setattr(vessel, name, value)
    vessel.save()
    vessel.details.exclude(pk__in=known).update(since=morning(day))


def test_counts_of_a_day_equal_a_recount(staff):
    made_up_fleet(3, 40)
    registered(date(2025, 1, 1))
    for day in (date(2025, 2, 20), DAY, date(2026, 3, 1)):
        found = {each[:2]: each[2:] for each in as_of.counts(as_of.fleet(staff, day))}
        for harbor in HARBOURS:
            for size in SIZES:
                there = [
                    vessel
                    for vessel in Vessel.objects.filter(harbor=harbor, is_fishing=True)
                    if size_of(vessel.length) == size
                ]
                stages = [stage_on(vessel, day) for vessel in there]
                expected = len(there), stages.count(Stage.CONVERTED)
                assert found.get((harbor, size.key), (0, 0)) == expected


def test_today_is_what_the_pages_of_today_count(staff):
    made_up_fleet(4, 40)
    registered(date(2025, 1, 1))
    fleet = as_of.fleet(staff, TODAY)
    assert as_of.counts(fleet) == uptake_sums.counts(staff)
    found, now = as_of.conversion(fleet, TODAY), conversion.conversion(staff, TODAY)
    assert sorted(found.followed) == sorted(now.followed)
    assert found.met_converted == now.met_converted


def test_what_came_later_makes_no_difference(staff):
    made_up_fleet(5, 30)
    registered(date(2025, 1, 1))
    before = as_of.fleet(staff, DAY)
    made_up = list(Vessel.objects.order_by("pk"))
    for number, vessel in enumerate(made_up):
        happen(vessel, list(Stage)[number % 7], DAY + timedelta(days=1 + number))
    make_vessel("Newcomer", added=morning(DAY + timedelta(days=1)))
    changed(made_up[0], date(2026, 1, 5), is_fishing=not made_up[0].is_fishing)
    changed(made_up[1], date(2026, 1, 5), harbor="Gannet Cove", length=99.0)
    changed(made_up[1], date(2026, 2, 5), harbor="Eastlight")
    assert as_of.fleet(staff, DAY) == before
    later = as_of.fleet(staff, date(2026, 12, 1))
    assert len(later) == len(before) + 1


def test_what_was_corrected_counts_as_corrected(staff):
    vessel = make_vessel(added=morning(date(2025, 1, 1)))
    told = happen(vessel, Stage.TOLD, "2025-08-01")
    came = happen(vessel, Stage.CONVERTED, "2025-09-01")
    (found,) = as_of.fleet(staff, DAY)
    assert found.is_converted
    assert found.came(date(2025, 9, 1), DAY)
    assert not found.came(date(2025, 9, 2), DAY)
    # It was next year, as we heard later: on that day it had not happened.
    moved = events.correct(came, key=new_key(), by=staff, day=date(2026, 1, 9))
    (found,) = as_of.fleet(staff, DAY)
    assert (found.standing.stage, found.standing.last_event) == (Stage.TOLD, told.day)
    events.withdraw(moved, key=new_key(), by=staff)
    events.withdraw(told, key=new_key(), by=staff)
    (found,) = as_of.fleet(staff, DAY)
    assert found.standing.stage == ""


def test_a_vessel_counts_where_it_lay_then(staff):
    vessel = make_vessel(harbor="Eastlight", added=morning(date(2025, 1, 1)))
    changed(vessel, date(2026, 1, 5), harbor="Marrow Point")
    Reach.objects.create(user=staff, harbor="Eastlight")
    assert [each.harbor for each in as_of.fleet(staff, DAY)] == ["Eastlight"]
    assert as_of.fleet(staff, date(2026, 1, 5)) == []
    assert as_of.fleet(staff, date(2024, 12, 31)) == []


def test_one_added_in_the_evening_is_there_that_day(staff, settings):
    # 3 in the morning of July 2 in Greenwich is late on July 1 on this coast.
    late = datetime.fromisoformat("2025-07-02T03:00:00+00:00")
    make_vessel(added=late)
    assert as_of.fleet(staff, date(2025, 6, 30)) == []
    day = timezone.localdate(late)
    assert len(as_of.fleet(staff, day)) == 1


def test_people_belong_to_a_harbor_from_when_they_came(staff):
    Reach.objects.create(user=staff, harbor="Eastlight")
    group = Group.objects.create(name="Eastlight crews", harbor="Eastlight")
    vessel = make_vessel(harbor="Eastlight", added=morning(date(2025, 1, 1)))
    joined = morning(date(2025, 3, 1))
    early, late, aboard, left = (
        User.objects.create_user(f"p{number}@example.com", name=f"P {number}", joined=joined)
        for number in range(4)
    )
    Membership.objects.create(group=group, user=early, joined=joined)
    Membership.objects.create(group=group, user=late, joined=morning(date(2026, 1, 5)))
    Crew.objects.create(vessel=vessel, user=aboard, since=DAY)
    Crew.objects.create(vessel=vessel, user=left, since=date(2025, 5, 1), until=DAY)

    def there(day):
        return set(sight.people_in_reach(User.objects.all(), staff, as_of.end_of(day)))

    assert there(date(2025, 2, 28)) == set()
    assert there(date(2025, 11, 29)) == {early, left}
    assert there(DAY) == {early, aboard}
    changed(vessel, date(2026, 1, 5), harbor="Marrow Point")
    assert there(DAY) == {early, aboard}
    assert there(date(2026, 1, 5)) == {early, late}


def test_details_are_noted_once_a_change(staff):
    vessel = make_vessel()
    vessel.captain = "Nell Rudd"
    vessel.save()
    happen(vessel, Stage.TOLD, "2026-01-05")
    assert vessel.details.count() == 1
    assert vessel.details.get().since == vessel.added
    vessel.is_fishing = False
    vessel.save()
    assert [each.is_fishing for each in vessel.details.all()] == [True, False]
