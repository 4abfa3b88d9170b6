"""Making staff, and letting staff do more, takes two people who are not one."""

from datetime import timedelta
from io import StringIO

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.accounts.test_accounts import INVITE, entries, kept, page_of
from tests.moments import BEFORE
from tests.rulesets.conftest import make_draft
from training.accounts import asking
from training.accounts.models import AccountRequest
from training.home import waiting
from training.people import second as people
from training.people.models import AccountDeed, Reach, Role, User
from training.register import harbors
from training.rulesets import drafting
from training.rulesets.models import Version

pytestmark = pytest.mark.django_db

REQUESTS = reverse("accounts:requests")
STAFF = {"role": "staff", "whole_fleet": "on"}


def decide(client, what):
    found = AccountRequest.objects.latest("pk")
    path = reverse("accounts:decide_request", args=[found.pk, what])
    return client.post(path, follow=True).content.decode()


def test_one_person_makes_no_second_account_that_approves(as_staff, staff, client):
    """As it was found: staff invited staff at an address of their own, and approved with it."""
    as_staff.post(INVITE, entries(**STAFF))
    assert not User.objects.filter(email="tamsin@example.com").exists()
    assert not mail.outbox
    page = decide(as_staff, "agree")
    assert "You asked for this yourself" in page
    assert not User.objects.filter(email="tamsin@example.com").exists()
    # Nor does an account made otherwise, as before two were asked for.
    other = User.objects.create_user(
        "other@example.com", name="Other", **STAFF | {"joined": BEFORE, "whole_fleet": True}
    )
    people.note(other, AccountDeed.What.MADE, staff)
    client.force_login(other)
    assert staff.name in decide(client, "agree")
    draft = make_draft(staff)
    Version.objects.filter(pk=draft.pk).update(submitted_at=timezone.now())
    draft.refresh_from_db()
    assert any(staff.name in why for why in drafting.hindrances(draft, other))


def test_staff_are_invited_once_a_second_person_agrees(as_staff, staff, second, agree):
    form = entries(**STAFF)
    for _ in range(2):
        assert as_staff.post(INVITE, form)["Location"] == REQUESTS
    (asked,) = AccountRequest.objects.all()
    assert "an invitation is on its way" in agree().lower()
    person = User.objects.get(email="tamsin@example.com")
    assert (person.is_staff, person.sees_whole_fleet) == (True, True)
    assert [each.to for each in mail.outbox] == [[person.email]]
    asked.refresh_from_db()
    assert (asked.person, asked.decided_by, asked.wanted) == (person, second, {})
    deed = person.deeds.get()
    assert (deed.what, deed.by, deed.agreed_by) == ("made", staff, second)
    # The form sent once more leads to the account, and makes no other.
    assert as_staff.post(INVITE, form)["Location"] == page_of(person)
    assert people.why_not(person, staff, timezone.now())
    assert people.why_not(person, second, timezone.now() + timedelta(minutes=1)) == ""


@pytest.mark.parametrize("what", ["turn-down", "take-back"])
def test_not_agreed_nothing_changes_and_no_name_is_kept(as_staff, as_second, what):
    as_staff.post(INVITE, entries(**STAFF))
    for _ in range(2):
        decide(as_second if what == "turn-down" else as_staff, what)
    asked = AccountRequest.objects.get()
    assert asked.get_outcome_display() == what.replace("turn-down", "turned down").replace(
        "take-back", "taken back"
    )
    assert asked.wanted == {}
    assert not User.objects.filter(email="tamsin@example.com").exists()
    assert "decided before" in decide(as_second, "agree")
    assert "Somebody new" in as_second.get(REQUESTS).content.decode()


def test_each_takes_back_and_turns_down_what_is_theirs_to(as_staff, as_second):
    as_staff.post(INVITE, entries(**STAFF))
    assert "Take it back instead" in decide(as_staff, "turn-down")
    assert "Only the person who asked" in decide(as_second, "take-back")
    assert AccountRequest.objects.get().waits


def data_of(person, **changes):
    told = {"name": person.name, "email": person.email, "role": person.role}
    return told | {"is_active": True, "whole_fleet": person.whole_fleet, "harbors": []} | changes


def test_what_takes_two_and_what_one_may_do_alone(user, officer, second):
    held = User.objects.create_user("held@example.com", name="Held", role=Role.STAFF)
    Reach.objects.create(user=held, harbor="Eastlight")
    closed = User.objects.create_user(
        "closed@example.com", name="C", role=Role.STAFF, whole_fleet=True, is_active=False
    )
    near, both = {"harbors": ["Eastlight"]}, {"harbors": ["Eastlight", "Gannet Cove"]}
    for person, changes, two in (
        (None, {"role": "staff"}, True),
        (None, {"role": "officer"}, False),
        (user, {"role": "officer"}, False),
        (user, {"role": "staff"} | near, True),
        (user, {"email": "x@example.com"}, False),
        (officer, {"role": "staff", "is_active": False}, False),
        (held, both, True),
        (held, {"whole_fleet": True}, True),
        (held, near, False),
        (held, near | {"name": "Other"}, False),
        (held, near | {"email": "x@example.com"}, True),
        (held, {"harbors": ["Gannet Cove"]}, True),
        (held, {"is_active": False} | near, True),
        (held, {"harbors": []}, True),
        (held, {"role": "trainee"}, True),
        (held, {"role": "trainee", "is_active": False}, True),
        (second, {}, False),
        (second, {"name": "Other"}, False),
        (second, {"whole_fleet": False} | near, True),
        (second, {"is_active": False}, True),
        (user, {"is_active": False}, False),
        (closed, {"is_active": False, "role": "trainee"}, False),
        (closed, {}, True),
        (closed, {"is_active": False}, False),
    ):
        data = data_of(person or User(name="New", email="n@example.com"), **changes)
        assert asking.needs_second(person, data) is two, (person, changes)


@pytest.fixture
def third(db):
    return User.objects.create_user(
        "sorrel@example.com", name="Sorrel Dunn", **STAFF | {"whole_fleet": True, "joined": BEFORE}
    )


def signed_in(person):
    client = Client()
    client.force_login(person)
    return client


def test_one_person_closes_no_other_of_the_staff(as_staff, as_second, staff, second, third):
    """As it was found: one of the staff shut the others out, and was left alone."""
    as_staff.post(page_of(second), kept(second, is_active=None, whole_fleet="on"))
    assert User.objects.get(pk=second.pk).is_active
    page = decide(as_staff, "agree")
    assert "You asked for this yourself" in page
    assert "These people can agree: Sorrel Dunn, Perrin Holt." in page
    assert "manage.py close_account perrin@example.com" in page
    # Whom it is about can agree, and cannot do away with it.
    page = as_second.get(REQUESTS).content.decode()
    assert "If you agree, it applies at once" in page
    assert "Turn the request down" not in page
    assert "Somebody else turns it down" in decide(as_second, "turn-down")
    as_third = signed_in(third)
    assert "Turn the request down" in as_third.get(REQUESTS).content.decode()
    assert any("Perrin Holt" in each.words for each in waiting.for_staff(third))
    decide(as_third, "agree")
    assert as_second.get(REQUESTS).status_code == 302
    deed = second.deeds.get()
    assert (deed.what, deed.by, deed.agreed_by) == ("closed", staff, third)


@pytest.mark.parametrize("role", ["trainee", "officer"])
def test_nor_takes_the_role_or_the_fleet_away(as_staff, as_second, second, role):
    harbors.add("Eastlight")
    as_staff.post(page_of(second), kept(second, role=role))
    assert User.objects.get(pk=second.pk).sees_whole_fleet
    assert "whole fleet: yes → no" in as_staff.get(REQUESTS).content.decode()
    decide(as_staff, "take-back")
    as_staff.post(page_of(second), kept(second, harbors=["Eastlight"]))
    assert User.objects.get(pk=second.pk).sees_whole_fleet
    # There is no third; who gives it up agrees.
    decide(as_second, "agree")
    assert {each.harbor for each in second.reaches.all()} == {"Eastlight"}


def test_of_two_who_close_each_other_one_is_left(as_staff, as_second, staff, second):
    as_staff.post(page_of(second), kept(second, is_active=None, whole_fleet="on"))
    as_second.post(page_of(staff), kept(staff, is_active=None, whole_fleet="on"))
    first = AccountRequest.objects.get(person=second)
    as_second.post(reverse("accounts:decide_request", args=[first.pk, "agree"]))
    assert not User.objects.get(pk=second.pk).is_active
    page = decide(as_staff, "agree")
    assert "no longer looks after the whole fleet" in page
    assert User.objects.get(pk=staff.pk).is_active


def test_with_another_email_too_nobody_agrees_to_their_own(as_staff, as_second, second):
    harbors.add("Eastlight")
    form = kept(second, harbors=["Eastlight"], email="else@example.com")
    as_staff.post(page_of(second), form)
    assert "This is your own account. Somebody else has to agree" in decide(as_second, "agree")
    decide(as_second, "turn-down")
    assert AccountRequest.objects.get().outcome == "turned down"


def test_the_server_closes_an_account(as_second, second, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        call_command("close_account", "Perrin@example.com", stdout=StringIO())
    assert as_second.get(REQUESTS).status_code == 302
    assert [(each.what, each.by) for each in second.deeds.all()] == [("closed", None)]
    assert "closed" in mail.outbox[0].body
    with pytest.raises(CommandError, match="No open account"):
        call_command("close_account", second.email)


def test_a_request_waits_alone_and_the_account_is_not_changed_meanwhile(as_staff, officer, agree):
    harbors.add("Eastlight")
    held = {"role": "staff", "harbors": ["Eastlight"]}
    for _ in range(2):
        as_staff.post(page_of(officer), kept(officer, **held))
    assert AccountRequest.objects.count() == 1
    assert User.objects.get(pk=officer.pk).role == Role.OFFICER
    page = as_staff.get(page_of(officer)).content.decode()
    assert "See what is asked" in page
    assert "Save the account" not in page
    as_staff.post(page_of(officer), kept(officer, name="Else"))
    assert User.objects.get(pk=officer.pk).name == officer.name
    page = as_staff.get(REQUESTS).content.decode()
    assert "role: officer → staff" in page
    assert "These people can agree: Perrin Holt." in page
    agree()
    assert {each.harbor for each in User.objects.get(pk=officer.pk).reaches.all()} == {"Eastlight"}


def test_where_nobody_can_agree_the_page_says_so(as_staff):
    as_staff.post(INVITE, entries(**STAFF))
    assert "Nobody can agree to this now" in as_staff.get(REQUESTS).content.decode()


def test_who_can_agree_is_whom_nothing_hinders(staff, second):
    """Asked at once and asked one by one, the same people can stand beside another."""
    begun = timezone.now()
    made = User.objects.create_user(
        "made@example.com", name="M", **{**STAFF, "whole_fleet": True, "joined": BEFORE}
    )
    people.note(made, AccountDeed.What.MADE, staff)
    beyond = User.objects.create_user(
        "beyond@example.com", name="B", role="staff", whole_fleet=True, joined=BEFORE
    )
    people.note(beyond, AccountDeed.What.EMAIL, made)
    User.objects.create_user(
        "robin+2@example.com", name="R", role="staff", whole_fleet=True, joined=BEFORE
    )
    User.objects.create_user("late@example.com", name="L", role="staff", whole_fleet=True)
    User.objects.create_user("held@example.com", name="H", role="staff", joined=BEFORE)
    for first in (staff, second, made):
        plain = [each for each in User.objects.all() if not people.why_not(each, first, begun)]
        assert people.able(first, begun) == plain
    assert people.able(staff, begun) == [second]


def test_it_waits_on_the_first_page_of_those_who_can_agree(as_staff, staff, second):
    as_staff.post(INVITE, entries(**STAFF))
    asked = AccountRequest.objects.get()
    (line,) = waiting.for_staff(second)
    assert line.words.startswith("Robin Ashby asks to make Tamsin Rudd staff.")
    assert line.url == f"{REQUESTS}#request-{asked.pk}"
    assert not waiting.for_staff(staff)
    Reach.objects.create(user=second, harbor="Eastlight")
    assert not waiting.for_staff(User.objects.get(pk=second.pk))


def test_an_address_taken_meanwhile_is_said_and_it_waits_on(as_staff, as_second):
    as_staff.post(INVITE, entries(**STAFF))
    User.objects.create_user("tamsin@example.com", name="Tamsin")
    assert "has this email by now" in decide(as_second, "agree")
    assert AccountRequest.objects.get().waits


def test_the_page_is_for_staff_of_the_whole_fleet(as_staff, staff, as_user, as_officer):
    as_staff.post(INVITE, entries(**STAFF))
    Reach.objects.create(user=staff, harbor="Eastlight")
    asked = AccountRequest.objects.get()
    for client in (as_staff, as_user, as_officer):
        assert client.get(REQUESTS).status_code == 403
        path = reverse("accounts:decide_request", args=[asked.pk, "turn-down"])
        assert client.post(path).status_code == 403
    assert AccountRequest.objects.get().waits


def test_the_person_is_told_of_a_role_and_of_a_closed_account(
    as_staff, user, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        as_staff.post(page_of(user), kept(user, role="officer"))
        as_staff.post(page_of(user), kept(user, role="officer", is_active=None))
        as_staff.post(page_of(user), kept(user, role="officer", is_active=None, name="Other"))
    assert [each.to for each in mail.outbox] == [[user.email]] * 2
    assert "Your role is now: officer." in mail.outbox[0].body
    assert "Robin Ashby, of the staff, did it." in mail.outbox[0].body
    assert "was closed" in mail.outbox[1].body
