"""Staff held to a harbor see and change what is theirs, on every page; the fleet's own is not."""

import uuid
from datetime import timedelta

import pytest
from django.contrib import admin
from django.core.files.base import ContentFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.calibration.round_factory import judge_all, make_officers, make_round
from tests.certification.candidates import make_requirements
from tests.checks.conftest import make_check
from tests.exercises.conftest import right_answer
from tests.register.events_factory import make_vessel
from training.calibration.models import Round
from training.certification.models import Change
from training.checks import keeping
from training.checks.models import CheckPhoto, CheckSheet
from training.exercises import handing, kinds
from training.people.models import Group, Membership, Reach, Role, User
from training.register import harbors
from training.register.models import BerthAsked, Crew, StageWording
from training.rulesets import drafting
from training.rulesets.models import Version

pytestmark = pytest.mark.django_db

HOME = "Marrow Point"


def client_of(person):
    client = Client()
    client.force_login(person)
    return client


@pytest.fixture
def held(db):
    """A member of staff who is held to Marrow Point."""
    person = User.objects.create_user("held@example.com", name="Ines Held", role=Role.STAFF)
    Reach.objects.create(user=person, harbor=HOME)
    return person


@pytest.fixture
def as_held(held):
    return client_of(held)


@pytest.fixture
def stranger(db):
    """A trainee of another harbor, with an attempt."""
    group = Group.objects.create(name="Eastlight crews", harbor="Eastlight")
    person = User.objects.create_user("kit@example.com", "x", name="Kit Larkham")
    Membership.objects.create(group=group, user=person)
    return person


def attempt_of(person):
    task = handing.open_assignment(person, kinds.get("space-droppers"))
    return handing.hand_in(task, right_answer(handing.task_of(task)))


def pages_of(person, attempt):
    return [
        reverse("desk:trainee", args=[person.pk]),
        reverse("desk:trainee_record", args=[person.pk]),
        reverse("desk:attempts_csv", args=[person.pk]),
        reverse("accounts:account", args=[person.pk]),
        reverse("exercises:marked", args=[attempt.pk]),
    ]


def statuses(client, addresses):
    return {client.get(each).status_code for each in addresses}


class TestCrewByEmail:
    @pytest.fixture
    def vessel(self):
        return make_vessel("Plover", HOME)

    def put(self, client, vessel, email):
        form = {"email": email, "part": "crew", "since": "2026-07-01"}
        url = reverse("register:crew_new", args=[vessel.pk])
        return client.post(url, form, follow=True).content.decode()

    def test_an_email_shows_nobody_until_that_person_says_yes(self, as_held, vessel, stranger):
        addresses = pages_of(stranger, attempt_of(stranger))
        said = [self.put(as_held, vessel, each) for each in (stranger.email, "no@example.com")]
        # Not even that there is such an account.
        assert [stranger.name in page or stranger.email in page for page in said] == [False] * 2
        assert ["once they say yes" in page for page in said] == [True, True]
        assert not Crew.objects.exists()
        assert statuses(as_held, addresses) == {404}
        theirs = client_of(stranger)
        assert "you fish on Plover" in theirs.get("/").content.decode()
        (asked,) = BerthAsked.objects.all()
        answer = reverse("register:own_vessel_answer", args=[asked.pk])
        assert as_held.post(answer, {"answer": "yes"}).status_code == 404
        for _ in range(2):
            theirs.post(answer, {"answer": "yes"})
        berth = Crew.objects.get()
        assert (berth.user, berth.vessel, str(berth.since)) == (stranger, vessel, "2026-07-01")
        assert statuses(as_held, addresses) == {200}
        assert "you fish on Plover" not in theirs.get("/").content.decode()

    def test_a_no_stays_a_no(self, as_held, vessel, stranger):
        self.put(as_held, vessel, stranger.email)
        self.put(as_held, vessel, stranger.email)
        (asked,) = BerthAsked.objects.all()
        theirs = client_of(stranger)
        for answer in ("no", "yes"):
            url = reverse("register:own_vessel_answer", args=[asked.pk])
            theirs.post(url, {"answer": answer})
        assert not Crew.objects.exists()
        asked.refresh_from_db()
        assert asked.said_yes is False

    def test_whom_they_look_after_is_put_down_at_once(self, as_held, vessel, user, as_staff):
        self.put(as_held, vessel, user.email)
        assert Crew.objects.get().user == user

    def test_the_whole_fleets_staff_put_anybody_down(self, as_staff, vessel, stranger):
        self.put(as_staff, vessel, stranger.email)
        assert Crew.objects.get().user == stranger
        page = self.put(as_staff, vessel, "no@example.com")
        assert "No trainee or officer has this email" in page


class TestCheckSheets:
    """The list, the sheet, its photos, prints and history, and both tables."""

    @pytest.fixture
    def sheets(self, officer):
        harbors.add(HOME)
        harbors.spell(harbors.Harbor.objects.get(name=HOME), "Marrow Pt.")
        make_vessel("Petrel", HOME, registration="MP 17")
        away = {"at_sea": True, "harbor": "", "position": "41 10 N 70 20 W"}
        told = {
            "Ours": {"harbor": HOME},
            "Spelled": {"harbor": "marrow pt."},
            "Numbered": away | {"head": {"vessel_number": "mp17"}},
            "Theirs": {"harbor": "Eastlight"},
            "Atsea": away,
        }
        found = {}
        for name, more in told.items():
            head = more.pop("head", {})
            found[name] = make_check(officer, True, vessel_name=name, **more)
            CheckSheet.objects.filter(pk=found[name].pk).update(head=head)
        return found

    def test_the_lists_and_tables_have_those_of_the_harbor(self, as_held, as_staff, sheets):
        names = ["checks:checks", "checks:checks_csv", "checks:readings_csv"]
        for name in names:
            ours = self.told(as_held, name)
            assert {each for each in sheets if each in ours} == {"Ours", "Spelled", "Numbered"}
            every = self.told(as_staff, name)
            assert {each for each in sheets if each in every} == set(sheets)

    def told(self, client, name):
        answer = client.get(reverse(name))
        if answer.streaming:
            return b"".join(answer.streaming_content).decode()
        return answer.content.decode()

    def test_no_page_print_or_photo_of_another_harbor_opens(
        self, as_held, sheets, settings, tmp_path
    ):
        settings.MEDIA_ROOT = tmp_path
        for name, status in (("Ours", 200), ("Theirs", 404), ("Atsea", 404)):
            sheet = sheets[name]
            photo = CheckPhoto(sheet=sheet, key=uuid.uuid4())
            photo.image.save("photo.jpg", ContentFile(b"jpeg"), save=True)
            views = ("check", "check_compare", "check_pdf")
            addresses = [reverse(f"checks:{view}", args=[sheet.key]) for view in views]
            addresses.append(reverse("checks:check_photo", args=[photo.key]))
            assert statuses(as_held, addresses) == {status}

    def test_what_was_thrown_away_elsewhere_is_not_told(self, as_held, as_staff, officer):
        for name, harbor in (("Ours", HOME), ("Theirs", "Eastlight")):
            told = {"vessel_name": name, "harbor": harbor}
            keeping.throw_away(officer, uuid.uuid4(), "A trial.", "", told)
        page = as_held.get(reverse("checks:thrown_away")).content.decode()
        assert ("Ours" in page, "Theirs" in page) == (True, False)
        assert "Theirs" in as_staff.get(reverse("checks:thrown_away")).content.decode()


def test_attempts_are_not_open_by_their_number(as_held, stranger, user):
    theirs, ours = attempt_of(stranger), attempt_of(user)
    found = [as_held.get(reverse("exercises:marked", args=[each.pk])) for each in (theirs, ours)]
    assert [each.status_code for each in found] == [404, 200]


def test_rounds_are_seen_and_set_up_by_the_whole_fleets_staff(as_held, as_staff):
    ours, theirs = make_officers(2)
    Membership.objects.create(user=ours, group=Group.objects.create(name="A", harbor=HOME))
    found = make_round([ours, theirs], count=8)
    for turn in found.turns.all():
        judge_all(turn, lambda rig: ("passes", []))
    page = as_held.get(reverse("calibration:round", args=[found.pk]))
    html = page.content.decode()
    assert (ours.name in html, theirs.name in html) == (True, False)
    assert "2 of 2 turned in" in html
    results = [
        reverse("calibration:result", args=[found.turns.get(officer=o).pk]) for o in (ours, theirs)
    ]
    assert [as_held.get(url).status_code for url in results] == [200, 404]
    for name in ("report", "judgements_csv", "summary_xlsx", "change_round"):
        url = reverse(f"calibration:{name}", args=[found.pk])
        assert as_held.get(url).status_code == 403
        assert url not in html
        assert as_staff.get(url).status_code == 200
    assert as_held.post(reverse("calibration:close", args=[found.pk])).status_code == 403
    assert as_held.get(reverse("calibration:new_round")).status_code == 403
    assert reverse("calibration:new_round") not in rounds_told(as_held)
    assert Round.objects.get().closed is None


def rounds_told(client):
    return client.get(reverse("calibration:rounds")).content.decode()


def test_stages_are_renamed_by_the_whole_fleets_staff(as_held, as_staff):
    url = reverse("register:stages")
    page = as_held.get(url).content.decode()
    assert "What the stages mean" in page
    assert "Save the words" not in page
    fields = as_staff.get(url).context["form"].fields
    told = {name: "Hacked" if n == 0 else "" for n, name in enumerate(fields)}
    assert as_held.post(url, told).status_code == 403
    assert not StageWording.objects.exists()
    as_staff.post(url, told)
    assert StageWording.objects.get().words == "Hacked"


def test_requirements_and_pass_marks_are_the_whole_fleets(as_held, as_staff):
    found = make_requirements()
    part = found.parts.first()
    page = as_held.get(reverse("certification:requirements", args=[found.slug]))
    assert page.status_code == 200
    shut = [
        reverse("certification:new_requirements"),
        reverse("certification:change_requirements", args=[found.slug]),
        reverse("certificates:angoff", args=[found.slug]),
        reverse("certificates:sample", args=[found.slug, part.pk, 1]),
    ]
    for url in shut:
        assert (as_held.get(url).status_code, as_held.post(url).status_code) == (403, 403)
        assert as_staff.get(url).status_code == 200
    for name in ("certification:requirements_list", "certificates:measures"):
        html = as_held.get(reverse(name)).content.decode()
        assert not [url for url in shut if f'"{url}"' in html]
    assert not [url for url in shut if url in page.content.decode()]
    assert not Change.objects.filter(outcome=Change.Outcome.WAITING).exists()


def test_drafts_of_rule_sets_are_the_whole_fleets(as_held, as_staff, staff):
    draft = drafting.start("no-sweep", uuid.uuid4(), staff)
    shelf = as_held.get(reverse("rulesets:shelf")).content.decode()
    assert draft.get_absolute_url() not in shelf
    assert "Draft a new version" not in shelf
    assert draft.get_absolute_url() in as_staff.get(reverse("rulesets:shelf")).content.decode()
    assert as_held.get(draft.get_absolute_url()).status_code == 404
    for name, more in (("edit", []), ("count", []), ("act", ["submit"]), ("act", ["approve"])):
        url = reverse(f"rulesets:{name}", args=[draft.pk, *more])
        assert as_held.post(url).status_code == 403
    start = reverse("rulesets:start", args=["no-sweep"])
    assert as_held.post(start, {"key": uuid.uuid4()}).status_code == 403
    assert [each.submitted_at for each in Version.objects.all()] == [None]
    now, second = timezone.now(), User.objects.create_superuser("chief@example.com", name="Chief")
    submitted = now - timedelta(days=1)
    settled = {"submitted_at": submitted, "approved_at": now, "approved_by": second}
    Version.objects.filter(pk=draft.pk).update(**settled)
    assert as_held.get(draft.get_absolute_url()).status_code == 200


class TestAdmin:
    """The admin would be a second way to what the site's pages decide."""

    @pytest.fixture
    def chief(self):
        return User.objects.create_superuser("chief@example.com", "x", name="Chief")

    def test_is_for_administrators_alone(self, as_user, as_officer, as_staff, as_held, chief):
        url = reverse("admin:people_user_changelist")
        for client in (as_user, as_officer, as_held, as_staff):
            assert client.get(url).status_code == 302
            assert reverse("admin:index") not in client.get("/").content.decode()
        assert client_of(chief).get(url).status_code == 200
        assert reverse("admin:index") in client_of(chief).get("/").content.decode()

    def test_changes_nothing(self, rf, chief, user):
        request = rf.get("/")
        request.user = chief
        found = admin.site._registry.values()
        assert len(found) > 15
        for each in found:
            may = each.get_model_perms(request)
            assert may == {"add": False, "change": False, "delete": False, "view": True}
            for inline in each.get_inline_instances(request):
                assert not inline.has_add_permission(request, user)
                assert not inline.has_change_permission(request, user)
                assert not inline.has_delete_permission(request, user)
        page = client_of(chief).get(reverse("admin:people_user_change", args=[user.pk]))
        assert page.status_code == 200
        assert 'name="_save"' not in page.content.decode()


# What a page says of how far it reaches.

OF_HARBORS = [
    *("home", "desk:calls", "desk:trainees", "desk:groups", "desk:sessions", "desk:rules"),
    *("desk:remembered", "desk:way", "register:vessels", "register:unmatched_sheets"),
    *("register:harbors", "register:uptake", "register:waiting", "register:stage_many"),
    *("accounts:accounts", "certificates:issued", "certification:questions"),
    *("certification:proposals", "letters:letters", "checks:checks"),
]


@pytest.mark.parametrize("name", OF_HARBORS)
def test_a_page_of_some_harbors_says_so_and_why_it_is_empty(name, held, as_held, as_staff):
    html = as_held.get(reverse(name)).content.decode()
    assert f"Here is only what belongs to {HOME}, which you look after" in html
    held.reaches.all().delete()
    html = as_held.get(reverse(name)).content.decode()
    assert "You look after no harbor now" in html
    assert "Ask staff of the whole fleet" in html
    html = as_staff.get(reverse(name)).content.decode()
    assert "which you look after" not in html
    assert "You look after no harbor" not in html


def test_officers_are_not_told_of_harbors_that_are_for_staff(as_officer):
    assert "You look after" not in as_officer.get(reverse("checks:checks")).content.decode()


def test_the_uptake_names_the_harbors_it_counts(held, as_held, as_staff):
    make_vessel("Tern", HOME)
    make_vessel("Dovekie", "Eastlight")
    page = reverse("register:uptake")
    said = f"The one vessel of {HOME} does not fish without a sweep."
    assert said in as_held.get(page).content.decode()
    assert "None of the 2 vessels on the register" in as_staff.get(page).content.decode()
    # Of a fleet that is there it is not said that there is none.
    held.reaches.all().delete()
    assert "There are no vessels" not in as_held.get(page).content.decode()


def test_staff_read_on_their_account_what_they_look_after(held, as_held, as_staff, as_user):
    page = reverse("people:account")
    assert f"<dd>{HOME}</dd>" in as_held.get(page).content.decode()
    held.reaches.all().delete()
    assert "no harbor now. Ask staff" in as_held.get(page).content.decode()
    assert "<dd>the whole fleet</dd>" in as_staff.get(page).content.decode()
    assert "You look after" not in as_user.get(page).content.decode()


def test_a_round_without_an_officer_of_theirs_says_so_and_shows_no_bare_table(as_held, as_staff):
    made = make_round(make_officers(2), count=4)
    page = reverse("calibration:round", args=[made.pk])
    html = as_held.get(page).content.decode()
    assert "None of them is an officer whom you look after" in html
    assert "<table" not in html
    assert "The figures come with the first" not in html
    assert "The figures come with the first" in as_staff.get(page).content.decode()


def test_who_may_not_open_a_page_of_the_whole_fleet_reads_whom_it_is_for(as_held, as_officer):
    page = reverse("accounts:requests")
    assert "staff of the whole fleet, or for another role" in as_held.get(page).content.decode()
    assert "(officer)" in as_officer.get(page).content.decode()
