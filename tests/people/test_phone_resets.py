"""A lost phone is taken off by two of the staff, or on the machine itself."""

from io import StringIO

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.test import Client
from django.urls import reverse

from tests.moments import BEFORE
from tests.people.codes import give_phone
from training.people import factors, second
from training.people.factors import resetting
from training.people.models import AccountDeed, PhoneReset, Role, User

pytestmark = pytest.mark.django_db

ASK = reverse("people:ask_phone_reset")
DECIDE = reverse("people:decide_phone_reset")
LIST = reverse("people:phone_resets")


def make(name, **more):
    more = {"role": Role.STAFF, "whole_fleet": True, "joined": BEFORE} | more
    return User.objects.create_user(f"{name}@example.com", "x", name=name.title(), **more)


def signed_in(person):
    client = Client()
    client.force_login(person)
    return client


@pytest.fixture
def loser(db):
    """Somebody of the staff who lost the phone."""
    person = make("ada")
    give_phone(person)
    return person


@pytest.fixture
def first(db):
    return make("bo")


@pytest.fixture
def other(db):
    return make("cy")


def ask(loser, first):
    signed_in(first).post(ASK, {"person": loser.pk})
    return PhoneReset.objects.get()


def decide(held, person, **more):
    return signed_in(person).post(DECIDE, {"reset": held.pk, "agree": "1"} | more, follow=True)


def test_two_take_it_off_and_its_owner_hears_of_it(
    loser, first, other, django_capture_on_commit_callbacks
):
    held = ask(loser, first)
    assert factors.has(loser)
    assert "waits for you" in signed_in(other).get("/").content.decode()
    inside = signed_in(loser)
    with django_capture_on_commit_callbacks(execute=True):
        decide(held, other)
    assert not factors.has(loser)
    assert inside.get("/account/").status_code == 302
    (message,) = mail.outbox
    assert message.to == [loser.email]
    deed = AccountDeed.objects.get(person=loser, what=AccountDeed.What.FACTOR)
    assert (deed.by, deed.agreed_by) == (first, other)
    held.refresh_from_db()
    assert (held.agreed, held.decided_by) == (True, other)


@pytest.mark.parametrize("who", ["who asked", "whose it is", "made by who asked", "held", "new"])
def test_nobody_else_can_agree(loser, first, who):
    held = ask(loser, first)
    second_one = {
        "who asked": lambda: first,
        "whose it is": lambda: loser,
        "made by who asked": lambda: make("dee"),
        "held": lambda: make("eli", whole_fleet=False),
        "new": lambda: make("fay", joined=held.made),
    }[who]()
    if who == "made by who asked":
        second.note(second_one, AccountDeed.What.MADE, first)
    decide(held, second_one)
    assert factors.has(loser)
    held.refresh_from_db()
    assert held.agreed is None


def test_one_asks_once_and_not_for_oneself_nor_for_who_has_none(loser, first, other):
    for _ in range(2):
        ask(loser, first)
    signed_in(loser).post(ASK, {"person": loser.pk})
    page = signed_in(first).post(ASK, {"person": other.pk}, follow=True)
    assert "has no sign-in codes" in page.content.decode()
    assert PhoneReset.objects.count() == 1


@pytest.mark.parametrize("number", ["", "x", "-1", "0", "9" * 5000, "٣"])
def test_a_number_that_is_none_leads_nowhere(first, number):
    assert signed_in(first).post(ASK, {"person": number}).status_code == 404


def test_it_can_be_left_and_is_decided_once(loser, first, other):
    held = ask(loser, first)
    signed_in(first).post(DECIDE, {"reset": held.pk})
    page = decide(held, other)
    assert "decided already" in page.content.decode()
    assert factors.has(loser)
    again = ask_again(loser, first)
    assert again.pk != held.pk


def ask_again(loser, first):
    signed_in(first).post(ASK, {"person": loser.pk})
    return PhoneReset.objects.get(agreed=None)


def test_who_asked_reads_who_can_agree_and_can_take_it_back(loser, first, other):
    ask(loser, first)
    page = signed_in(first).get(LIST).content.decode()
    assert f"These people can agree: {other}." in page
    assert "Take the request back" in page
    page = signed_in(other).get(LIST).content.decode()
    assert "These people can agree" not in page
    assert "Take the request back" not in page
    second.note(other, AccountDeed.What.MADE, first)
    assert "Nobody can agree to this now" in signed_in(first).get(LIST).content.decode()
    # It waits for those alone who can agree.
    assert "lost phone" not in signed_in(other).get("/").content.decode()


def test_the_account_leads_to_it(loser, first, other):
    page = signed_in(first).get(reverse("accounts:account", args=[loser.pk])).content.decode()
    assert "Ask to take the phone off" in page
    page = signed_in(first).get(reverse("accounts:account", args=[other.pk])).content.decode()
    assert "Ask to take the phone off" not in page
    assert "None waits" in signed_in(first).get(LIST).content.decode()
    ask(loser, first)
    page = signed_in(first).get(LIST).content.decode()
    assert "Take the phone off" not in page
    assert f"These people can agree: {other}." in page
    assert "Take the phone off" in signed_in(other).get(LIST).content.decode()


def test_the_list_keeps_its_number_of_queries(first, other, django_assert_max_num_queries):
    client = signed_in(other)
    for number in range(8):
        person = make(f"p{number}")
        give_phone(person)
        resetting.ask(person, first)
    with django_assert_max_num_queries(12):
        client.get(LIST)


def test_the_machine_takes_it_off_too(loser, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        call_command("take_off_phone", loser.email.upper(), stdout=StringIO())
    assert not factors.has(loser)
    assert mail.outbox[0].to == [loser.email]
    for email in (loser.email, "nobody@example.com"):
        with pytest.raises(CommandError):
            call_command("take_off_phone", email)
