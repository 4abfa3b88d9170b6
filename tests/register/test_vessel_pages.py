"""The pages of the register: what staff see, change and record, and that nobody else does."""

import uuid
from datetime import date, timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from rigs.words.units import FOOT
from tests.register.events_factory import happen, make_vessel, new_key
from tests.register.tables_factory import csv_file, dry_run
from training.people.models import Reach
from training.register import events, harbors
from training.register.models import AdoptionEvent, Crew, ImportDraft, StageWording, Vessel
from training.register.stages import Known, Stage
from training.register.table import outlook
from training.register.wording import stage_words

pytestmark = pytest.mark.django_db

PAGES = ["vessels", "vessels_csv", "vessels_xlsx", "vessel_new", "import_register"]
PAGES += ["stages", "unmatched_sheets", "harbors", "removed_vessels", "stage_many"]
VESSEL_PAGES = ["vessel", "vessel_edit", "crew_new", "event_new", "vessel_remove", "vessel_merge"]
EVENT_PAGES = ["event_correct", "event_withdraw"]


@pytest.fixture
def vessel():
    return make_vessel(owner="Ida Fenwright", registration="TS 1041")


@pytest.fixture
def event(vessel):
    return happen(vessel, Stage.TOLD, "2026-07-01", note="On the dock")


def at(name, *args):
    return reverse(f"register:{name}", args=args)


def text(response):
    return response.getvalue().decode()


def entered(**changed):
    """Return what the form of a vessel sends."""
    told = {"name": "Teal", "harbor": "Eastlight", "length": "52 ft 6 in", "is_fishing": "on"}
    return {**told, **changed}


def told(**changed):
    """Return what the form of an event sends."""
    form = {"key": str(uuid.uuid4()), "stage": "training", "day": "2026-08-01", "known": "hand"}
    return {**form, **changed}


class TestWhoMaySee:
    @pytest.fixture(params=[*PAGES, *VESSEL_PAGES, *EVENT_PAGES])
    def address(self, request, vessel, event):
        pks = {name: [vessel.pk] for name in VESSEL_PAGES} | {n: [event.pk] for n in EVENT_PAGES}
        return at(request.param, *pks.get(request.param, []))

    def test_staff_alone(self, as_staff, as_user, as_officer, client, address):
        assert as_staff.get(address).status_code == 200
        assert as_user.get(address).status_code == 403
        assert as_officer.get(address).status_code == 403
        assert client.get(address).url.startswith(reverse("people:sign_in"))

    def test_only_staff_post(self, as_user, staff, user, vessel):
        berth = Crew.objects.create(vessel=vessel, user=user)
        draft, _ = dry_run(csv_file(["Teal", "Eastlight", "40", "", "", ""]), staff)
        for address in (at("crew_end", berth.pk), at("import_confirm", draft.key)):
            assert as_user.post(address).status_code == 403
        assert Crew.objects.get().until is None
        assert Vessel.objects.count() == 1

    def test_a_draft_is_shown_to_its_owner_alone(self, as_staff, officer, staff):
        draft, _ = dry_run(csv_file(["Teal", "Eastlight", "40", "", "", ""]), staff)
        assert as_staff.get(at("import_draft", draft.key)).status_code == 200
        ImportDraft.objects.update(owner=officer)
        assert as_staff.get(at("import_draft", draft.key)).status_code == 404
        assert as_staff.post(at("import_confirm", draft.key)).status_code == 404


class TestReach:
    @pytest.fixture(autouse=True)
    def held_to_another_harbor(self, staff):
        Reach.objects.create(user=staff, harbor="Eastlight")

    @pytest.mark.parametrize("name", VESSEL_PAGES)
    def test_a_vessel_elsewhere_is_not_there(self, as_staff, vessel, name):
        assert as_staff.get(at(name, vessel.pk)).status_code == 404
        assert as_staff.post(at(name, vessel.pk)).status_code in {404, 405}

    @pytest.mark.parametrize("name", EVENT_PAGES)
    def test_nor_are_its_events(self, as_staff, event, name):
        assert as_staff.get(at(name, event.pk)).status_code == 404
        assert as_staff.post(at(name, event.pk), told()).status_code == 404
        assert AdoptionEvent.objects.count() == 1

    def test_nor_its_crew(self, as_staff, vessel, user):
        berth = Crew.objects.create(vessel=vessel, user=user)
        assert as_staff.post(at("crew_end", berth.pk)).status_code == 404

    @pytest.mark.parametrize("name", ["vessels", "vessels_csv"])
    def test_lists_hold_ones_own_harbors(self, as_staff, vessel, name):
        make_vessel("Teal", "Eastlight")
        content = text(as_staff.get(at(name)))
        assert "Teal" in content
        assert "Sanderling" not in content
        assert "Kettle Harbor" not in content

    def test_a_vessel_is_added_to_ones_own_harbor_alone(self, as_staff):
        for sent in ({"harbor": "Kettle Harbor"}, {"harbor": "", "new_harbor": "Kettle Harbor"}):
            assert as_staff.post(at("vessel_new"), entered(**sent)).status_code == 200
        assert not Vessel.objects.exists()
        assert as_staff.post(at("vessel_new"), entered()).status_code == 302


class TestList:
    @pytest.mark.parametrize(
        ("asked", "found"),
        [
            ({}, {"Sanderling", "Teal", "Skua"}),
            ({"text": "teal"}, {"Teal"}),
            ({"text": "ts 1041"}, {"Sanderling"}),
            ({"text": "fenwright ida"}, {"Sanderling"}),
            ({"text": "ivo"}, {"Skua"}),
            ({"harbor": "Eastlight"}, {"Teal", "Skua"}),
            ({"size": "large"}, {"Skua"}),
            ({"size": "middle"}, {"Sanderling", "Teal"}),
            ({"stage": "told"}, {"Sanderling"}),
            ({"stage": "none"}, {"Teal", "Skua"}),
            ({"fishing": "no"}, {"Teal"}),
            ({"fishing": "yes"}, {"Sanderling", "Skua"}),
            ({"harbor": "Nowhere"}, {"Sanderling", "Teal", "Skua"}),
        ],
    )
    def test_can_be_narrowed(self, as_staff, event, asked, found):
        make_vessel("Teal", "Eastlight", 60, is_fishing=False)
        make_vessel("Skua", "Eastlight", 61, captain="Ivo")
        rows = as_staff.get(at("vessels"), asked).context["rows"]
        assert {vessel.name for vessel, *_ in rows} == found

    def test_says_when_nothing_fits(self, as_staff, vessel):
        assert "No match" in text(as_staff.get(at("vessels"), {"text": "xyz"}))

    def test_is_split_into_pages(self, as_staff):
        for index in range(51):
            make_vessel(f"Vessel {index:02}")
        response = as_staff.get(at("vessels"), {"text": "vessel", "page": "2"})
        assert [vessel.name for vessel, *_ in response.context["rows"]] == ["Vessel 50"]

    @pytest.mark.parametrize("name", ["vessels", "vessels_csv", "vessels_xlsx"])
    @pytest.mark.parametrize("number", [3, 60])
    def test_asks_the_database_little(self, as_staff, name, number, django_assert_max_num_queries):
        for index in range(number):
            happen(make_vessel(f"Vessel {index}"), Stage.TOLD, "2026-07-01")
        with django_assert_max_num_queries(10):
            as_staff.get(at(name))


class TestVessel:
    def test_tells_what_happened_and_how_it_is_known(self, as_staff, vessel, staff):
        happen(vessel, Stage.TOLD, "2026-07-01", by=staff, note="On the dock")
        content = text(as_staff.get(at("vessel", vessel.pk)))
        for words in ("Talked to since July 1, 2026", "staff were told", staff.name, "On the dock"):
            assert words in content
        assert "Have one of the crew sign up" in content

    def test_shows_what_was_corrected_and_withdrawn(self, as_staff, vessel, event, staff):
        later = events.correct(event, key=new_key(), by=staff, day=date(2026, 7, 5))
        assert "Corrected" in text(as_staff.get(at("vessel", vessel.pk)))
        events.withdraw(later, key=new_key(), by=staff, note="Another boat")
        content = text(as_staff.get(at("vessel", vessel.pk)))
        assert "Withdrawn" in content
        assert "Another boat" in content
        assert "No contact yet" in content

    @pytest.mark.parametrize("number", [1, 20])
    def test_asks_the_database_little(
        self, as_staff, vessel, staff, number, django_assert_max_num_queries
    ):
        for _ in range(number):
            one = happen(vessel, Stage.TOLD, "2026-07-01", by=staff)
            events.correct(one, key=new_key(), by=staff)
        with django_assert_max_num_queries(20):
            as_staff.get(at("vessel", vessel.pk))

    def test_is_added_as_typed_on_deck(self, as_staff):
        harbors.spell(harbors.add("Kettle Harbor"), "Kettle Hbr")
        written = {"harbor": "", "new_harbor": "kettle  HBR.", "registration": " TS  7 "}
        as_staff.post(at("vessel_new"), entered(**written))
        vessel = Vessel.objects.get(name="Teal")
        assert vessel.length == pytest.approx(52.5 * FOOT)
        assert (vessel.harbor, vessel.registration) == ("Kettle Harbor", "TS 7")

    def test_sent_twice_is_added_once(self, as_staff):
        harbors.add("Eastlight")
        first, second = (as_staff.post(at("vessel_new"), entered()) for _ in range(2))
        assert first.url == second.url
        assert Vessel.objects.count() == 1

    @pytest.mark.parametrize(
        ("changed", "said"),
        [
            ({"length": "long"}, "long"),
            ({"length": "900 ft"}, "Check the unit"),
            ({"name": "sanderling", "harbor": "Kettle Harbor"}, "has a vessel of this name"),
            ({"registration": "ts 1041"}, "has this number"),
            ({"registration": "--"}, "at least one letter or digit"),
            ({"harbor": ""}, "Choose a harbor."),
            ({"harbor": "Nowhere"}, "Nowhere is not one of the available choices"),
            ({"harbor": "", "new_harbor": "--"}, "at least one letter"),
        ],
    )
    def test_mistakes_are_told_beside_the_field(self, as_staff, vessel, changed, said):
        harbors.add("Eastlight")
        response = as_staff.post(at("vessel_new"), entered(**changed))
        assert said in text(response)
        assert "invalid-feedback" in text(response)
        assert Vessel.objects.count() == 1

    def test_a_change_leaves_the_length_exactly_as_it_was(self, as_staff):
        vessel = Vessel.objects.create(name="Teal", harbor="Eastlight", length=15.9999)
        changed = entered(length=vessel.length_text, owner="Ivo")
        as_staff.post(at("vessel_edit", vessel.pk), changed)
        vessel.refresh_from_db()
        assert (vessel.length, vessel.owner) == (15.9999, "Ivo")


class TestCrew:
    def test_somebody_is_added_and_leaves(self, as_staff, vessel, user):
        form = {"email": user.email.upper(), "part": "captain", "since": "2026-07-01"}
        for _ in range(2):
            assert as_staff.post(at("crew_new", vessel.pk), form).status_code == 302
        berth = Crew.objects.get()
        assert (berth.user, berth.part, berth.since) == (user, "captain", date(2026, 7, 1))
        assert user.name in text(as_staff.get(at("vessel", vessel.pk)))
        as_staff.post(at("crew_end", berth.pk))
        berth.refresh_from_db()
        assert berth.until == timezone.localdate()

    @pytest.mark.parametrize(
        ("changed", "said"),
        [
            ({"email": "nobody@example.com"}, "No trainee or officer has this email"),
            ({"since": "2199-01-01"}, "in the future"),
        ],
    )
    def test_mistakes(self, as_staff, vessel, user, changed, said):
        form = {"email": user.email, "part": "crew", "since": "2026-07-01", **changed}
        assert said in text(as_staff.post(at("crew_new", vessel.pk), form))
        assert not Crew.objects.exists()


class TestEvents:
    def test_is_recorded_once_however_often_it_is_sent(self, as_staff, staff, vessel):
        form = told(note="Seen at the net shed")
        for _ in range(2):
            assert as_staff.post(at("event_new", vessel.pk), form).status_code == 302
        event = AdoptionEvent.objects.get()
        assert (event.stage, event.day, event.by) == ("training", date(2026, 8, 1), staff)
        assert (event.known, event.note) == (Known.HAND, "Seen at the net shed")

    def test_not_in_days_to_come(self, as_staff, vessel):
        tomorrow = timezone.localdate() + timedelta(days=1)
        response = as_staff.post(at("event_new", vessel.pk), told(day=tomorrow.isoformat()))
        assert "in the future" in text(response)
        assert not AdoptionEvent.objects.exists()

    def test_a_correction_starts_from_what_it_corrects(self, as_staff, event):
        content = text(as_staff.get(at("event_correct", event.pk)))
        assert "It says: talked to on July 1, 2026" in content
        assert 'value="2026-07-01"' in content
        as_staff.post(at("event_correct", event.pk), told())
        (standing,) = AdoptionEvent.objects.standing()
        assert (standing.corrects, standing.stage) == (event, "training")
        assert event.vessel.standing.stage == "training"

    def test_a_withdrawal_needs_a_reason(self, as_staff, event):
        key = str(uuid.uuid4())
        response = as_staff.post(at("event_withdraw", event.pk), {"key": key, "note": ""})
        assert response.status_code == 200
        as_staff.post(at("event_withdraw", event.pk), {"key": key, "note": "Another boat"})
        assert not AdoptionEvent.objects.standing().exists()

    def test_whoever_comes_second_is_told(self, as_staff, event, staff):
        events.correct(event, key=new_key(), by=staff)
        response = as_staff.post(at("event_correct", event.pk), told(), follow=True)
        assert "was corrected already" in text(response)
        assert AdoptionEvent.objects.count() == 2


class TestWords:
    def sent(self, **changed):
        return {stage.value: stage.label for stage in Stage} | changed

    def test_are_used_on_every_page(self, as_staff, event):
        as_staff.post(at("stages"), self.sent(told="met on the dock"))
        assert stage_words()[Stage.TOLD] == "met on the dock"
        for address in (at("vessels"), at("vessel", event.vessel.pk), at("vessels_csv")):
            assert "met on the dock" in text(as_staff.get(address)).lower()

    def test_an_empty_one_gets_its_own_word_back(self, as_staff):
        as_staff.post(at("stages"), self.sent(told="met"))
        as_staff.post(at("stages"), self.sent(told=""))
        assert stage_words()[Stage.TOLD] == "talked to"
        assert not StageWording.objects.exists()

    def test_no_two_stages_are_called_the_same(self, as_staff):
        response = as_staff.post(at("stages"), self.sent(told="In Training"))
        assert "Another stage has this name" in text(response)
        assert not StageWording.objects.exists()


class TestImport:
    def sent(self, file):
        return {"key": str(uuid.uuid4()), "file": file}

    def test_from_the_file_to_the_register(self, as_staff, vessel):
        file = csv_file(
            ["Sanderling", "Kettle Harbor", "50 ft", "", "Ivo", ""],
            ["Teal", "Eastlight", "40 ft", "", "", ""],
            ["Skua", "Eastlight", "long", "", "", ""],
        )
        response = as_staff.post(at("import_register"), self.sent(file), follow=True)
        content = text(response)
        assert "Import these 2 rows" in content
        assert "Nothing has changed yet" in content
        assert "Ida Fenwright" in content
        assert Vessel.objects.count() == 1
        address = at("import_confirm", response.context["draft"].key)
        for _ in range(2):
            response = as_staff.post(address, follow=True)
        assert "What was imported" in text(response)
        assert Vessel.objects.count() == 2
        assert Vessel.objects.get(pk=vessel.pk).owner == "Ivo"

    def test_rows_are_shown_by_what_becomes_of_them(self, as_staff, staff):
        draft, _ = dry_run(csv_file(["Teal", "", "", "", "", ""], ["", "", "9", "", "", ""]), staff)
        rows = as_staff.get(at("import_draft", draft.key), {"show": "add"}).context["rows"]
        assert rows == []
        rows = as_staff.get(at("import_draft", draft.key), {"show": "refuse"}).context["rows"]
        assert [outcome.line for outcome, *_ in rows] == [2, 3]

    @pytest.mark.parametrize(
        ("content", "said"),
        [
            (b"", "file is empty"),
            (b"PK\3\4", "cannot be read"),
        ],
    )
    def test_a_file_that_is_no_register(self, as_staff, content, said):
        file = SimpleUploadedFile("register.csv", content)
        assert said in text(as_staff.post(at("import_register"), self.sent(file)))
        assert not ImportDraft.objects.exists()

    def test_a_register_that_changed_is_shown_anew(self, as_staff, staff):
        draft, _ = dry_run(csv_file(["Teal", "Eastlight", "40", "", "", ""]), staff)
        make_vessel("Teal", "Eastlight", 40)
        response = as_staff.post(at("import_confirm", draft.key), follow=True)
        assert "the register has changed since you looked" in text(response)
        assert "Nothing would change" in text(response)

    @pytest.mark.parametrize("number", [3, 150])
    def test_showing_asks_the_database_little(
        self, as_staff, staff, number, django_assert_max_num_queries
    ):
        rows = [[f"Vessel {index}", "Eastlight", "40", "", "", ""] for index in range(number)]
        draft, _ = dry_run(csv_file(*rows), staff)
        with django_assert_max_num_queries(7):
            as_staff.get(at("import_draft", draft.key))


class TestExport:
    @pytest.mark.parametrize("name", ["vessels_csv", "vessels_xlsx"])
    def test_imported_again_nothing_would_change(self, as_staff, staff, vessel, name):
        happen(vessel, Stage.CONVERTED, "2026-07-01")
        happen(vessel, Stage.BACK, "2026-08-01")
        make_vessel("=Teal", "Eastlight", 40.3, owner="-Ivo", captain="@Ida", gear="no-sweep")
        make_vessel("-Skua", "+Eastlight", 61, owner="'=Zoë", is_fishing=False, is_demo=True)
        happen(make_vessel("1041", "Eastlight", 40), Stage.TOLD, "2026-07-01")
        response = as_staff.get(at(name))
        file = SimpleUploadedFile("again", response.getvalue())
        _, outcomes = dry_run(file, staff)
        assert outlook.counts(outcomes) == {"same": 4}
        assert b"=Teal" not in response.getvalue().replace(b"'=Teal", b"")

    def test_holds_what_the_page_is_narrowed_to(self, as_staff, vessel):
        make_vessel("Teal", "Eastlight")
        content = text(as_staff.get(at("vessels_csv"), {"harbor": "Eastlight"}))
        assert "Teal" in content
        assert "Sanderling" not in content


class TestOwnVessel:
    def test_a_trainee_says_on_which_one(self, as_user, user, vessel):
        for _ in range(2):
            form = {"vessel": "sanderling", "part": "captain"}
            assert as_user.post(at("own_vessels"), form).status_code == 302
        berth = Crew.objects.get()
        assert (berth.vessel, berth.user, berth.part) == (vessel, user, "captain")
        assert vessel.standing.stage == Stage.TRAINING
        assert "Sanderling" in text(as_user.get(at("own_vessels")))
        as_user.post(at("own_vessel_leave", berth.pk))
        berth.refresh_from_db()
        assert berth.until == timezone.localdate()

    @pytest.mark.parametrize("typed", ["TS 1041", "Sanderling, Kettle Harbor"])
    def test_by_its_number_or_its_place(self, as_user, vessel, typed):
        make_vessel(harbor="Eastlight")
        as_user.post(at("own_vessels"), {"vessel": typed, "part": "crew"})
        assert Crew.objects.get().vessel == vessel

    def test_is_asked_which_one_if_there_are_two(self, as_user, vessel):
        make_vessel(harbor="Eastlight")
        content = text(as_user.post(at("own_vessels"), {"vessel": "Sanderling", "part": "crew"}))
        assert "Sanderling, Eastlight" in content
        assert not Crew.objects.exists()

    def test_is_told_if_there_is_none(self, as_user):
        content = text(as_user.post(at("own_vessels"), {"vessel": "Teal", "part": "crew"}))
        assert "No vessel found." in content

    def test_nobody_leaves_for_another(self, as_officer, user, vessel):
        berth = Crew.objects.create(vessel=vessel, user=user)
        assert as_officer.post(at("own_vessel_leave", berth.pk)).status_code == 404

    def test_is_for_those_signed_in(self, client):
        assert client.get(at("own_vessels")).url.startswith(reverse("people:sign_in"))

    def test_the_account_leads_there(self, as_user):
        assert at("own_vessels") in text(as_user.get(reverse("people:account")))
