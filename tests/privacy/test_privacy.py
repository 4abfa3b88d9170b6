"""Who sees what, taking everything away, and being erased."""

import csv
import io
import json
import uuid
import zipfile
from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.apps import apps
from django.core.management import call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.certification.certificate_factory import make_exam, make_requirements
from tests.nets.conftest import make_net, make_tow
from tests.site import PASSWORD
from training.certification import certificates
from training.certification.models import Certificate, Exam, ExamTask, Requirements
from training.evidence.models import PairedCatch, PairedTows
from training.exercises import handing, kinds
from training.exercises.models import Assignment, Attempt
from training.lessons.models import LessonRead
from training.nets.models import Net
from training.people import sharing
from training.people.models import Membership, SharingChoice, User
from training.privacy import erasure, owned
from training.privacy.takeout import collect
from training.recall import sets
from training.recall.models import PracticeMail, ReadingSet, RuleMemory, SetReading
from training.register.models import Crew, Vessel

pytestmark = pytest.mark.django_db

DATA, ERASE = reverse("privacy:data"), reverse("privacy:erase")


@pytest.fixture
def full(user):
    """A trainee with one of everything."""
    net = make_net(user)
    make_tow(net)
    LessonRead.objects.note(user, "why-fish-part")
    assignment = handing.open_assignment(user, kinds.get("pick-chain"))
    handing.hand_in(assignment, kinds.get("pick-chain").any_answer(handing.task_of(assignment)))
    handing.open_assignment(user, kinds.get("pick-chain"))
    vessel = Vessel.objects.create(name="Sanderling", harbor="Kettle Harbor", length=15)
    Crew.objects.create(vessel=vessel, user=user)
    pair = PairedTows.objects.create(
        key=uuid.uuid4(), owner=user, vessel=vessel, day=timezone.localdate()
    )
    PairedCatch.objects.create(pair=pair, group="flatfish", without_sweep=4, with_sweep=30)
    sharing.choose(user, sharing.What.NETS, sharing.Level.SUMS)
    make_exam(user, make_requirements(), passed=False)
    readings = sets.open_set(user, ReadingSet.Purpose.START, [("no-sweep", "float_spacing")])
    sets.answer(readings.readings.get(), {"said": "met"})
    PracticeMail.objects.create(user=user, wanted=True)
    return user


def certified(user, wish):
    requirements = make_requirements()
    Requirements.objects.filter(pk=requirements.pk).update(after_erasure=wish)
    return certificates.issue(make_exam(user, requirements, handed_in=timezone.now()))


# Sharing


def test_nothing_chosen_is_shared_with_nobody(user):
    assert sharing.level_of(user, sharing.What.CATCHES) == sharing.Level.OWN
    assert not sharing.sharers(sharing.What.CATCHES, sharing.Level.values[1:]).exists()


def test_the_latest_choice_holds_and_earlier_ones_are_kept(as_user, user):
    for level in ("staff", "staff", "own", "sums"):
        as_user.post(DATA, {"nets": level, "catches": "own"})
    assert list(user.sharing_choices.values_list("what", "level")) == [
        ("nets", "staff"),
        ("nets", "own"),
        ("nets", "sums"),
    ]
    assert list(sharing.sharers(sharing.What.NETS, ["sums", "staff"])) == [user]
    assert not sharing.sharers(sharing.What.NETS, ["staff"]).exists()
    assert 'value="sums"' in as_user.get(DATA).content.decode()


def test_a_choice_that_is_none_is_refused_beside_its_field(as_user, user):
    page = as_user.post(DATA, {"nets": "everybody", "catches": "own"})
    assert list(page.context["form"].errors) == ["nets"]
    assert not SharingChoice.objects.exists()


@pytest.mark.parametrize("name", ["data", "take_out", "erase"])
def test_strangers_are_sent_to_sign_in(client, name):
    assert client.get(reverse(f"privacy:{name}")).status_code == 302


# Taking out


def test_the_file_holds_every_row_that_is_the_persons(as_user, full, officer):
    make_net(officer)
    pack = zipfile.ZipFile(io.BytesIO(as_user.get(reverse("privacy:take_out")).content))
    told = json.loads(pack.read("all.json"))
    assert told["account"][0]["email"] == full.email
    assert "password" not in told["account"][0]
    assert [net["name"] for net in told["nets"]] == [full.nets.get().name]
    assert len(told["tows"]) == 1
    assert len(told["attempts"]) == 1
    assert len(told["assignments"]) == 2
    assert told["readings of sets"][0]["rule"] == "float_spacing"
    assert told["rules remembered"]
    assert told["paired catches"][0]["with the sweep, kg"] == 30
    assert told["memberships"][0]["user"] == "you"
    rows = list(csv.DictReader(io.StringIO(pack.read("tables/nets.csv").decode("utf-8-sig"))))
    assert rows[0]["name"] == full.nets.get().name
    assert "READ ME.txt" in pack.namelist()
    assert officer.name not in pack.read("all.json").decode()


def test_nets_and_tows_are_rows_and_not_cells_of_code(as_user, user):
    net = make_net(user, dropper_from="corners", dropper_center="yes", dropper_spacing="8 ft")
    net.say_rigged(uuid.uuid4(), timezone.localdate())
    make_tow(net, ground="Gull ledge")
    pack = zipfile.ZipFile(io.BytesIO(as_user.get(reverse("privacy:take_out")).content))

    def rows(name):
        text = pack.read(f"tables/{name}.csv").decode("utf-8-sig")
        return list(csv.DictReader(io.StringIO(text)))

    def told(name):
        return {
            row["asked"]: (row["as you typed it"], row["measured"], row["unit"])
            for row in rows(name)
        }

    for name in ("nets", "tows", "riggings"):
        for row in rows(name) + rows(f"{name}-entry-by-entry"):
            assert not any("{" in cell or "[" in cell for cell in row.values()), row
    nets = told("nets-entry-by-entry")
    assert nets["Bosom"] == ("16 ft", "4.877", "m")  # 16 x 0.3048 m
    assert nets["From where do you count?"] == ("From each corner out", "", "")
    assert nets["Is there a sweep on it now?"] == ("Yes, a chain sweep", "", "")
    assert nets["Chain of the sweep"] == ("3/8 in chain", "0.009525", "m")
    assert "Width of the grate" not in nets
    tow = told("tows-entry-by-entry")
    assert tow["Shine, center"] == ("10 in", "0.254", "m")
    assert tow["Target fish"] == ("900 lb", "408.2", "kg")  # 900 x 0.45359237 kg
    assert tow["Ground (optional)"] == ("Gull ledge", "", "")
    assert tow["The net: Bosom"] == ("", "4.877", "m")
    assert tow["The net: Does one hang at the center?"] == ("Yes", "", "")
    assert told("riggings-entry-by-entry")["The net: Bosom"] == ("", "4.877", "m")
    # For programs it is all in one place, as before.
    assert json.loads(pack.read("all.json"))["nets"][0]["in SI"]["bosom"] == 16 * 0.3048


def test_other_people_are_not_named_in_it(user, staff):
    certificate = certified(user, "keep")
    certificates.revoke(certificate, "The exam had a wrong key.", staff)
    tables, _ = collect(user)
    assert tables["revocations"][0]["by"] == "somebody else"
    assert staff.name not in str(tables)


def test_whatever_points_at_a_person_is_taken_out_or_left_out_for_a_reason():
    """A new model that hangs on people shows up in the file without a line of code."""
    assert {
        apps.get_model(label)._meta.label for label in owned.LEFT_OUT | set(erasure.KEPT)
    } == owned.LEFT_OUT | set(erasure.KEPT)


# Being erased


def test_it_asks_for_the_password_and_for_being_sure(as_user, full):
    wrong = as_user.post(ERASE, {"password": "wrong", "sure": "on"})
    assert list(wrong.context["form"].errors) == ["password"]
    unsure = as_user.post(ERASE, {"password": PASSWORD})
    assert list(unsure.context["form"].errors) == ["sure"]
    full.refresh_from_db()
    assert full.name == "Wren Tolliver"
    assert Net.objects.exists()


def test_nothing_that_names_the_person_is_left(as_user, full):
    email, name = full.email, full.name
    AccessAttempt.objects.create(username=email, ip_address="127.0.0.1", failures_since_start=1)
    as_user.post(ERASE, {"password": PASSWORD, "sure": "on"})
    for model in (
        Net,
        Attempt,
        Assignment,
        LessonRead,
        Membership,
        Crew,
        PairedTows,
        SharingChoice,
        Exam,
        ReadingSet,
        SetReading,
        RuleMemory,
        PracticeMail,
        AccessAttempt,
    ):
        assert not model.objects.exists(), model
    assert Vessel.objects.exists()
    stub = User.objects.get(pk=full.pk)
    assert not stub.is_active
    for model in apps.get_models():
        for row in model._base_manager.values():
            assert name not in str(row), model
            assert email not in str(row), model
    assert not stub.check_password(PASSWORD)
    assert as_user.get(reverse("people:account")).status_code == 302


def test_what_may_still_name_the_person_is_said_before_and_after(as_user, full):
    """An owner in the register is what the register says: only staff change it."""
    Vessel.objects.update(owner=full.name)
    before = as_user.get(ERASE).content.decode()
    assert "What stays, and may name you" in before
    assert "owner or captain" in before
    after = as_user.post(ERASE, {"password": PASSWORD, "sure": "on"}, follow=True)
    assert Vessel.objects.get().owner == "Wren Tolliver"
    said = after.content.decode()
    assert "Your account is deleted." in said
    assert "may still name you" in said.replace("\n", " ")


def test_erasing_twice_erases_once(full):
    first = erasure.erase(full)
    assert erasure.erase(full).pk == first.pk
    assert User.objects.get(pk=full.pk).email.endswith("@erased.invalid")


def test_others_keep_what_is_theirs(full, officer):
    net = make_net(officer)
    make_exam(officer)
    erasure.erase(full)
    assert Net.objects.get() == net
    assert Exam.objects.get().user == officer


@pytest.mark.parametrize(
    ("wish", "name", "state"),
    [
        ("nameless", erasure.NAME, certificates.VALID),
        ("keep", "Wren Tolliver", certificates.VALID),
        ("take back", erasure.NAME, certificates.REVOKED),
    ],
)
def test_a_certificate_is_handled_as_its_requirements_says(as_user, user, wish, name, state):
    certificate = certified(user, wish)
    tasks = ExamTask.objects.filter(exam=certificate.exam).count()
    page = as_user.get(ERASE).content.decode()
    assert Requirements.objects.get().get_after_erasure_display() in page
    as_user.post(ERASE, {"password": PASSWORD, "sure": "on"})
    found = Certificate.objects.get()
    assert found.holder_name == name
    assert certificates.standing(found).state == state
    assert ExamTask.objects.filter(exam=found.exam).count() == tasks
    verify = Client().get(reverse("certificates:verify_code", args=[found.code]))
    assert verify.status_code == 200


def test_a_name_that_was_kept_goes_when_the_certificate_runs_out(user, capsys):
    certificate = certified(user, "keep")
    erasure.erase(user)
    call_command("forget_expired")
    assert Certificate.objects.get().holder_name == "Wren Tolliver"
    Certificate.objects.update(expires=timezone.now() - timedelta(days=1))
    call_command("forget_expired")
    certificate.refresh_from_db()
    assert certificate.holder_name == erasure.NAME
    assert "1 names" in capsys.readouterr().out


def test_the_sums_are_right_when_somebody_is_gone(full, group):
    other = User.objects.create_user("kit@example.com", PASSWORD, name="Kit Larkham")
    Membership.objects.create(group=group, user=other)
    kind = kinds.get("judge-rig")
    for person in (full, other):
        assignment = handing.open_assignment(person, kind)
        handing.hand_in(assignment, kind.any_answer(handing.task_of(assignment)))
    erasure.erase(full)
    call_command("sums", check=True)  # raises if anything differs from a full recount
    assert group.rule_tallies.filter(people=1).exists()
    assert not group.rule_tallies.filter(people=2).exists()
