"""How long people stay signed in, and what ends it before."""

from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session as StoredSession
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.site import PASSWORD
from training.people.models import Role, User

pytestmark = pytest.mark.django_db

DAY = 24 * 60 * 60


def signed_in(user):
    client = Client()
    client.force_login(user)
    return client


def left(client):
    """Return how many seconds the session of ``client`` has left, as the database has it."""
    stored = StoredSession.objects.get(session_key=client.session.session_key)
    return (stored.expire_date - timezone.now()).total_seconds()


def wait(client, seconds):
    """Have ``seconds`` pass for the session of ``client`` without a request."""
    stored = StoredSession.objects.get(session_key=client.session.session_key)
    told = stored.get_decoded()
    told = {
        name: value - seconds if name in {"signed_in", "rolled", "proved"} else value
        for name, value in told.items()
    }
    StoredSession.objects.filter(pk=stored.pk).update(
        session_data=StoredSession.objects.encode(told),
        expire_date=stored.expire_date - timedelta(seconds=seconds),
    )


def stays(client):
    return client.get(reverse("people:account")).status_code == 200


@pytest.mark.parametrize(
    ("role", "most"), [("trainee", 180 * DAY), ("officer", 30 * DAY), ("staff", 60 * 60)]
)
def test_it_lasts_by_role_and_begins_anew_with_use(role, most):
    client = signed_in(User.objects.create_user("a@example.com", PASSWORD, role=role))
    assert most - 60 < left(client) <= most
    wait(client, most * 0.9)
    assert stays(client)
    assert most - 60 < left(client) <= most
    wait(client, most + 1)
    assert not stays(client)


def test_the_cookie_lasts_as_long_as_the_session(client, user):
    answer = client.post(reverse("people:sign_in"), {"username": user.email, "password": PASSWORD})
    assert answer.cookies["sessionid"]["max-age"] == 180 * DAY


def test_staff_sign_in_each_day_however_busy_they_are(staff):
    client = signed_in(staff)
    for _ in range(13):
        assert stays(client)
        wait(client, 54 * 60)
        assert left(client) > 0
    assert stays(client)
    assert left(client) <= 12 * 60 * 60 - 13 * 54 * 60
    wait(client, 20 * 60)
    assert not stays(client)


def test_a_session_in_use_is_not_written_each_time(user):
    client = signed_in(user)
    (stored,) = StoredSession.objects.all()
    assert stays(client)
    assert stays(client)
    assert StoredSession.objects.get().expire_date == stored.expire_date


@pytest.mark.parametrize(
    "change",
    [
        {"password": "other"},
        {"email": "other@example.com"},
        {"role": Role.OFFICER},
        {"is_superuser": True},
        {"is_active": False},
    ],
    ids=lambda change: next(iter(change)),
)
def test_what_changes_in_an_account_ends_all_its_sign_ins(user, change):
    clients = signed_in(user), signed_in(user)
    # However it is written: past the forms and past ``save`` too.
    User.objects.filter(pk=user.pk).update(**change)
    assert [stays(client) for client in clients] == [False, False]


def test_a_name_or_phone_changes_nothing_about_it(user):
    client = signed_in(user)
    User.objects.filter(pk=user.pk).update(name="Other", phone="555 0100", last_login=None)
    assert stays(client)


def test_a_new_password_keeps_this_device_and_ends_the_others(user):
    here, there = signed_in(user), signed_in(user)
    form = {"old_password": PASSWORD, "new_password": "phalarope in the rain"}
    here.post(reverse("people:password"), form)
    assert [stays(here), stays(there)] == [True, False]


def test_one_signs_out_everywhere_else_and_nobody_elses_devices(user, officer):
    here, there, other = signed_in(user), signed_in(user), signed_in(officer)
    assert here.get(reverse("people:sign_out_elsewhere")).status_code == 405
    assert stays(there)
    page = here.post(reverse("people:sign_out_elsewhere"), follow=True)
    assert "signed out on all other devices" in page.content.decode()
    assert [stays(each) for each in (here, there, other)] == [True, False, True]


def test_a_page_without_a_session_makes_none(client):
    answer = client.get("/")
    assert "sessionid" not in answer.cookies
    assert not StoredSession.objects.exists()


def test_who_was_signed_out_before_sending_reads_that_it_was_not_saved(client, as_user):
    said = "You were signed out before you sent this"
    page = reverse("people:account")
    assert said not in client.get(page, follow=True).content.decode()
    assert said in client.post(page, {"name": "Wren"}, follow=True).content.decode()
    # Scripts have words of their own, and who is signed in has nothing to hear.
    client.post(page, {"name": "Wren"}, headers={"Accept": "application/json"})
    assert said not in client.get(reverse("people:sign_in")).content.decode()
    assert said not in as_user.post(page, {"name": "Wren"}, follow=True).content.decode()
