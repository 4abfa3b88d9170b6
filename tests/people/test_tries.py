"""Who guesses is held off, by address, account and code; whoever shares a connection is not."""

import re
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from django.contrib.auth.hashers import MD5PasswordHasher
from django.contrib.auth.models import AnonymousUser
from django.core import mail
from django.core.cache import cache
from django.core.signals import request_finished
from django.db import close_old_connections, connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from tests.site import PASSWORD
from training.certification.certificate_views import VERIFIED
from training.people import guessing, limits, views
from training.people.meetings.views import CALENDARS, HERE
from training.people.models import Group, Membership, Session, Tries, User

pytestmark = pytest.mark.django_db

SIGN_IN, SIGN_UP, JOIN = "/account/sign-in/", "/account/sign-up/", "/account/join/"
SIGN_OUT = "/account/sign-out/"
ELSEWHERE = {"REMOTE_ADDR": "192.0.2.7"}


@pytest.fixture(autouse=True)
def nothing_in_memory():
    """What one process has in mind is not what another has."""
    cache.clear()


@pytest.fixture
def session(group):
    now = timezone.now()
    return Session.objects.create(
        group=group, title="Shed day", starts=now, ends=now + timedelta(hours=2)
    )


def form(number, code):
    """Return what the person of that ``number`` types who signs up."""
    name, email = f"Dunlin {number}", f"dunlin{number}@example.com"
    return {"name": name, "email": email, "password": PASSWORD, "code": code}


def by_sign_up(client, code, **extra):
    return client.post(SIGN_UP, form(User.objects.count(), code), **extra)


def by_join(client, code, **extra):
    return client.post(JOIN, {"code": code}, **extra)


def by_calendar(client, code, **extra):
    return client.get(reverse("people:group_calendar", args=[code]), **extra)


def by_here(client, code, **extra):
    return client.get(reverse("people:here"), {"code": code}, **extra)


def by_verify(client, code, **extra):
    return client.get(reverse("certificates:verify_code", args=[code]), **extra)


@pytest.mark.parametrize(
    ("ask", "codes"),
    [
        (by_sign_up, views.CODES),
        (by_calendar, CALENDARS),
        (by_here, HERE),
        (by_verify, VERIFIED),
    ],
)
def test_wrong_codes_from_one_address_are_held_off_in_all_processes(
    ask, codes, client, group, session, monkeypatch
):
    monkeypatch.setattr(codes.by_address, "most", 3)
    right = session.code if ask is by_here else group.code
    for place in range(3):
        cache.clear()
        assert ask(client, f"WRONG{place}").status_code in (200, 404)
    page = ask(client, right)
    assert page.status_code == 429
    assert page["Retry-After"] == str(codes.by_address.minutes * 60)
    assert ask(client, right, **ELSEWHERE).status_code != 429
    assert "127.0.0.1" not in str(list(Tries.objects.values()))


def test_right_codes_are_not_counted(client, group, session, monkeypatch):
    for codes, ask, code in ((CALENDARS, by_calendar, group.code), (HERE, by_here, session.code)):
        monkeypatch.setattr(codes.by_address, "most", 1)
        assert {ask(client, code).status_code for _ in range(3)} == {200}


def test_wrong_codes_of_one_account_are_held_off_wherever_it_is(as_user, group, monkeypatch):
    monkeypatch.setattr(views.CODES.by_account, "most", 3)
    for place in range(3):
        assert by_join(as_user, "WRONG", REMOTE_ADDR=f"192.0.2.{place}").status_code == 200
    other = Group.objects.create(name="Gannet Cove crews")
    assert by_join(as_user, other.code, **ELSEWHERE).status_code == 429
    assert not other.memberships.exists()


def test_a_code_that_went_around_the_world_takes_no_more(client, group, monkeypatch):
    monkeypatch.setattr(views.BY_CODE, "most", 2)
    for place in range(3):
        answer = by_sign_up(Client(), group.code, REMOTE_ADDR=f"192.0.2.{place}")
        assert answer.status_code == (429 if place == 2 else 302)
    assert group.memberships.count() == 2


def test_a_class_that_mistypes_goes_on_behind_one_address(rf, user):
    """Sixty people with three slips each, by custom of the house; each signed in or not."""
    request = rf.get("/")
    request.user = user
    for _ in range(29):
        views.CODES.was_wrong(request)
    assert views.CODES.used_up(request) is None
    views.CODES.was_wrong(request)
    assert views.CODES.used_up(request) is views.CODES.by_account
    assert views.CODES.by_address.most > 60 * 3 > views.CODES.by_account.most
    assert guessing.ADDRESS.most > 60 * 3


def test_counts_end_with_their_time(client, group, monkeypatch):
    monkeypatch.setattr(CALENDARS.by_address, "most", 1)
    by_calendar(client, "WRONG")
    assert by_calendar(client, group.code).status_code == 429
    Tries.objects.update(ends=timezone.now())
    assert by_calendar(client, group.code).status_code == 200
    by_calendar(client, "WRONG")
    assert by_calendar(client, group.code).status_code == 429


def test_old_counts_are_cleared_away():
    old = timezone.now() - timedelta(days=2)
    Tries.objects.create(whom="x", what="old", count=9, ends=old)
    assert not limits.Limit("test", most=1, minutes=1).is_passed("somebody")
    assert [each.what for each in Tries.objects.all()] == ["test"]


@pytest.mark.django_db(transaction=True)
def test_tries_at_once_are_all_counted():
    limit = limits.Limit("test", most=23, minutes=10)

    def five(_):
        try:
            return [limit.is_passed("somebody") for _ in range(5)]
        finally:
            connection.close()

    with ThreadPoolExecutor(6) as pool:
        passed = sum(pool.map(five, range(6)), [])
    assert Tries.objects.get().count == 30
    assert sum(passed) >= 7  # whoever reads late may see later tries too


def test_a_closed_groups_calendar_is_closed(client, as_user, as_staff, group, session):
    one = reverse("people:session_calendar", args=[session.uid])
    assert {by_calendar(client, group.code).status_code, client.get(one).status_code} == {200}
    Group.objects.update(is_open=False)
    assert by_calendar(client, group.code).content == by_calendar(client, "NOSUCH").content
    assert client.get(one).status_code == 404
    for its_own in (as_user, as_staff):
        assert its_own.get(one).status_code == by_calendar(its_own, group.code).status_code == 200
    Membership.objects.all().delete()
    assert as_user.get(one).status_code == by_calendar(as_user, group.code).status_code == 404


def guess(client, email, **extra):
    return client.post(SIGN_IN, {"username": email, "password": "a guess"}, **extra)


def sign_in(client, user, **extra):
    return client.post(SIGN_IN, {"username": user.email, "password": PASSWORD}, **extra)


def guess_from_everywhere(email):
    for place in range(guessing.ACCOUNT.most):
        guess(Client(), email, REMOTE_ADDR=f"198.51.100.{place}")


def set_password(client, user):
    client.post(reverse("people:reset"), {"email": user.email})
    path = re.search(r"http://testserver(/\S+)", mail.outbox[-1].body)[1]
    here = client.get(path, follow=True).redirect_chain[-1][0]
    client.post(here, {"new_password": PASSWORD})


def test_who_is_held_off_for_slips_signs_in_by_a_new_password(client, user, settings):
    for _ in range(settings.AXES_FAILURE_LIMIT):
        guess(client, user.email)
    assert sign_in(client, user).status_code == 429
    set_password(client, user)
    assert sign_in(client, user).status_code == 302


def test_guessing_from_everywhere_is_stopped_and_shuts_nobody_out(user, monkeypatch):
    monkeypatch.setattr(guessing.ACCOUNT, "most", 12)
    known = Client()
    sign_in(known, user)
    known.post(SIGN_OUT)
    guess_from_everywhere(user.email)

    stranger = Client()
    page = sign_in(stranger, user, **ELSEWHERE)
    assert page.status_code == 429
    assert "Set a new password by email" in page.content.decode()
    # A mark of another account, and one that the site did not sign, open nothing.
    other = User.objects.create_user("knot@example.com", PASSWORD, name="Knot")
    sign_in(stranger, other, **ELSEWHERE)
    stranger.post(SIGN_OUT)
    assert sign_in(stranger, user, **ELSEWHERE).status_code == 429
    assert sign_in(known, user).status_code == 302

    set_password(stranger, user)
    assert sign_in(stranger, user, **ELSEWHERE).status_code == 302


def test_an_account_that_is_not_there_is_held_off_like_one_that_is(user, monkeypatch):
    monkeypatch.setattr(guessing.ACCOUNT, "most", 3)
    pages = []
    for email in (user.email, "nobody@example.com"):
        guess_from_everywhere(email)
        pages.append(guess(Client(), email, **ELSEWHERE))
    assert [page.status_code for page in pages] == [429, 429]
    assert pages[0].content == pages[1].content


def test_one_address_that_tries_many_accounts_is_stopped(user, officer, monkeypatch):
    monkeypatch.setattr(guessing.ADDRESS, "most", 5)
    known = Client()
    sign_in(known, officer)
    known.post(SIGN_OUT)
    for place in range(5):
        guess(Client(), f"somebody{place}@example.com")
    assert sign_in(Client(), user).status_code == 429
    assert sign_in(known, officer).status_code == 302
    assert sign_in(Client(), user, **ELSEWHERE).status_code == 302


def test_one_address_cannot_use_up_an_account_for_all_others(client, user, settings, monkeypatch):
    monkeypatch.setattr(guessing.ACCOUNT, "most", settings.AXES_FAILURE_LIMIT + 1)
    for _ in range(3 * settings.AXES_FAILURE_LIMIT):
        guess(client, user.email)
    assert sign_in(Client(), user, **ELSEWHERE).status_code == 302


def ask(email, **extra):
    return Client().post(reverse("people:reset"), {"email": email}, **extra)


def test_a_mailbox_is_not_filled_and_the_answer_stays_the_same(user):
    for place in range(views.RESETS_BY_ACCOUNT.most + 3):
        answer = ask(user.email.upper(), REMOTE_ADDR=f"192.0.2.{place}")
        assert answer["Location"] == reverse("people:reset_sent")
    assert len(mail.outbox) == views.RESETS_BY_ACCOUNT.most


def test_who_asks_for_many_links_waits_whoever_they_are_for(user, monkeypatch):
    monkeypatch.setattr(views.RESETS_BY_ADDRESS, "most", 2)
    answers = [ask(f"nobody{place}@example.com").status_code for place in range(3)]
    assert answers == [302, 302, 429]
    assert ask(user.email).status_code == 429
    assert ask(user.email, **ELSEWHERE).status_code == 302


def test_the_answers_that_name_an_account_are_few(client, group, user, monkeypatch):
    monkeypatch.setattr(views.TAKEN, "most", 2)
    taken = form(0, group.code) | {"email": user.email, "password": "another guess"}
    answers = [client.post(SIGN_UP, taken).status_code for _ in range(3)]
    assert answers == [200, 200, 429]


@pytest.fixture
def kept_open():
    """The database stays open for the test when an answer is closed."""
    request_finished.disconnect(close_old_connections)
    yield
    request_finished.connect(close_old_connections)


def test_a_link_goes_out_when_the_browser_has_its_answer(rf, user, kept_open):
    """What is done before it is alike for an account that is there and one that is not."""
    done = []
    for email in ("nobody@example.com", user.email):
        Tries.objects.all().delete()
        request = rf.post(reverse("people:reset"), {"email": email})
        request.user, request._dont_enforce_csrf_checks = AnonymousUser(), True
        with CaptureQueriesContext(connection) as queries:
            answer = views.AskReset.as_view()(request)
        done.append([re.sub(r"'[^']*'|\d+", "?", each["sql"]) for each in queries])
        assert mail.outbox == []
        answer.close()
    assert done[0] == done[1]
    assert [message.to for message in mail.outbox] == [[user.email]]
    answer.close()
    assert len(mail.outbox) == 1


def test_links_lead_to_the_sites_own_address(user, settings):
    settings.SITE_ADDRESS = "https://training.example"
    settings.ALLOWED_HOSTS = ["*"]
    ask(user.email, headers={"host": "stranger.example"})
    assert "://training.example/account/reset/" in mail.outbox[0].body
    assert "stranger.example" not in mail.outbox[0].body


@pytest.fixture
def hashed(monkeypatch):
    """The passwords that were hashed so far: the work that takes time."""
    done = []
    encode = MD5PasswordHasher.encode

    def counted(self, password, salt):
        done.append(password)
        return encode(self, password, salt)

    monkeypatch.setattr(MD5PasswordHasher, "encode", counted)
    return done


def test_signing_in_takes_the_same_work_whatever_stands_behind_the_email(user, hashed):
    User.objects.create_user("closed@example.com", PASSWORD, name="Closed", is_active=False)
    User.objects.create_user("invited@example.com", None, name="Invited")
    pages = set()
    for email in (user.email, "nobody@example.com", "closed@example.com", "invited@example.com"):
        hashed.clear()
        page = guess(Client(), email)
        assert len(hashed) == 1
        pages.add(page.content.decode().replace(email, "EMAIL"))
    assert len({re.sub(r'value="[A-Za-z0-9]{64}"', "", page) for page in pages}) == 1


def test_signing_up_takes_the_same_work_with_an_email_that_is_taken(client, group, user, hashed):
    taken = form(0, group.code) | {"email": user.email, "password": "another guess"}
    works = []
    for entries in (taken, form(1, group.code)):
        hashed.clear()
        client.post(SIGN_UP, entries)
        works.append(len(hashed))
    assert works[0] == works[1]


@pytest.mark.parametrize(
    ("name", "entries"),
    [
        ("people:password", {"old_password": "a guess", "new_password": "phalarope in the rain"}),
        ("privacy:erase", {"password": "a guess", "sure": "on"}),
    ],
)
def test_whoever_guesses_while_signed_in_is_held_off(as_user, user, settings, name, entries):
    field = "password" if "password" in entries else "old_password"
    for _ in range(settings.AXES_FAILURE_LIMIT):
        page = as_user.post(reverse(name), entries)
    assert page.status_code == 429
    assert as_user.post(reverse(name), entries | {field: PASSWORD}).status_code == 429
    user.refresh_from_db()
    assert user.check_password(PASSWORD)
