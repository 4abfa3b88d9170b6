"""What importing a register does: as the dry run showed it, once, and wholly or not at all."""

import uuid
from datetime import date, timedelta

import pytest
from django.db import DatabaseError
from django.utils import timezone

from rigs.words.units import FOOT
from tests.register.events_factory import happen, make_vessel
from tests.register.tables_factory import HEADER, csv_file, dry_run, import_file, xlsx_file
from training.people.models import Reach
from training.register import harbors, uptake
from training.register.models import AdoptionEvent, Harbor, ImportDraft, Vessel
from training.register.stages import Known, Stage
from training.register.table import importing, outlook, steps
from training.register.wording import rename
from training.work.models import Job

pytestmark = pytest.mark.django_db

STAGES = [*HEADER, "stage", "stage since"]


def only(file, staff):
    """Return the Outcome of the one row in ``file``."""
    (outcome,) = dry_run(file, staff)[1]
    return outcome


def row(name="Sanderling", harbor="Kettle Harbor", length="50 ft", registration="", *more):
    return [name, harbor, length, registration, *(more or ("", ""))]


class TestNewVessels:
    def test_are_added_with_all_that_the_row_says(self, staff):
        header = [*HEADER, "gear", "still fishing"]
        cells = row("Teal", "Eastlight", "52 ft 6 in", "TS 1041", "Ida", "Ivo", "no-sweep", "No")
        import_file(csv_file(cells, header=header), staff)
        vessel = Vessel.objects.get()
        assert (vessel.name, vessel.harbor, vessel.registration) == (
            "Teal",
            "Eastlight",
            "TS 1041",
        )
        assert vessel.length == pytest.approx(52.5 * FOOT)
        assert (vessel.owner, vessel.captain, vessel.gear) == ("Ida", "Ivo", "no-sweep")
        assert not vessel.is_fishing
        assert not vessel.is_demo
        assert uptake.check() == []

    def test_nothing_is_written_by_the_dry_run(self, staff):
        outcome = only(csv_file(row()), staff)
        assert outcome.does == "add"
        assert ["length", "", "50 ft"] in outcome.changes
        assert not Vessel.objects.exists()

    @pytest.mark.parametrize(
        ("cells", "told"),
        [
            (row("", "", "50 ft"), "needs a name"),
            (row(length=""), "needs a length"),
            (row(length="fifty"), "fifty"),
            (row(length="900 ft"), "Check the unit"),
            (row(length="0"), "above zero"),
            (row(registration="--"), "no letter or digit"),
            (row(name="x" * 101), "too long"),
        ],
    )
    def test_what_cannot_be_is_refused(self, staff, cells, told):
        outcome = only(csv_file(cells), staff)
        assert outcome.does == "refuse"
        assert told in " ".join(outcome.reasons)

    def test_a_bare_number_is_in_the_unit_of_the_heading(self, staff):
        header = ["name", "harbor", "length (m)"]
        import_file(csv_file(["Teal", "Eastlight", "15.5"], header=header), staff)
        assert Vessel.objects.get().length == 15.5

    @pytest.mark.parametrize(
        ("heading", "cell", "told"),
        [
            ("gear", "dredge", "not a gear we know"),
            ("still fishing", "perhaps", "write yes or no"),
            ("stage", "afloat", "not a stage we know"),
        ],
    )
    def test_words_that_are_not_known(self, staff, heading, cell, told):
        outcome = only(csv_file([*row(), cell], header=[*HEADER, heading]), staff)
        assert outcome.does == "refuse"
        assert told in " ".join(outcome.reasons)

    @pytest.mark.parametrize(
        ("day", "told"), [("soon", "is not a date"), ("2199-01-01", "in the future")]
    )
    def test_days_that_cannot_be(self, staff, day, told):
        outcome = only(csv_file([*row(), "told", day], header=STAGES), staff)
        assert outcome.does == "refuse"
        assert told in " ".join(outcome.reasons)

    def test_a_harbor_by_another_spelling_of_it(self, staff):
        make_vessel()
        harbors.spell(Harbor.objects.get(), "The Kettle")
        import_file(csv_file(row("Teal", "the kettle")), staff)
        assert set(Vessel.objects.values_list("harbor", flat=True)) == {"Kettle Harbor"}

    def test_a_new_harbor_is_on_the_list(self, staff):
        import_file(csv_file(row("Teal", "Eastlight")), staff)
        assert harbors.canonical("eastlight") == "Eastlight"

    def test_a_harbor_keeps_its_spelling(self, staff):
        make_vessel()
        import_file(csv_file(row("Teal", "KETTLE  harbor")), staff)
        assert set(Vessel.objects.values_list("harbor", flat=True)) == {"Kettle Harbor"}


class TestVesselsThatAreThere:
    def test_are_known_by_their_number(self, staff):
        vessel = make_vessel(registration="TS-1041", owner="Ida")
        outcome = only(csv_file(row("Teal", "Eastlight", "50", "ts 1041", "Ivo", "")), staff)
        assert (outcome.does, outcome.vessel) == ("change", vessel.pk)
        assert outcome.changes == [
            ["name", "Sanderling", "Teal"],
            ["harbor", "Kettle Harbor", "Eastlight"],
            ["owner", "Ida", "Ivo"],
        ]

    def test_are_known_by_name_and_harbor(self, staff):
        vessel = make_vessel()
        import_file(csv_file(row("SANDERLING", "kettle harbor", "51 ft", "TS 1")), staff)
        vessel.refresh_from_db()
        assert (vessel.name, vessel.registration) == ("Sanderling", "TS 1")
        assert vessel.length == pytest.approx(51 * FOOT)

    def test_an_empty_cell_changes_nothing(self, staff):
        make_vessel(owner="Ida", registration="TS 1")
        assert only(csv_file(row(length="")), staff).does == "same"

    def test_a_number_alone_is_enough(self, staff):
        make_vessel(registration="TS 1")
        import_file(csv_file(["ts1", "Ivo"], header=["registration", "owner"]), staff)
        assert Vessel.objects.get().owner == "Ivo"

    def test_another_number_is_a_clash(self, staff):
        make_vessel(registration="TS 1")
        outcome = only(csv_file(row(registration="TS 2")), staff)
        assert outcome.reasons == [
            "Kettle Harbor has a Sanderling with another registration number, TS 1. If it is the "
            "same vessel, change the number on its page."
        ]

    def test_the_place_of_another_vessel_is_a_clash(self, staff):
        make_vessel("Teal", registration="TS 1")
        make_vessel("Skua", registration="TS 2")
        outcome = only(csv_file(row("Skua", registration="TS 1")), staff)
        assert "has another Skua with the number TS 2" in outcome.reasons[0]

    def test_two_that_differ_in_case_are_not_guessed_between(self, staff):
        make_vessel("Teal")
        make_vessel("TEAL")
        assert "has 2 vessels of this name" in only(csv_file(row("teal")), staff).reasons[0]

    @pytest.mark.parametrize(
        "second", [row(), row("Teal", registration="TS1"), row("sanderling", "KETTLE HARBOR")]
    )
    def test_two_rows_about_one_vessel(self, staff, second):
        _, outcomes = dry_run(csv_file(row(registration="TS 1"), second), staff)
        assert [each.does for each in outcomes] == ["add", "refuse"]
        assert "Line 2 has the same" in outcomes[1].reasons[0]

    def test_moving_to_another_harbor_is_counted_there(self, staff):
        happen(make_vessel(registration="TS 1"), Stage.TOLD, "2026-07-01")
        import_file(csv_file(row(harbor="Eastlight", registration="TS 1")), staff)
        assert uptake.check() == []


class TestStages:
    def stages(self, staff, *cells):
        return only(csv_file([*row(), *cells], header=STAGES), staff)

    def test_a_new_one_becomes_an_event(self, staff):
        make_vessel()
        import_file(csv_file([*row(), "In Training", "7/1/2026"], header=STAGES), staff)
        event = AdoptionEvent.objects.get()
        assert (event.stage, event.day, event.known) == (
            Stage.TRAINING,
            date(2026, 7, 1),
            Known.REGISTER,
        )
        assert (event.by, event.note) == (staff, "register.csv, line 2")
        assert event.vessel.standing.stage == Stage.TRAINING
        assert uptake.check() == []

    def test_one_that_is_known_changes_nothing(self, staff):
        happen(make_vessel(), Stage.TRAINING, "2026-07-01")
        assert self.stages(staff, "in training", "2026-07-01").does == "same"

    def test_one_that_says_less_changes_nothing(self, staff):
        happen(make_vessel(), Stage.CONVERTED, "2026-07-01")
        assert self.stages(staff, "told", "2026-08-01").does == "same"

    def test_an_earlier_contact_is_told(self, staff):
        happen(make_vessel(), Stage.CONVERTED, "2026-07-01")
        assert self.stages(staff, "told", "2026-05-01").event == ["told", "2026-05-01"]

    def test_an_earlier_day_is_a_new_event_and_takes_none_away(self, staff):
        vessel = make_vessel()
        happen(vessel, Stage.CONVERTED, "2026-07-01")
        import_file(
            csv_file([*row(), "fishing without a sweep", "2026-06-01"], header=STAGES), staff
        )
        assert AdoptionEvent.objects.standing().count() == 2
        vessel.refresh_from_db()
        assert vessel.standing.converted == date(2026, 6, 1)

    def test_needs_a_day_if_it_is_news(self, staff):
        happen(make_vessel(), Stage.TOLD, "2026-07-01")
        assert self.stages(staff, "told", "").does == "same"
        unread = self.stages(staff, "rig checked and nothing outside", "")
        assert "needs a date" in unread.reasons[0]
        assert "needs a stage" in self.stages(staff, "", "2026-07-01").reasons[0]

    def test_are_known_by_what_staff_call_them(self, staff):
        rename({Stage.TOLD: "met on the dock"})
        make_vessel()
        assert self.stages(staff, "Met on the dock", "2026-07-01").event == ["told", "2026-07-01"]
        assert self.stages(staff, "told", "2026-07-01").event == ["told", "2026-07-01"]


class TestReach:
    @pytest.fixture(autouse=True)
    def held_to_a_harbor(self, staff):
        Reach.objects.create(user=staff, harbor="Kettle Harbor")

    @pytest.mark.parametrize(
        "cells",
        [
            row(harbor="Eastlight"),
            row(registration="TS 1"),
            row("Teal", "Eastlight", "40", "TS 9"),
        ],
    )
    def test_other_harbors_are_refused_and_not_told_about(self, staff, cells):
        make_vessel("Teal", "Eastlight", registration="TS 1")
        outcome = only(csv_file(cells), staff)
        assert outcome.reasons == ["This vessel is in a harbor that is not yours."]

    def test_a_vessel_cannot_be_sent_away(self, staff):
        make_vessel(registration="TS 1")
        assert only(csv_file(row(harbor="Eastlight", registration="TS 1")), staff).does == "refuse"

    def test_ones_own_harbor(self, staff):
        assert only(csv_file(row(harbor="kettle harbor")), staff).does == "add"


class TestConfirm:
    def test_twice_imports_once(self, staff):
        draft = import_file(csv_file([*row(), "told", "2026-07-01"], header=STAGES), staff)
        first = draft.applied
        again, done = importing.confirm(draft.key, staff)
        assert (done, again.applied) == (True, first)
        assert (Vessel.objects.count(), AdoptionEvent.objects.count()) == (1, 1)

    def test_the_same_file_sent_twice_makes_one_draft(self, staff):
        key = uuid.uuid4()
        steps.take_in(csv_file(row()), staff, key)
        steps.take_in(csv_file(row()), staff, key)
        assert ImportDraft.objects.count() == 1

    def test_a_register_changed_since_is_shown_anew(self, staff):
        draft, _ = dry_run(csv_file(row(), row("Teal")), staff)
        make_vessel(owner="Ida")
        draft, done = importing.confirm(draft.key, staff)
        assert not done
        assert [each.does for each in outlook.outcomes_of(draft)] == ["same", "add"]
        assert Vessel.objects.count() == 1
        assert importing.confirm(draft.key, staff)[1]
        assert Vessel.objects.count() == 2

    def test_a_change_that_makes_no_difference_is_none(self, staff):
        draft, _ = dry_run(csv_file(row()), staff)
        make_vessel("Teal")
        assert importing.confirm(draft.key, staff)[1]

    def test_what_was_refused_stays_out(self, staff):
        import_file(csv_file(row(), row("Teal", length="long")), staff)
        assert Vessel.objects.get().name == "Sanderling"

    def test_nothing_is_half_imported(self, staff, monkeypatch):
        def fail(pks):
            raise DatabaseError

        make_vessel(owner="Ida")
        cells = [*row(), "told", "2026-07-01"]
        cells[4] = "Ivo"
        draft, _ = dry_run(csv_file(cells, [*row("Teal"), "", ""], header=STAGES), staff)
        monkeypatch.setattr(uptake, "refresh", fail)
        done = importing.confirm(draft.key, staff)[1]
        assert not done
        assert [vessel.owner for vessel in Vessel.objects.all()] == ["Ida"]
        assert not AdoptionEvent.objects.exists()
        draft.refresh_from_db()
        assert (draft.applied, draft.job.state) == (None, Job.State.FAILED)
        monkeypatch.undo()
        # What failed is told, and goes on with the same tap once it can.
        assert importing.confirm(draft.key, staff)[1]
        assert sorted(Vessel.objects.values_list("name", "owner")) == [
            ("Sanderling", "Ivo"),
            ("Teal", ""),
        ]

    def test_nobody_else_can_confirm(self, staff, officer):
        draft, _ = dry_run(csv_file(row()), staff)
        with pytest.raises(ImportDraft.DoesNotExist):
            importing.confirm(draft.key, officer)

    def test_a_dry_run_is_not_kept_for_ever(self, staff):
        draft, _ = dry_run(csv_file(row()), staff)
        ImportDraft.objects.update(made=timezone.now() - timedelta(days=2))
        dry_run(csv_file(row()), staff)
        assert not ImportDraft.objects.filter(key=draft.key).exists()


class TestSize:
    @pytest.mark.parametrize("number", [20, 300])
    def test_asks_the_database_little(self, staff, number, django_assert_max_num_queries):
        for index in range(0, number, 2):
            make_vessel(f"Vessel {index}")
        rows = [[*row(f"Vessel {index}"), "told", "2026-07-01"] for index in range(number)]
        with django_assert_max_num_queries(50):
            draft, outcomes = dry_run(csv_file(*rows, header=STAGES), staff)
        assert outlook.counts(outcomes) == {"add": number / 2, "change": number / 2}
        with django_assert_max_num_queries(90 * (1 + number // importing.BATCH)):
            importing.confirm(draft.key, staff)
        assert Vessel.objects.count() == number
        assert uptake.check() == []

    def test_a_workbook_does_the_same(self, staff):
        import_file(xlsx_file(["Teal", "Eastlight", 52.5, 1041, "Ida", None]), staff)
        vessel = Vessel.objects.get()
        assert (vessel.registration, vessel.owner, vessel.captain) == ("1041", "Ida", "")
