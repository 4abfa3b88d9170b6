"""Accounts on the site: invited, changed, closed, held to harbors, and by whom."""

import re
import smtplib
import uuid
from datetime import timedelta

import pytest
from django.contrib.admin.models import LogEntry
from django.core import mail, signing
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from tests.site import PASSWORD
from training.accounts import tokens
from training.letters.models import LetterTo
from training.people import wanting
from training.people.models import Group, Membership, Reach, Role, User
from training.register import harbors

pytestmark = pytest.mark.django_db

INVITE, LIST = reverse("accounts:invite"), reverse("accounts:accounts")


def entries(**changes):
    return {
        "key": str(uuid.uuid4()),
        "name": "Tamsin Rudd",
        "email": "Tamsin@example.com",
        "role": "officer",
        **changes,
    }


def kept(person, **changes):
    """Return the entries of the form on the account of ``person`` as it is, with ``changes``."""
    told = {"name": person.name, "email": person.email, "role": person.role, "is_active": "on"}
    return {name: value for name, value in (told | changes).items() if value is not None}


def page_of(person):
    return reverse("accounts:account", args=[person.pk])


def link():
    """Return the path of the link in the last mail."""
    return re.search(r"http://[^/\s]+(/accounts/welcome/\S+)", mail.outbox[-1].body)[1]


def test_an_officer_is_invited_once_and_signs_in_by_the_link(as_staff, client):
    form = entries()
    first, second = as_staff.post(INVITE, form), as_staff.post(INVITE, form)
    person = User.objects.get(email="tamsin@example.com")
    assert first["Location"] == second["Location"] == page_of(person)
    assert (person.role, person.has_usable_password()) == (Role.OFFICER, False)
    (sent,) = mail.outbox
    assert sent.to == [person.email]
    assert "as officer" in sent.body
    # The link opens the account: it is kept nowhere.
    assert "{link}" in LetterTo.objects.get().text
    assert "welcome" not in LetterTo.objects.get().text
    asked = client.get(link(), follow=True)
    assert "choose a password" in asked.content.decode()
    done = client.post(asked.redirect_chain[-1][0], {"new_password": "dunlin over gravel"})
    assert done["Location"] == reverse("home")
    assert client.get(reverse("people:account")).context["user"] == person
    assert "no longer works" in Client().get(link(), follow=True).content.decode()


def test_the_first_password_is_told_by_mail(as_staff, client, django_capture_on_commit_callbacks):
    """As it was found: who read the invitation before its person came in unseen."""
    as_staff.post(INVITE, entries())
    asked = client.get(link(), follow=True).redirect_chain[-1][0]
    with django_capture_on_commit_callbacks(execute=True):
        client.post(asked, {"new_password": "short"})
    assert len(mail.outbox) == 1
    with django_capture_on_commit_callbacks(execute=True):
        client.post(asked, {"new_password": "dunlin over gravel"})
    __, told = mail.outbox
    assert told.to == ["tamsin@example.com"]
    assert "A first password was chosen for your account" in told.body
    assert "Was it you? Then there is nothing to do." in told.body
    assert "sign in as you" not in told.body


def test_the_link_ends_with_its_days_another_address_or_a_closed_account(user, monkeypatch):
    user.set_unusable_password()
    user.save()
    token = tokens.tokens.make_token(user)
    assert tokens.tokens.check_token(user, token)
    assert not tokens.tokens.check_token(user, token + "x")
    assert not tokens.tokens.check_token(user, None)
    later = timezone.now().timestamp() + timedelta(days=tokens.DAYS, minutes=1).total_seconds()
    with monkeypatch.context() as at:
        at.setattr(signing.time, "time", lambda: later)
        assert not tokens.tokens.check_token(user, token)
    user.email = "other@example.com"
    assert not tokens.tokens.check_token(user, token)


def test_who_wants_no_mail_is_invited_all_the_same_and_again(as_staff, user):
    user.set_unusable_password()
    user.wants_mail = False
    user.save()
    again, key = reverse("accounts:invite_again", args=[user.pk]), str(uuid.uuid4())
    for _ in range(2):
        as_staff.post(again, {"key": key})
    assert len(mail.outbox) == 1
    as_staff.post(again, {"key": str(uuid.uuid4())})
    assert len(mail.outbox) == 2
    user.set_password(PASSWORD)
    user.save()
    as_staff.post(again, {"key": str(uuid.uuid4())})
    assert len(mail.outbox) == 2


def test_a_mail_that_fails_leaves_the_account_and_says_so(as_staff, monkeypatch):
    def down(*args):
        raise smtplib.SMTPServerDisconnected("gone")

    monkeypatch.setattr(wanting, "send_of_account", down)
    page = as_staff.post(INVITE, entries(), follow=True).content.decode()
    assert "could not be sent" in page
    monkeypatch.undo()
    person = User.objects.get(email="tamsin@example.com")
    as_staff.post(reverse("accounts:invite_again", args=[person.pk]), {"key": str(uuid.uuid4())})
    assert len(mail.outbox) == 1


def test_an_address_that_is_taken_is_said(as_staff, user):
    page = as_staff.post(INVITE, entries(email=user.email.upper()))
    assert "already" in str(page.context["form"].errors["email"])
    assert not mail.outbox


def test_staff_are_made_held_to_harbors_and_let_go(as_staff, officer, agree):
    harbors.add("Eastlight")
    as_staff.post(page_of(officer), kept(officer, role="staff", harbors=["Eastlight"]))
    agree()
    officer = User.objects.get(pk=officer.pk)
    assert (officer.is_staff, officer.sees_whole_fleet) == (True, False)
    for doubtful in ({}, {"whole_fleet": "on", "harbors": ["Eastlight"]}):
        page = as_staff.post(page_of(officer), kept(officer, **doubtful))
        assert "Check the whole fleet, or" in str(page.context["form"].errors["harbors"])
    as_staff.post(page_of(officer), kept(officer, whole_fleet="on"))
    agree()
    assert User.objects.get(pk=officer.pk).sees_whole_fleet
    assert not officer.reaches.exists()
    page = as_staff.post(page_of(officer), kept(officer, role="officer", whole_fleet="on"))
    assert "This is for staff" in str(page.context["form"].errors["whole_fleet"])
    page = as_staff.post(page_of(officer), kept(officer, role="officer", harbors=["Eastlight"]))
    assert "Harbors are for staff" in str(page.context["form"].errors["harbors"])
    as_staff.post(page_of(officer), kept(officer, role="officer"))
    assert User.objects.get(pk=officer.pk).is_staff
    agree()
    officer = User.objects.get(pk=officer.pk)
    assert (officer.is_staff, officer.whole_fleet) == (False, False)
    assert [each.change_message.partition(":")[0] for each in LogEntry.objects.all()] == [
        "role",
        "whole fleet",
        "role",
    ]
    page = as_staff.get(page_of(officer)).content.decode()
    assert "whole fleet: no → yes; harbors: Eastlight → none (agreed by Perrin Holt)" in page


def test_a_closed_account_is_signed_out_and_can_be_opened_again(as_staff, as_user, user):
    as_staff.post(page_of(user), kept(user, is_active=None))
    assert as_user.get(reverse("people:account")).status_code == 302
    assert user.name in as_staff.get(LIST, {"state": "closed"}).content.decode()
    as_staff.post(page_of(user), kept(user))
    assert as_user.get(reverse("people:account")).status_code == 200


def test_another_address_waits_for_both_to_answer(
    as_staff, user, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        as_staff.post(page_of(user), kept(user, email="new@example.com"))
    assert [each.to for each in mail.outbox] == [["new@example.com"], ["wren@example.com"]]
    assert "Robin Ashby, of the staff, asked" in mail.outbox[1].body
    assert User.objects.get(pk=user.pk).email == "wren@example.com"
    log = as_staff.get(page_of(user)).content.decode()
    assert "asked for the email new@example.com" in log


def test_a_slip_in_an_invitation_is_mended_at_once(as_staff, django_capture_on_commit_callbacks):
    as_staff.post(INVITE, entries(email="tamsn@example.com"))
    person = User.objects.get(email="tamsn@example.com")
    with django_capture_on_commit_callbacks(execute=True):
        as_staff.post(page_of(person), kept(person, email="Tamsin@example.com"))
    assert User.objects.get(pk=person.pk).email == "tamsin@example.com"
    assert "was changed to tamsin@example.com" in mail.outbox[-1].body
    assert [each.what for each in person.deeds.all()] == ["made", "email"]


def test_nobody_shuts_themselves_out_or_makes_themselves_more(as_staff, staff):
    assert as_staff.post(page_of(staff), kept(staff, is_active=None)).status_code == 403
    assert "your own account" in as_staff.get(page_of(staff)).content.decode()
    chief = User.objects.create_superuser("chief@example.com", PASSWORD, name="Chief")
    assert as_staff.post(page_of(chief), kept(chief, email="mine@example.com")).status_code == 403


def test_staff_of_a_harbor_keep_to_it(as_staff, staff, user, group, officer):
    Reach.objects.create(user=staff, harbor=group.harbor)
    far = Group.objects.create(name="Eastlight crews", harbor="Eastlight")
    mate = User.objects.create_user("mate@example.com", name="Mate", role=Role.STAFF)
    Membership.objects.create(group=group, user=mate)
    listed = as_staff.get(LIST).content.decode()
    assert user.email in listed
    assert officer.email not in listed
    assert as_staff.get(page_of(officer)).status_code == 404
    assert as_staff.post(page_of(mate), kept(mate, email="mine@example.com")).status_code == 403
    for wrong in ({"group": far.pk}, {"group": ""}):
        form = entries(**({"group": group.pk} | wrong))
        assert as_staff.post(INVITE, form).status_code == 422
    assert not mail.outbox
    more = {"role": "staff", "harbors": ["Eastlight"], "whole_fleet": "on"}
    form = entries(group=group.pk, **more)
    for _ in range(2):
        as_staff.post(INVITE, form)
    assert not User.objects.filter(email="tamsin@example.com").exists()
    (sent,) = mail.outbox
    way_in = re.search(r"http://[^/\s]+(/account/sign-up/\S+)", sent.body)[1]
    page = Client().get(way_in).context["form"]
    assert page.initial["code"] == group.code
    as_staff.post(page_of(user), kept(user, role="staff"))
    assert User.objects.get(pk=user.pk).role == Role.TRAINEE


def test_staff_of_a_harbor_are_not_told_which_emails_have_an_account(
    as_staff, staff, user, group, officer
):
    """As it was found: they learned it by inviting, and by giving somebody another email."""
    Reach.objects.create(user=staff, harbor=group.harbor)
    as_staff.get(LIST)
    answers = []
    for email in ("nobody@example.com", officer.email.upper()):
        counted = CaptureQueriesContext(connection)
        with counted:
            answer = as_staff.post(INVITE, entries(email=email, group=group.pk))
        page = as_staff.get(LIST).content.decode()
        assert f"is on its way to {email}" in page
        bare = re.sub(r"csrf\S+ value=\S+", "", page.replace(email, ""))
        answers.append((answer.status_code, answer["Location"], len(counted), bare))
    assert answers[0] == answers[1]
    told = [each.body for each in mail.outbox]
    assert told[0] == told[1]
    assert [each.to for each in mail.outbox] == [["nobody@example.com"], [officer.email.upper()]]
    # Who has an account joins by the same mail, and belongs to the harbor from then on.
    join = re.search(r"http://[^/\s]+(/account/join/\S+)", told[1])[1]
    as_him = Client()
    as_him.force_login(officer)
    as_him.post(join.partition("?")[0], {"code": group.code})
    assert officer.email in as_staff.get(LIST).content.decode()
    for email in ("free@example.com", staff.email):
        answer = as_staff.post(page_of(user), kept(user, email=email))
        assert (answer.status_code, answer["Location"]) == (302, page_of(user))
        assert User.objects.get(pk=user.pk).email == user.email


@pytest.mark.parametrize("state", ["open", "invited", "closed", ""])
def test_the_list_is_narrowed_by_what_a_plain_count_finds(as_staff, user, officer, state):
    User.objects.create_user("a@example.com", name="A")
    User.objects.create_user("b@example.com", name="B", is_active=False)
    fits = {
        "open": lambda each: each.is_active and each.has_usable_password(),
        "invited": lambda each: each.is_active and not each.has_usable_password(),
        "closed": lambda each: not each.is_active,
        "": lambda each: True,
    }[state]
    page = as_staff.get(LIST, {"state": state})
    assert page.context["page"].paginator.count == sum(map(fits, User.objects.all())) > 0


def test_accounts_are_for_staff(as_user, as_officer, user):
    for client in (as_user, as_officer):
        for url in (LIST, INVITE, page_of(user)):
            assert client.get(url).status_code == 403
