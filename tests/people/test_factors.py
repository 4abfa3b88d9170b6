"""The code from a phone: set up, asked for at signing in and when it matters; spare codes."""

import io
import json
import re
import time
import uuid
import zipfile
from datetime import timedelta

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse
from django_otp.plugins.otp_static.models import StaticDevice, StaticToken
from django_otp.plugins.otp_totp.models import TOTPDevice

from tests.moments import BEFORE
from tests.people.codes import code_of, give_phone
from tests.people.doors import views
from tests.site import PASSWORD
from training.people import factors
from training.people.factors import devices, proof
from training.people.models import User

pytestmark = pytest.mark.django_db

SIGN_IN = reverse("people:sign_in")
CODE = reverse("people:sign_in_code")
SET_UP = reverse("people:phone_set_up")
PROVE = reverse("people:prove")


def is_in(client):
    return "_auth_user_id" in client.session


def give_password(client, user, **more):
    return client.post(SIGN_IN, {"username": user.email, "password": PASSWORD} | more)


def grow_stale(client):
    """Have the person of ``client`` have shown who they are a long time ago."""
    session = client.session
    session["proved"] = time.time() - proof.FRESH.total_seconds() - 1
    session.save()


def test_a_phone_makes_the_codes_of_the_standard():
    # RFC 6238, appendix B, SHA-1, the last 6 of its 8 digits; from memory.
    key = b"12345678901234567890".hex()
    moments = {59: "287082", 1111111109: "081804", 1234567890: "005924", 20000000000: "353130"}
    assert {moment: code_of(key, moment) for moment in moments} == moments


class TestSigningIn:
    def test_the_password_alone_signs_nobody_in_who_has_a_phone(self, client, staff):
        key, _ = give_phone(staff)
        asked = give_password(client, staff, next="/letters/")
        assert asked["Location"] == CODE
        assert not is_in(client)
        assert client.get("/letters/")["Location"].startswith(SIGN_IN)
        answer = client.post(CODE, {"proof": code_of(key)})
        assert answer["Location"] == "/letters/"
        assert is_in(client)

    def test_a_wrong_code_signs_nobody_in(self, client, staff):
        key, _ = give_phone(staff)
        give_password(client, staff)
        wrong = f"{(int(code_of(key)) + 500_000) % 1_000_000:06}"
        assert client.post(CODE, {"proof": wrong}).status_code == 422
        assert not is_in(client)

    def test_a_code_signs_in_once(self, staff):
        key, _ = give_phone(staff)
        code = code_of(key)
        came = []
        for _ in range(2):
            client = Client()
            give_password(client, staff)
            client.post(CODE, {"proof": code})
            came.append(is_in(client))
        assert came == [True, False]

    def test_without_the_password_no_code_is_looked_at(self, client, staff):
        key, _ = give_phone(staff)
        assert client.post(CODE, {"proof": code_of(key)})["Location"] == SIGN_IN
        assert not is_in(client)

    @pytest.mark.parametrize("change", ["password", "closed", "late", "another phone"])
    def test_what_changes_after_the_password_makes_it_void(self, client, staff, change):
        key, _ = give_phone(staff)
        give_password(client, staff)
        if change == "password":
            staff.set_password("another one by now")
            staff.save()
        elif change == "closed":
            User.objects.filter(pk=staff.pk).update(is_active=False)
        elif change == "late":
            session = client.session
            session["half_signed_in"] |= {"when": time.time() - 601}
            session.save()
        else:
            key, _ = give_phone(staff)
        assert client.post(CODE, {"proof": code_of(key)})["Location"] == SIGN_IN
        assert not is_in(client)

    def test_signing_up_again_with_the_right_password_is_no_way_round(self, client, staff, group):
        give_phone(staff)
        form = {"name": "R", "email": staff.email, "code": group.code, "password": PASSWORD}
        assert client.post(reverse("people:sign_up"), form)["Location"] == CODE
        assert not is_in(client)

    def test_the_admin_has_no_door_of_its_own(self, client, staff):
        give_phone(staff)
        login = reverse("admin:login")
        form = {"username": staff.email, "password": PASSWORD, "next": "/admin/"}
        assert client.post(login, form)["Location"].startswith(SIGN_IN)
        assert not is_in(client)

    def test_the_admin_refuses_who_may_not_and_leads_nobody_in_circles(self, as_user):
        assert as_user.get("/admin/", follow=True).status_code == 403

    def test_a_spare_code_works_once_however_it_is_typed(self, staff):
        _, spare = give_phone(staff)
        typed = f" {spare[3][:4].lower()}-{spare[3][4:8]} {spare[3][8:]}"
        came = []
        for _ in range(2):
            client = Client()
            give_password(client, staff)
            answer = client.post(CODE, {"proof": typed}, follow=True)
            came.append(is_in(client))
            if came == [True]:
                assert "You have 9 left" in answer.content.decode()
        assert came == [True, False]

    def test_guessing_codes_takes_ever_longer(self, client, staff):
        key, _ = give_phone(staff)
        give_password(client, staff)
        phone = TOTPDevice.objects.get()
        wrong = f"{(int(code_of(key)) + 500_000) % 1_000_000:06}"
        for count in range(1, 15):
            client.post(CODE, {"proof": wrong})
            phone.refresh_from_db()
            assert phone.throttling_failure_count == min(count, devices.LONGEST_WAIT)
            before = phone.throttling_failure_timestamp
            phone.throttling_failure_timestamp = before + timedelta(
                days=1
            )  # the last try is just now
            allowed, told = phone.verify_is_allowed()
            waits = (told["locked_until"] - phone.throttling_failure_timestamp).total_seconds()
            assert (allowed, waits) == (False, min(2 ** (count - 1), 1024))
            # Long after it, so that the next one is looked at.
            phone.throttling_failure_timestamp = before - timedelta(hours=1)
            phone.save()
        client.post(CODE, {"proof": wrong})
        assert client.post(CODE, {"proof": code_of(key)}).status_code == 422  # it has to wait too
        phone.save()
        client.post(CODE, {"proof": code_of(key)})
        assert is_in(client)

    def test_many_wrong_codes_are_told_to_their_owner_once(
        self, staff, django_capture_on_commit_callbacks
    ):
        give_phone(staff)
        with django_capture_on_commit_callbacks(execute=True):
            for _ in range(devices.MANY + 3):
                devices.check(staff, "abcdef")
                TOTPDevice.objects.update(throttling_failure_timestamp=BEFORE)
        (message,) = mail.outbox
        assert message.to == [staff.email]
        assert "know your password" in " ".join(message.body.split())


class TestSettingUp:
    def test_it_takes_the_code_and_shows_spare_codes_once(self, as_staff, staff):
        page = as_staff.get(SET_UP)
        key = as_staff.session["phone_key"]
        assert devices.typed_key(key) in page.content.decode()
        assert "no-store" in page["Cache-Control"]
        assert as_staff.get(SET_UP).context["typed_key"] == devices.typed_key(key)
        assert as_staff.post(SET_UP, {"code": "12"}).status_code == 422
        assert not factors.has(staff)
        done = as_staff.post(SET_UP, {"code": code_of(key)}).content.decode()
        assert factors.has(staff)
        codes = [code.replace("-", "") for code in re.findall(r"<li><code>([\w-]+)</code>", done)]
        assert len(set(codes)) == devices.SPARE
        assert devices.check(staff, codes[0]) is devices.Tried.RIGHT
        # Still signed in here, and the key is shown no more.
        assert as_staff.get(reverse("people:phone")).status_code == 200
        assert "phone_key" not in as_staff.session

    def test_the_spare_codes_are_kept_nowhere_in_plain(self, staff):
        _, spare = give_phone(staff)
        kept = set(StaticToken.objects.values_list("token", flat=True))
        assert len(kept) == len(spare)
        assert not kept & set(spare)

    def test_all_other_sign_ins_end(self, as_staff, staff):
        other = Client()
        other.force_login(staff)
        as_staff.get(SET_UP)
        as_staff.post(SET_UP, {"code": code_of(as_staff.session["phone_key"])})
        assert as_staff.get("/account/").status_code == 200
        assert other.get("/account/").status_code == 302

    def test_new_spare_codes_take_the_place_of_the_old(self, as_staff, staff):
        _, old = give_phone(staff)
        as_staff.force_login(User.objects.get(pk=staff.pk))
        as_staff.post(reverse("people:new_spare"))
        assert devices.check(staff, old[0]) is devices.Tried.WRONG
        assert StaticDevice.objects.count() == 1
        assert devices.spare_left(staff) == devices.SPARE

    def test_it_is_turned_off_where_it_may_be(self, as_staff, staff, settings):
        give_phone(staff)
        as_staff.force_login(User.objects.get(pk=staff.pk))
        settings.STAFF_FACTOR = True
        session = as_staff.session
        session["proved_by_code"] = True
        session.save()
        as_staff.post(reverse("people:phone_off"))
        assert factors.has(staff)
        settings.STAFF_FACTOR = False
        as_staff.post(reverse("people:phone_off"))
        assert not factors.has(staff)
        assert not StaticToken.objects.exists()
        assert as_staff.get("/account/").status_code == 200


class TestStaffMust:
    @pytest.fixture(autouse=True)
    def must(self, settings):
        settings.STAFF_FACTOR = True

    def test_staff_without_a_phone_come_to_nothing_but_setting_one_up(self, as_staff, staff):
        paths = ["/", "/letters/", "/admin/", reverse("people:phone_off"), "/lessons/"]
        assert {as_staff.get(path)["Location"] for path in paths} == {SET_UP}
        assert as_staff.post("/accounts/invite/")["Location"] == SET_UP
        assert as_staff.get(SET_UP).status_code == 200
        as_staff.post(SET_UP, {"code": code_of(as_staff.session["phone_key"])})
        assert as_staff.get("/letters/").status_code == 200

    def test_they_can_sign_out(self, as_staff):
        as_staff.post(reverse("people:sign_out"))
        assert not is_in(as_staff)

    def test_a_session_that_saw_no_code_is_asked_for_it(self, staff, client):
        key, _ = give_phone(staff)
        client.force_login(User.objects.get(pk=staff.pk))
        asked = client.get("/letters/?page=2")
        assert asked["Location"] == f"{PROVE}?next=%2Fletters%2F%3Fpage%3D2"
        answer = client.post(asked["Location"], {"proof": code_of(key)})
        assert answer["Location"] == "/letters/?page=2"
        assert client.get("/letters/").status_code == 200

    def test_others_need_none(self, as_user, as_officer, client):
        for each in (as_user, as_officer, client):
            assert each.get("/lessons/").status_code == 200


class TestWhenItMatters:
    """By making new spare codes, which stands for all views that matter."""

    URL = reverse("people:new_spare")

    def test_it_is_done_at_once_after_signing_in(self, as_staff, staff):
        give_phone(staff)
        as_staff.force_login(User.objects.get(pk=staff.pk))
        assert "spare codes" in as_staff.post(self.URL).content.decode()
        assert StaticToken.objects.exists()

    def test_later_it_asks_and_does_nothing_yet(self, as_staff, staff):
        key, spare = give_phone(staff)
        as_staff.force_login(User.objects.get(pk=staff.pk))
        grow_stale(as_staff)
        before = set(StaticToken.objects.values_list("token", flat=True))
        asked = as_staff.post(self.URL, {"why": ["<one>", "two"]})
        page = asked.content.decode()
        assert "Show that it is you" in page
        assert '<input type="hidden" name="why" value="&lt;one&gt;">' in page
        assert '<input type="hidden" name="why" value="two">' in page
        assert "no-store" in asked["Cache-Control"]
        assert set(StaticToken.objects.values_list("token", flat=True)) == before
        wrong = as_staff.post(self.URL, {"proof": PASSWORD})
        assert wrong.status_code == 422
        assert set(StaticToken.objects.values_list("token", flat=True)) == before
        as_staff.post(self.URL, {"why": "two", "proof": code_of(key)})
        assert not set(StaticToken.objects.values_list("token", flat=True)) & before

    def test_who_has_no_phone_is_asked_for_the_password(self, as_user, user):
        grow_stale(as_user)
        assert as_user.get(SET_UP)["Location"] == f"{PROVE}?next={SET_UP.replace('/', '%2F')}"
        asked = as_user.post(SET_UP, {"code": "1"})
        assert "Your password" in asked.content.decode()
        assert as_user.post(SET_UP, {"code": "1", "proof": "wrong"}).status_code == 422
        assert "phone_key" not in as_user.session
        page = as_user.post(SET_UP, {"code": "1", "proof": PASSWORD})
        assert "not the code of this picture" in page.content.decode()
        assert as_user.get(SET_UP).status_code == 200

    def test_guessing_passwords_there_is_counted(self, as_user, user, settings):
        grow_stale(as_user)
        for _ in range(settings.AXES_FAILURE_LIMIT):
            as_user.post(PROVE, {"proof": "a wrong guess"})
        assert as_user.post(PROVE, {"proof": PASSWORD}).status_code == 429
        assert is_in(as_user)

    def test_it_leads_nowhere_off_the_site(self, as_user):
        answer = as_user.post(f"{PROVE}?next=https://example.org/", {"proof": PASSWORD})
        assert answer["Location"] == reverse("home")


class TestWhoHasWhat:
    def test_a_take_out_says_that_there_is_a_phone_and_holds_no_secret(self, as_staff, staff):
        key, _ = give_phone(staff)
        as_staff.force_login(User.objects.get(pk=staff.pk))
        answer = as_staff.get(reverse("privacy:take_out"))
        with zipfile.ZipFile(
            io.BytesIO(b"".join(answer.streaming_content if answer.streaming else [answer.content]))
        ) as file:
            told = file.read("all.json").decode()
        assert len(json.loads(told)["TOTP devices"]) == 1
        assert key not in told
        assert not [each for each in StaticToken.objects.all() if each.token in told]

    def test_the_admin_shows_no_key(self, client, db):
        boss = User.objects.create_superuser("boss@example.com", PASSWORD, name="Boss")
        client.force_login(boss)
        assert client.get("/admin/otp_totp/totpdevice/").status_code == 404
        assert client.get("/admin/otp_static/staticdevice/").status_code == 404


MATTER = {
    "accounts:account",
    "accounts:decide_request",
    "accounts:invite",
    "accounts:invite_again",
    "certificates:decide_revocation",
    "certificates:revoke",
    "certification:correct",
    "certification:decide",
    "certification:decide_correction",
    "interchange:download",
    "people:ask_phone_reset",
    "people:email",
    "people:decide_phone_reset",
    "people:new_spare",
    "people:phone_off",
    "people:phone_set_up",
    "rulesets:act",
}
"""What is done only by somebody who just showed who they are."""


def test_what_matters_is_known_by_name():
    assert {name for name, view in views() if getattr(view, "matters", False)} >= MATTER


def test_nothing_that_matters_is_done_before_somebody_shows_who_they_are(as_staff):
    grow_stale(as_staff)
    before = User.objects.count()
    form = {"key": str(uuid.uuid4()), "name": "Ada", "email": "ada@example.com", "role": "trainee"}
    page = as_staff.post(reverse("accounts:invite"), form)
    assert "Show that it is you" in page.content.decode()
    assert User.objects.count() == before
    sent = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', page.content.decode()))
    assert form.items() <= sent.items()
    as_staff.post(reverse("accounts:invite"), sent | {"proof": PASSWORD})
    assert User.objects.filter(email="ada@example.com").count() == 1
    # And not again for a while.
    again = as_staff.post(reverse("accounts:invite"), form | {"key": str(uuid.uuid4())})
    assert again.status_code == 422


def test_each_change_in_the_admin_asks_and_looking_does_not(client, user):
    boss = User.objects.create_superuser("boss@example.com", PASSWORD, name="Boss")
    client.force_login(boss)
    grow_stale(client)
    page = reverse("admin:people_user_change", args=[user.pk])
    assert client.get(page).status_code == 200
    asked = client.post(page, {"name": "Changed"})
    assert "Show that it is you" in asked.content.decode()
    assert client.post(reverse("admin:logout")).status_code in (200, 302)
    assert not is_in(client)
