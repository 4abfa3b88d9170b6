"""Undoing an import: what it wrote goes back, and what was done since stays and is said."""

import pytest
from django.urls import reverse

from tests.register.events_factory import happen, make_vessel
from tests.register.tables_factory import csv_file, import_file
from training.people.models import Reach
from training.register import events, removing, uptake
from training.register.models import AdoptionEvent, Crew, Removal, Vessel
from training.register.stages import Stage
from training.register.table import undoing

pytestmark = pytest.mark.django_db

HEADER = ["name", "harbor", "length", "registration number", "owner", "stage", "stage since"]
TEAL = ["Teal", "Eastlight", "44 ft", "TS 2", "Ivo", "told", "2026-07-01"]
SANDERLING = ["Sanderling", "Kettle Harbor", "51 ft", "TS 1", "Ida", "told", "2026-07-01"]


@pytest.fixture
def vessel():
    return make_vessel(registration="TS 1", owner="Zoë")


@pytest.fixture
def draft(staff, vessel):
    return import_file(csv_file(TEAL, SANDERLING, header=HEADER), staff)


def register():
    """Return the register as it reads: what an undone import may leave no trace in."""
    return sorted(
        Vessel.objects.values_list(
            "name", "harbor", "length", "registration", "owner", "is_fishing", "standing__stage"
        )
    )


def undone(draft, staff):
    found = undoing.undo(draft.key, staff)
    assert uptake.check() == []
    return found


class TestAll:
    def test_goes_back_to_the_letter(self, staff, vessel):
        before = register()
        draft = import_file(csv_file(TEAL, SANDERLING, header=HEADER), staff)
        assert register() != before
        assert undone(draft, staff).stayed == []
        assert [row[:-1] for row in register()] == [row[:-1] for row in before]
        assert not AdoptionEvent.objects.standing().filter(vessel=vessel).exists()

    def test_twice_undoes_once(self, staff, draft):
        first = undone(draft, staff).undone
        make_vessel("Teal", "Eastlight")
        assert undone(draft, staff).undone == first
        assert Vessel.objects.filter(name="Teal").exists()

    def test_what_was_added_can_be_put_back(self, staff, draft):
        undone(draft, staff)
        removing.put_back(Removal.objects.get(), staff)
        assert Vessel.objects.get(name="Teal").standing.stage == Stage.TOLD
        assert uptake.check() == []

    def test_can_be_imported_again(self, staff, draft):
        undone(draft, staff)
        again = import_file(csv_file(TEAL, SANDERLING, header=HEADER), staff)
        assert (again.added, again.changed) == (1, 1)
        assert uptake.check() == []


class TestWhatWasDoneSince:
    def test_a_changed_field_stays_and_the_others_go_back(self, staff, draft, vessel):
        Vessel.objects.filter(pk=vessel.pk).update(owner="Wren")
        found = undone(draft, staff)
        vessel.refresh_from_db()
        assert (vessel.owner, vessel.length_text) == ("Wren", "50 ft")
        assert found.stayed == [
            "Line 3: the owner of Sanderling stays. It was changed since.",
        ]

    @pytest.mark.parametrize("since", ["changed", "crew", "event"])
    def test_an_added_vessel_stays(self, staff, draft, user, since):
        teal = Vessel.objects.get(name="Teal")
        if since == "changed":
            Vessel.objects.filter(pk=teal.pk).update(captain="Wren")
        elif since == "crew":
            Crew.objects.create(vessel=teal, user=user)
        else:
            happen(teal, Stage.CONVERTED, "2026-08-01")
        found = undone(draft, staff)
        assert found.stayed == [
            "Line 2: Teal stays. It was changed since, or something is tied to it."
        ]
        assert Vessel.objects.filter(pk=teal.pk).exists()

    def test_a_corrected_stage_stays(self, staff, draft, vessel):
        told = AdoptionEvent.objects.get(vessel=vessel)
        events.correct(told, key="test:1", by=staff, stage=Stage.TRAINING)
        found = undone(draft, staff)
        assert found.stayed == ["Line 3: the stage of Sanderling stays. It was corrected since."]
        vessel.refresh_from_db()
        assert vessel.standing.stage == Stage.TRAINING

    def test_a_removed_vessel_is_gone_already(self, staff, draft):
        teal = Vessel.objects.get(name="Teal")
        removing.remove(teal, staff, "5f1b7a52-3f0f-4c0c-9d2f-0b1a6a0f7a11")
        (said,) = undone(draft, staff).stayed
        assert said.startswith("Line 2: not on the register any more")

    def test_a_former_number_that_another_vessel_has_now(self, staff, vessel):
        row = ["Sanderling", "Kettle Harbor", "50 ft", "TS 9", "", "", ""]
        vessel.registration = ""
        vessel.save()
        first = import_file(csv_file(row, header=HEADER), staff)
        Vessel.objects.filter(pk=vessel.pk).update(registration="TS 10")
        make_vessel("Skua", registration="TS 9")
        assert undone(first, staff).stayed == [
            "Line 2: the registration number of Sanderling stays. It was changed since."
        ]

    def test_a_former_name_that_another_vessel_has_now(self, staff, vessel):
        row = ["Dunlin", "Kettle Harbor", "50 ft", "TS 1", "", "", ""]
        draft = import_file(csv_file(row, header=HEADER), staff)
        make_vessel("sanderling", "Kettle Harbor")
        assert undone(draft, staff).stayed == [
            "Dunlin stays as it is. Another vessel has its former name or number now."
        ]


class TestPages:
    def test_asks_first_and_says_what_stays(self, as_staff, draft, vessel):
        Vessel.objects.filter(pk=vessel.pk).update(owner="Wren")
        address = reverse("register:import_undo", args=[draft.key])
        asked = as_staff.get(address).content.decode()
        assert "1 vessel that it added is taken off the register." in asked
        assert "the owner of Sanderling stays" in asked
        assert Vessel.objects.count() == 2
        shown = as_staff.post(address, follow=True).content.decode()
        assert "The import is undone." in shown
        assert "the owner of Sanderling stays" in shown
        assert as_staff.get(address).status_code == 404
        listed = as_staff.get(reverse("register:import_register")).content.decode()
        assert "1 added, 1 changed; undone on" in " ".join(listed.split())

    def test_staff_of_one_harbor_see_and_undo_only_their_own(self, as_officer, officer, draft):
        officer.role = "staff"
        officer.save()
        as_officer.force_login(officer)  # another role, another sign-in
        Reach.objects.create(user=officer, harbor="Eastlight")
        for name in ("import_undo", "import_draft", "import_mend_csv"):
            address = reverse(f"register:{name}", args=[draft.key])
            assert as_officer.get(address).status_code == 404
        assert as_officer.post(reverse("register:import_undo", args=[draft.key])).status_code == 404
        assert (
            "register.csv"
            not in as_officer.get(reverse("register:import_register")).content.decode()
        )
