"""What a certificate asks changes by two people: one proposes, another approves."""

import uuid

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.urls import reverse

from tests.certification.candidates import begin, make_requirements
from tests.moments import BEFORE
from tests.site import PASSWORD
from training.certification import changes, exams, reasons, terms
from training.certification.changes import ChangeError
from training.certification.models import Change, Judgement, Requirements
from training.certification.motion import Motion
from training.people import second as people
from training.people.models import AccountDeed, Role, User

WHY = "Too many passed without knowing the spacing."


@pytest.fixture
def requirements(db):
    return make_requirements()


@pytest.fixture
def second(db):
    return User.objects.create_user(
        "second@example.com",
        PASSWORD,
        name="Second Hand",
        role=Role.STAFF,
        whole_fleet=True,
        joined=BEFORE,
    )


@pytest.fixture
def as_second(client, second):
    client.force_login(second)
    return client


def propose(requirements, by, key=None, **asked):
    return changes.propose(
        requirements,
        terms.of_requirements(requirements) | asked,
        Motion(by, WHY, key or uuid.uuid4()),
    )


def test_who_cannot_decide_sees_why_and_who_can(as_staff, as_second, staff, second, requirements):
    """As it was found: whoever would be refused was offered to approve."""
    page = reverse("certification:change", args=[propose(requirements, staff, pass_percent=95).pk])
    assert "These people can agree: Second Hand." in as_staff.get(page).content.decode()
    shown = as_second.get(page).content.decode()
    assert "Approve the change" in shown
    assert "These people can agree" not in shown
    people.note(second, AccountDeed.What.EMAIL, staff)
    shown = as_second.get(page).content.decode()
    assert "Approve the change" not in shown
    assert "Turn the change down" not in shown
    assert f"made or changed by {staff.name}" in shown
    assert "Nobody can agree to this now" in shown


def test_a_second_account_of_the_first_decides_nothing(staff, second, requirements):
    change = propose(requirements, staff, pass_percent=95)
    people.note(second, AccountDeed.What.MADE, staff)
    for act in (changes.approve, lambda *args: changes.turn_down(*args, WHY)):
        with pytest.raises(ChangeError, match=staff.name):
            act(change, second)
    assert Change.objects.get().waits


def test_a_change_applies_once_a_second_person_approves_it(requirements, staff, second, user):
    change = propose(requirements, staff, pass_percent=95, parts=[["judge-rig", 2, 3]])
    begun = begin(user, requirements)
    assert (begun.pass_percent, begun.tasks.count()) == (80, 4)
    exams.hand_in(begun)
    changes.approve(change, second)
    requirements.refresh_from_db()
    later = begin(user, requirements)
    assert (later.pass_percent, later.tasks.count()) == (95, 3)
    assert (begun.pass_percent, begun.tasks.count()) == (80, 4)


def test_nobody_approves_or_turns_down_a_change_of_ones_own(requirements, staff):
    change = propose(requirements, staff, pass_percent=95)
    for act in (changes.approve, lambda *args: changes.turn_down(*args, WHY)):
        with pytest.raises(ChangeError, match="another staff member"):
            act(change, staff)
    requirements.refresh_from_db()
    assert requirements.pass_percent == 80
    # The database holds it too, whoever writes to it.
    with pytest.raises(IntegrityError), transaction.atomic():
        Change.objects.update(outcome="approved", decided_by=staff, decided=change.made)


def test_a_change_turned_down_changes_nothing_and_says_why(requirements, staff, second):
    change = propose(requirements, staff, pass_percent=95)
    turned = changes.turn_down(change, second, "The judges never set it that high.")
    requirements.refresh_from_db()
    assert requirements.pass_percent == 80
    assert turned.answer == "The judges never set it that high."
    with pytest.raises(ChangeError, match="already turned down"):
        changes.approve(change, second)
    assert propose(requirements, staff, pass_percent=90).waits


def test_one_change_waits_at_a_time(requirements, staff, second):
    change = propose(requirements, staff, pass_percent=95)
    with pytest.raises(ChangeError, match="Another change"):
        propose(requirements, second, pass_percent=90)
    with pytest.raises(ChangeError, match="Only the person who proposed"):
        changes.take_back(change, second)
    changes.take_back(change, staff)
    assert propose(requirements, second, pass_percent=90).waits


def test_the_same_key_proposes_once_and_two_approvals_are_one(requirements, staff, second):
    key = uuid.uuid4()
    change = propose(requirements, staff, key, pass_percent=95)
    assert propose(requirements, staff, key, pass_percent=95) == change
    first = changes.approve(change, second)
    assert changes.approve(change, second).decided == first.decided


def test_a_change_of_nothing_is_refused(requirements, staff):
    with pytest.raises(ChangeError, match="Nothing is different"):
        propose(requirements, staff)


def test_questions_that_judges_have_seen_stay(requirements, staff, second):
    part = requirements.parts.get(kind="judge-rig")
    change = propose(requirements, staff, parts=[["space-droppers", 1, 1]])
    Judgement.objects.create(part=part, judge=staff, share=0.7)
    with pytest.raises(ChangeError, match="Judges have estimated “Judge the rig”"):
        changes.approve(change, second)
    change.refresh_from_db()
    requirements.refresh_from_db()
    assert change.waits
    assert requirements.parts.count() == 3


def test_what_was_and_is_stands_in_words(requirements, staff):
    asked = {"minutes": 30, "must_pass": ["no_sweep"], "parts": [["one-reading", 3, 20]]}
    change = propose(requirements, staff, **asked)
    told = {each.name: (each.was, each.now) for each in terms.differences(change.was, change.terms)}
    assert told["Time limit, minutes"] == ("none", "30")
    assert told["Rules that must be right"] == ("none", "No sweep")
    assert told["Met or broken?, level 3"] == ("0", "20")
    assert told["Judge the rig, level 1"] == ("2", "0")
    assert "Percent to pass" not in told


@pytest.mark.parametrize(
    "text", ["", "   ", "aaa bbb ccc", "so so so so", "....", "ok", "12 34 56"]
)
def test_a_reason_says_something(text):
    with pytest.raises(ValidationError, match="in a few words"):
        reasons.clean(text)


def test_a_reason_is_kept_as_said():
    assert reasons.clean("  The tape was\n read wrong. ") == "The tape was read wrong."


# Pages -------------------------------------------------------------------------------------


def fields(**asked):
    return {
        "key": uuid.uuid4(),
        "reason": WHY,
        "title": "Deck ticket",
        "track": "fisherman",
        "rulebooks": ["no-sweep"],
        "must_pass": ["float_spacing"],
        "must_asked": 4,
        "must_slips": 1,
        "pass_percent": 75,
        "attempts_allowed": 3,
        "waiting_days": 1,
        "months_valid": 24,
        "after_erasure": "nameless",
        "is_open": "on",
        "count-one-reading-1": 12,
        "count-judge-rig-1": 2,
        **asked,
    }


def test_a_new_certificate_has_exams_once_it_is_approved(as_staff, as_user, user, second):
    page = as_staff.post(reverse("certification:new_requirements"), fields(), follow=True)
    requirements = Requirements.objects.get()
    assert requirements.slug == "deck-ticket"
    assert "waits for another staff member" in page.text
    assert "Approve the change" not in page.text
    assert not exams.open_to(user).exists()
    changes.approve(requirements.changes.get(), second)
    requirements = exams.open_to(user).get()
    assert "14 questions" in as_user.get(reverse("certification:mine")).text
    assert begin(user, requirements).tasks.count() == 14


def test_a_second_tap_on_save_proposes_once(as_staff):
    asked = fields()
    for _ in range(2):
        page = as_staff.post(reverse("certification:new_requirements"), asked, follow=True)
        assert page.status_code == 200
    assert Change.objects.count() == Requirements.objects.count() == 1


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"must_pass": ["float_spacing", "legs_equal"]}, "need at least 16"),
        ({"count-one-reading-1": "0"}, "Add at least 4 of these"),
        (
            {"count-one-reading-1": "0", "count-judge-rig-1": "0", "must_pass": []},
            "at least one question",
        ),
        ({"count-judge-rig-1": "many"}, "Enter a whole number"),
        ({"pass_percent": 0}, "greater than or equal to 1"),
        ({"rulebooks": []}, "required"),
        ({"must_slips": 4}, "Allow fewer slips"),
        ({"reason": "x x x x"}, "in a few words"),
        ({"reason": ""}, "required"),
    ],
)
def test_a_requirements_that_will_not_do_is_refused_with_words(as_staff, asked, words):
    page = as_staff.post(reverse("certification:new_requirements"), fields(**asked))
    assert page.status_code == 422
    assert words in page.text
    assert not Requirements.objects.exists()


def test_two_requirements_list_of_one_name_are_refused(as_staff):
    for _ in range(2):
        page = as_staff.post(reverse("certification:new_requirements"), fields())
    assert "of this name exists already" in page.text


def test_what_an_exam_would_hold_is_shown_before_it_is_saved(as_staff):
    asked = fields(**{"try": "1", "reason": ""})
    page = as_staff.post(reverse("certification:new_requirements"), asked)
    assert page.status_code == 200
    assert "14 questions, about 9 minutes" in page.text
    assert not Requirements.objects.exists()
    short = as_staff.post(reverse("certification:new_requirements"), asked | {"minutes": 8})
    assert "The time limit is short" in short.text


def test_two_people_change_it_on_the_pages(as_staff, as_second, requirements, staff, second):
    place = reverse("certification:change_requirements", args=[requirements.slug])
    assert as_staff.get(place).status_code == 200
    page = as_staff.post(place, fields(title=requirements.title), follow=True)
    change = requirements.changes.get()
    assert "Take the change back" in page.text
    # Whoever wants to change it now is led to what waits.
    assert as_second.get(place).url == reverse("certification:change", args=[change.pk])
    assert (
        "a change waits for approval"
        in as_second.get(reverse("certification:requirements_list")).text
    )
    refused = as_staff.post(reverse("certification:decide", args=[change.pk, "approve"]))
    assert refused.status_code == 409
    unsaid = as_second.post(
        reverse("certification:decide", args=[change.pk, "turn-down"]), {"answer": "no"}
    )
    assert unsaid.status_code == 422
    page = as_second.post(reverse("certification:decide", args=[change.pk, "approve"]), follow=True)
    assert "Approved by Second Hand" in page.text
    requirements.refresh_from_db()
    assert requirements.pass_percent == 75
    history = as_staff.get(reverse("certification:changes", args=[requirements.slug])).text
    for words in (str(staff), str(second), WHY, "Percent to pass", "80", "75"):
        assert words in history
