"""Another email: the new address answers, the old one is asked and can stop it."""

import re
from datetime import timedelta

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.moments import BEFORE
from tests.site import PASSWORD
from training.people import new_email, second
from training.people.models import EmailChange, Role, User

pytestmark = pytest.mark.django_db

PAGE, OLD, NEW = reverse("people:email"), "wren@example.com", "w@example.org"
LATER = timedelta(days=new_email.WAIT_DAYS, minutes=1)


@pytest.fixture
def ask(as_user, django_capture_on_commit_callbacks):
    """A function that asks for another email; it returns the links by address."""

    def asked(email=NEW, client=as_user):
        mail.outbox.clear()
        with django_capture_on_commit_callbacks(execute=True):
            client.post(PAGE, {"email": email})
        found = {each.to[0]: re.search(r"/account/email/\S+", each.body) for each in mail.outbox}
        return {to: link and link[0] for to, link in found.items()}

    return asked


def email_of(person):
    return User.objects.get(pk=person.pk).email


def test_both_say_yes_and_it_applies(ask, user, client):
    links = ask()
    for link in links.values():
        # What a mail program opens by itself changes nothing.
        assert client.get(link).status_code == 200
    assert EmailChange.objects.get().confirmed is None
    client.post(links[NEW])
    assert email_of(user) == OLD
    client.post(links[OLD])
    assert email_of(user) == NEW
    assert not second.Beside(user).holders


@pytest.mark.parametrize("first", [OLD, NEW])
def test_one_yes_is_not_enough(ask, user, client, first):
    client.post(ask()[first])
    new_email.settle_due()
    assert email_of(user) == OLD


def test_a_silent_old_address_is_waited_for_and_a_silent_new_one_never_applies(ask, user, client):
    links = ask()
    new_email.settle_due(timezone.now() + 2 * LATER)
    assert email_of(user) == OLD
    client.post(links[NEW])
    new_email.settle_due(timezone.now() + LATER - timedelta(hours=1))
    assert email_of(user) == OLD
    EmailChange.objects.update(asked=timezone.now() - LATER)
    # Signing in with the new one is what settles it, without any command.
    page = Client().post(reverse("people:sign_in"), {"username": NEW, "password": PASSWORD})
    assert page.status_code == 302
    assert email_of(user) == NEW


def test_the_account_says_what_waits_and_what_was_stopped(ask, as_user, client):
    def page():
        return as_user.get(PAGE).content.decode()

    def account():
        return as_user.get(reverse("people:account")).content.decode()

    assert "You asked on" not in page()
    links = ask()
    assert "Open the link that we mailed there" in page()
    assert f"A change to {NEW} waits" in account()
    client.post(links[NEW])
    assert "It has answered" in page()
    client.post(links[OLD], {"stop": "yes"})
    assert "That was stopped on" in page()
    assert "waits for an answer" not in account()


def test_who_did_not_ask_reads_who_did(user, staff, as_user):
    new_email.ask(user, NEW, "https://example.com", by=staff)
    assert f"{staff}, of the staff, asked on" in as_user.get(PAGE).content.decode()


def test_the_old_address_stops_it(ask, user, client):
    links = ask()
    client.post(links[NEW])
    page = client.post(links[OLD], {"stop": "yes"}).content.decode()
    assert "This change is stopped" in page
    new_email.settle_due(timezone.now() + LATER)
    client.post(links[NEW])
    assert email_of(user) == OLD
    # The new address cannot stop or put back anything.
    client.post(ask()[NEW], {"stop": "yes"})
    assert EmailChange.objects.last().is_open


def test_a_silent_old_address_has_the_account_back_for_some_days(ask, user, client):
    links = ask()
    client.post(links[NEW])
    EmailChange.objects.update(asked=timezone.now() - LATER)
    new_email.settle_due()
    assert email_of(user) == NEW
    assert "Put the old email back" in client.get(links[OLD]).content.decode()
    assert "Put the old email back" not in client.get(links[NEW]).content.decode()
    client.post(links[OLD], {"stop": "yes"})
    assert email_of(user) == OLD
    # Who took it may know the password.
    assert not User.objects.get(pk=user.pk).has_usable_password()


@pytest.mark.parametrize("days", [new_email.BACK_DAYS + 1, None])
def test_not_later_and_not_after_a_yes(ask, user, client, days):
    links = ask()
    client.post(links[NEW])
    if days is None:
        client.post(links[OLD])
    else:
        EmailChange.objects.update(asked=timezone.now() - timedelta(days=days))
        new_email.settle_due()
    assert "too late" in client.post(links[OLD], {"stop": "yes"}).content.decode()
    assert email_of(user) == NEW


def test_an_address_that_has_an_account_answers_alike_and_changes_nothing(
    ask, as_user, user, officer, client
):
    free = as_user.post(PAGE, {"email": "free@example.org"}, follow=True).content.decode()
    taken = as_user.post(PAGE, {"email": officer.email}, follow=True).content.decode()
    tidy = lambda page: re.sub(r'csrfmiddlewaretoken" value="\w+|nonce="?[^" ]+', "", page)  # noqa: E731
    assert tidy(free).replace("free@example.org", "X") == tidy(taken).replace(officer.email, "X")
    links = ask(officer.email)
    assert links[officer.email] is None
    client.post(links[OLD])
    new_email.settle_due(timezone.now() + LATER)
    assert email_of(user) == OLD


def test_taken_in_between_it_ends(ask, user, client):
    links = ask()
    client.post(links[NEW])
    User.objects.create_user(NEW, name="Other")
    client.post(links[OLD])
    assert email_of(user) == OLD
    assert not EmailChange.objects.get().is_open


def test_a_later_one_takes_its_place(ask, user, client):
    first, later = ask(), ask("other@example.org")
    client.post(first[NEW])
    client.post(later[OLD])
    assert email_of(user) == OLD
    client.post(later["other@example.org"])
    assert email_of(user) == "other@example.org"


def test_what_is_no_address_and_what_is_the_same_is_refused(as_user, user, client):
    for wrong in ("", "wren", OLD.upper()):
        assert as_user.post(PAGE, {"email": wrong}).status_code == 422
    assert not EmailChange.objects.exists()
    assert client.get(reverse("people:email_link", args=["x"])).status_code == 404


def test_whom_staff_gave_another_address_they_had_in_hand(user, staff):
    other = User.objects.create_user(
        "perrin@example.com", PASSWORD, name="P", role=Role.STAFF, whole_fleet=True, joined=BEFORE
    )
    change = new_email.ask(other, NEW, "", staff)
    new_email.answer(change, new_email.NEW)
    new_email.answer(change, new_email.OLD)
    assert staff.name in second.why_not(User.objects.get(pk=other.pk), staff, timezone.now())


def test_who_had_an_address_before_is_still_its_mailbox(ask, user, client):
    """Leaving an address makes no second person of the one who takes it up."""
    links = ask()
    for link in links.values():
        client.post(link)
    other = User.objects.create_user(OLD, name="Other")
    assert "one mailbox" in second.Beside(other).no_other_than(User.objects.get(pk=user.pk))
    assert "one mailbox" in second.Beside(User.objects.get(pk=user.pk)).no_other_than(other)


def test_a_new_password_is_told_by_mail(as_user, user, django_capture_on_commit_callbacks):
    form = {"old_password": PASSWORD, "new_password": "dowitcher at low water"}
    with django_capture_on_commit_callbacks(execute=True):
        page = as_user.post(reverse("people:password"), form)
    assert page.status_code == 302, page.context["form"].errors
    (sent,) = mail.outbox
    assert sent.to == [user.email]
    assert "password of your account was changed" in sent.body
    assert "done by you, or by somebody who could sign in as you" in sent.body
