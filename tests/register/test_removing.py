"""Vessels taken off the register and merged: nothing counts them, and all of it can be undone."""

import uuid
from datetime import date, timedelta

import pytest
from django.utils import timezone

from tests.register.events_factory import happen, make_vessel
from tests.register.tables_factory import csv_file, dry_run
from tests.register.test_deriving import hand_in_sheet, standing
from tests.site import make_trainee
from training.desk.models import CallNote
from training.people import sight
from training.people.models import User
from training.register import as_of, events, uptake, uptake_sums
from training.register.deriving import derive_all
from training.register.models import AdoptionEvent, Crew, Removal, UptakeTally, Vessel
from training.register.removing import RemovalError, merge, put_back, remove
from training.register.stages import Known, Stage
from training.register.table.comparing import CHANGE, REFUSE

pytestmark = pytest.mark.django_db

LONG_AGO = date(2026, 3, 1)


@pytest.fixture
def vessel():
    """Entered twice: this is the later row, misspelled."""
    return make_vessel("Sandarling", registration="TS 1041", captain="Ida Fenwright")


@pytest.fixture
def other():
    return make_vessel("Sanderling")


def snapshot():
    """Return all that the register holds, row by row, but for what undoing adds to it."""
    events = AdoptionEvent.objects.order_by("pk").values_list("pk", "vessel", "stage", "day", "key")
    crew = Crew.every.order_by("pk").values_list("pk", "vessel", "since", "until", "part")
    fields = ("pk", "name", "harbor", "registration", "owner", "captain", "length", "removed")
    tallies = UptakeTally.objects.exclude(entered=0, left=0).order_by("pk")
    return [
        list(rows)
        for rows in (
            events,
            crew,
            Vessel.every.order_by("pk").values_list(*fields),
            CallNote.objects.order_by("pk").values_list("pk", "vessel"),
            tallies.values_list("harbor", "size", "month", "stage", "entered", "left"),
        )
    ]


class TestRemoving:
    def test_it_is_nowhere_and_counts_nowhere_on_past_days_too(self, vessel, user, staff):
        happen(vessel, Stage.CONVERTED, LONG_AGO)
        Crew.objects.create(vessel=vessel, user=user)
        Vessel.every.update(added=timezone.now() - timedelta(days=99))
        vessel.details.update(since=timezone.now() - timedelta(days=99))
        yesterday = timezone.localdate() - timedelta(days=1)
        assert [each.pk for each in as_of.fleet(staff, yesterday)] == [vessel.pk]
        remove(vessel, staff, uuid.uuid4())
        assert not Vessel.objects.exists()
        assert not Crew.objects.exists()
        assert not user.berths.exists()
        assert as_of.fleet(staff, yesterday) == []
        assert uptake_sums.counts(staff) == []
        assert not UptakeTally.objects.exclude(entered=0, left=0).exists()
        assert uptake.check() == []

    def test_whoever_fishes_on_it_belongs_to_its_harbor_no_more(self, vessel, user, staff):
        staff.reaches.create(harbor="Kettle Harbor")
        Crew.objects.create(vessel=vessel, user=user)
        assert user in sight.rows(User.objects.all(), staff)
        remove(vessel, staff, uuid.uuid4())
        assert user not in sight.rows(User.objects.all(), User.objects.get(pk=staff.pk))

    def test_putting_it_back_brings_back_everything(self, vessel, user, staff):
        happen(vessel, Stage.CONVERTED, LONG_AGO)
        Crew.objects.create(vessel=vessel, user=user)
        before = snapshot()
        removal = remove(vessel, staff, uuid.uuid4())
        assert snapshot() != before
        put_back(removal, staff)
        assert snapshot() == before
        assert uptake.check() == []
        put_back(removal, staff)
        assert snapshot() == before

    def test_a_double_tap_removes_once(self, vessel, staff):
        key = uuid.uuid4()
        assert remove(vessel, staff, key) == remove(vessel, staff, key)
        with pytest.raises(RemovalError, match="not on the register"):
            remove(vessel, staff, uuid.uuid4())
        assert Removal.objects.count() == 1

    def test_its_name_and_number_are_free_and_then_it_cannot_come_back(self, vessel, staff):
        removal = remove(vessel, staff, uuid.uuid4())
        make_vessel("Teal", "Eastlight", registration="ts 1041")
        with pytest.raises(RemovalError, match="Teal of Eastlight"):
            put_back(removal, staff)
        assert Vessel.objects.get().name == "Teal"


class TestMerging:
    def test_all_that_is_tied_to_it_goes_along_and_comes_back(self, vessel, other, user, staff):
        happen(vessel, Stage.TOLD, LONG_AGO)
        happen(other, Stage.TRAINING, "2026-05-01")
        Crew.objects.create(vessel=vessel, user=user, part="captain")
        CallNote.objects.create(key=uuid.uuid4(), vessel=vessel, by=staff)
        before = snapshot()
        removal = merge(vessel, other, staff, uuid.uuid4(), {"captain": "Ida Fenwright"})
        other.refresh_from_db()
        assert (other.captain, other.registration) == ("Ida Fenwright", "")
        assert other.standing.first_contact == LONG_AGO
        assert other.crew.get().user == user
        assert other.calls.count() == 1
        assert uptake.check() == []
        assert put_back(removal, staff).stayed == 0
        assert snapshot() == before
        assert uptake.check() == []

    def test_its_number_may_go_along(self, vessel, other, staff):
        removal = merge(vessel, other, staff, uuid.uuid4(), {"registration": "TS 1041"})
        assert Vessel.objects.get().registration == "TS 1041"
        put_back(removal, staff)
        assert list(Vessel.objects.values_list("name", "registration")) == [
            ("Sandarling", "TS 1041"),
            ("Sanderling", ""),
        ]

    def test_what_was_written_since_is_not_undone(self, vessel, other, staff):
        removal = merge(vessel, other, staff, uuid.uuid4(), {"captain": "Ida Fenwright"})
        Vessel.objects.update(captain="Wren Tolliver")
        put_back(removal, staff)
        assert Vessel.objects.get(pk=other.pk).captain == "Wren Tolliver"

    def test_who_fishes_on_both_is_aboard_once_from_the_earlier_day(
        self, vessel, other, user, staff
    ):
        Crew.objects.create(vessel=vessel, user=user, part="captain", since=LONG_AGO)
        Crew.objects.create(vessel=other, user=user, since=date(2026, 6, 1))
        before = snapshot()
        removal = merge(vessel, other, staff, uuid.uuid4())
        berth = other.crew.get()
        assert (berth.since, berth.part, berth.until) == (LONG_AGO, "captain", None)
        put_back(removal, staff)
        assert snapshot()[1:] == before[1:]

    def test_a_stage_the_site_found_itself_is_not_found_twice(self, vessel, other, user, staff):
        Crew.objects.create(vessel=vessel, user=user)
        assert vessel.events.get().known == Known.CREW
        merge(vessel, other, staff, uuid.uuid4())
        assert derive_all() == 0
        assert AdoptionEvent.objects.get().vessel == other

    def test_what_staff_withdrew_by_hand_stays_withdrawn(self, vessel, other, user, staff):
        Crew.objects.create(vessel=vessel, user=user)
        events.withdraw(vessel.events.get(), key="hand", by=staff)
        merge(vessel, other, staff, uuid.uuid4())
        assert derive_all() == 0
        assert standing(other) == []

    def test_sheets_that_name_it_are_the_others(self, vessel, other, officer, staff):
        hand_in_sheet(officer, "Sandarling")
        assert standing(vessel) == [(Stage.CHECKED, date(2026, 9, 1))]
        removal = merge(vessel, other, staff, uuid.uuid4())
        hand_in_sheet(officer, "TS 1041", day=date(2026, 10, 1))
        derive_all()
        days = [(Stage.CHECKED, date(2026, 9, 1)), (Stage.CHECKED, date(2026, 10, 1))]
        assert standing(other) == days
        put_back(removal, staff)
        derive_all()
        assert standing(vessel) == days
        assert standing(other) == []

    def test_a_new_vessel_of_its_name_has_its_own_sheets(self, vessel, other, officer, staff):
        merge(vessel, other, staff, uuid.uuid4())
        new = make_vessel("Sandarling")
        hand_in_sheet(officer, "Sandarling")
        derive_all()
        assert standing(new) == [(Stage.CHECKED, date(2026, 9, 1))]
        assert standing(other) == []

    @pytest.mark.parametrize(
        "row", ["sandarling,Kettle Harbor,48 ft,,,", "Tern,Eastlight,9 ft,ts1041,,"]
    )
    def test_the_next_register_taken_in_does_not_add_it_anew(self, vessel, other, staff, row):
        removal = merge(vessel, other, staff, uuid.uuid4())
        __, (outcome,) = dry_run(csv_file(row.split(",")), staff)
        assert outcome.does == REFUSE
        assert outcome.reasons[0].startswith("Sandarling of Kettle Harbor was merged into Sander")
        put_back(removal, staff)
        __, (outcome,) = dry_run(csv_file(row.split(",")), staff)
        assert outcome.does == CHANGE

    def test_merges_are_undone_from_the_last_on(self, vessel, other, staff):
        happen(vessel, Stage.TOLD, LONG_AGO)
        third = make_vessel("Sanderlin")
        before = snapshot()
        first = merge(vessel, other, staff, uuid.uuid4())
        second = merge(other, third, staff, uuid.uuid4())
        assert standing(third) == [(Stage.TOLD, LONG_AGO)]
        with pytest.raises(RemovalError, match="Put Sanderling back first"):
            put_back(first, staff)
        put_back(second, staff)
        put_back(first, staff)
        assert snapshot() == before

    def test_not_into_itself_nor_into_what_is_gone(self, vessel, other, staff):
        with pytest.raises(RemovalError, match="same one"):
            merge(vessel, vessel, staff, uuid.uuid4())
        remove(other, staff, uuid.uuid4())
        with pytest.raises(RemovalError, match="not on the register"):
            merge(vessel, other, staff, uuid.uuid4())
        assert Vessel.objects.get() == vessel

    def test_who_deletes_the_account_is_off_both(self, vessel, other, group, staff):
        person = make_trainee(group)
        Crew.objects.create(vessel=vessel, user=person)
        removal = merge(vessel, other, staff, uuid.uuid4())
        Crew.objects.all().delete()
        put_back(removal, staff)
        assert not Crew.every.exists()
