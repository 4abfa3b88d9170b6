"""Signing up with a group's code."""

import pytest
from django.urls import reverse

from tests.site import PASSWORD
from training.deck.codes import ALPHABET, new_code
from training.people.joining import EmailTaken, join
from training.people.models import Group, Membership, Role, User

pytestmark = pytest.mark.django_db

URL = "/account/sign-up/"


def typed(**changes):
    """Return what a person types who signs up for the group of the fixtures."""
    return {
        "name": "Avocet Reyes",
        "email": "avocet@example.com",
        "password": "three plain words",
        "code": "TERN42",
    } | changes


def test_a_good_sign_up_makes_a_member_who_is_signed_in(client, group):
    response = client.post(URL, typed())
    assert response.status_code == 302
    assert response["Location"] == reverse("home")
    person = User.objects.get()
    assert person.name == "Avocet Reyes"
    assert person.role == Role.TRAINEE
    assert not person.is_staff
    assert person.check_password("three plain words")
    assert person.memberships.get().group == group
    assert client.session["_auth_user_id"] == str(person.pk)


@pytest.mark.parametrize("code", ["tern42", " Tern 42 ", "t e r n 4 2", "TERN-42"])
def test_codes_do_not_care_about_capitals_spaces_and_dashes(client, group, code):
    assert client.post(URL, typed(code=code)).status_code == 302
    assert group.memberships.count() == 1


def test_the_code_can_stand_in_the_link(client, group):
    page = client.get(URL, {"code": "tern42"})
    assert page.context["form"]["code"].value() == "tern42"
    assert b'value="tern42"' in page.content


def test_an_unknown_code_says_so_beside_the_field_and_keeps_what_was_typed(client, group):
    page = client.post(URL, typed(code="GULL7"))
    assert page.status_code == 200
    assert list(page.context["form"].errors) == ["code"]
    html = page.content.decode()
    assert "No group has this code" in html.split('id="div_id_code"')[1]
    for value in ("Avocet Reyes", "avocet@example.com", "three plain words", "GULL7"):
        assert f'value="{value}"' in html
    assert not User.objects.exists()


def test_a_closed_group_takes_nobody(client, group):
    Group.objects.update(is_open=False)
    page = client.post(URL, typed())
    assert list(page.context["form"].errors) == ["code"]


def test_an_officers_code_makes_an_officer(client):
    Group.objects.create(name="Eastlight officers", code="PETREL9", role=Role.OFFICER)
    client.post(URL, typed(code="petrel9"))
    assert User.objects.get().role == Role.OFFICER


def test_nobody_picks_a_role_when_signing_up(client, group):
    client.post(URL, typed(role="staff", is_superuser="on", is_staff="on"))
    person = User.objects.get()
    assert person.role == Role.TRAINEE
    assert not person.is_superuser


def test_an_email_in_use_is_refused_whatever_its_capitals(client, user):
    page = client.post(URL, typed(email="WREN@Example.com"))
    assert list(page.context["form"].errors) == ["email"]
    assert "already" in page.content.decode().split('id="div_id_email"')[1]
    assert User.objects.count() == 1
    assert "_auth_user_id" not in client.session


def test_without_a_good_code_nobody_learns_which_emails_are_in_use(client, user):
    page = client.post(URL, typed(email=user.email, code="GULL7"))
    assert list(page.context["form"].errors) == ["code"]


def test_the_same_form_sent_twice_makes_one_account_and_signs_in(client, group):
    assert client.post(URL, typed()).status_code == 302
    client.logout()
    assert client.post(URL, typed()).status_code == 302
    assert User.objects.count() == Membership.objects.count() == 1
    assert "_auth_user_id" in client.session


def test_joining_with_a_taken_email_leaves_nothing_behind(user, group):
    with pytest.raises(EmailTaken):
        join("Other", user.email.upper(), PASSWORD, group)
    assert User.objects.count() == Membership.objects.count() == 1


@pytest.mark.parametrize("password", ["short", "password", "2718281828", "avocet@example"])
def test_weak_passwords_are_refused_beside_their_field(client, group, password):
    page = client.post(URL, typed(password=password))
    assert list(page.context["form"].errors) == ["password"]
    assert not User.objects.exists()


def test_a_person_who_is_signed_in_is_not_asked_to_sign_up(as_user):
    assert as_user.get(URL)["Location"] == reverse("home")


def test_new_codes_differ_and_read_well():
    codes = {new_code() for _ in range(50)}
    assert len(codes) == 50
    assert all(set(code) <= set(ALPHABET) and len(code) == 8 for code in codes)
    assert not set("O0I1") & set(ALPHABET)


def test_a_group_without_a_code_of_its_own_gets_one():
    first, second = (Group.objects.create(name=name) for name in ("Gannet Cove", "Eastlight"))
    assert first.code != second.code


def test_a_person_is_in_a_group_once(user, group):
    from django.db import IntegrityError

    with pytest.raises(IntegrityError):
        Membership.objects.create(group=group, user=user)
