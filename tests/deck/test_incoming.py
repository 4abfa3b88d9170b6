"""What no page of the site asks for is refused in words, whatever address it comes to."""

import json
import uuid

import pytest
from django.conf import settings as site
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from tests.site import PASSWORD
from training.register.models import Vessel

pytestmark = pytest.mark.django_db

SIGN_IN = reverse("people:sign_in")


def refused(response, status=400):
    """Return what the page of a refusal says, its spaces even."""
    assert response.status_code == status
    return " ".join(response.content.decode().split())


@pytest.mark.parametrize(
    "address",
    [
        "/lessons/?q=a%00b",
        "/find/?text=%00",
        "/verify/A%00B/",
        "/account/group-calendars/%00.ics",
        "/%00",
        "/admin/people/user/?q=%00",
    ],
)
def test_an_address_with_a_nul_is_refused(admin_site, address):
    assert "could not read" in refused(admin_site.get(address))


@pytest.fixture
def admin_site(staff):
    staff.is_superuser = True
    staff.save()
    client = Client()
    client.force_login(staff)
    return client


def test_a_form_with_a_nul_is_refused_and_nothing_is_saved(as_staff):
    entries = {"name": "Dun\0lin", "new_harbor": "Eastlight", "length": "40 ft"}
    for more in ({}, {"key": str(uuid.uuid4())}):
        words = refused(as_staff.post(reverse("register:vessel_new"), entries | more))
        assert "Nothing was saved" in words
    assert not Vessel.objects.exists()


def test_a_session_with_a_nul_is_refused(client):
    client.cookies[site.SESSION_COOKIE_NAME] = "x"
    octal = client.get("/", HTTP_COOKIE=f'{site.SESSION_COOKIE_NAME}="aaaaaaaaaa\\000"')
    assert "could not read" in refused(octal)


def test_scripts_are_told_in_json(as_staff):
    response = as_staff.post("/find/?text=%00", HTTP_ACCEPT="application/json")
    assert response.status_code == 400
    assert "could not read" in json.loads(response.content)["problem"]


def test_a_body_larger_than_any_page_sends_is_refused_unread(client):
    class Unread:
        def read(self, *told):
            raise AssertionError("read all the same")

        readline = read

    told = {"CONTENT_LENGTH": str(site.MOST_SENT + 1), "CONTENT_TYPE": "text/plain"}
    response = client.generic("POST", SIGN_IN, **told, **{"wsgi.input": Unread()})
    assert "too large" in refused(response, 413)


def test_a_file_larger_than_any_page_takes_is_refused(as_staff, settings):
    settings.MOST_SENT = 50_000
    file = SimpleUploadedFile("r.csv", b"x" * 60_000)
    told = {"key": str(uuid.uuid4()), "file": file}
    assert "too large" in refused(as_staff.post(reverse("register:import_register"), told), 413)


def test_a_form_larger_than_any_page_sends_is_refused(client):
    told = {"username": "x" * (site.DATA_UPLOAD_MAX_MEMORY_SIZE + 1), "password": "x"}
    body = "&".join(f"{name}={text}" for name, text in told.items())
    kind = "application/x-www-form-urlencoded"
    assert "too large" in refused(client.post(SIGN_IN, body, content_type=kind), 413)
    many = "&".join(f"f{number}=" for number in range(site.DATA_UPLOAD_MAX_NUMBER_FIELDS + 1))
    assert "too large" in refused(client.post(SIGN_IN, many, content_type=kind), 413)


@pytest.mark.parametrize(
    "kind",
    [
        "multipart/form-data",
        "multipart/form-data; boundary=\xff",
        "multipart/form-data; boundary=a",
    ],
)
def test_a_form_in_no_form_is_refused(client, kind):
    refused_or_asked = client.post(
        SIGN_IN, b"--a\r\nContent-Disposition: x\r\n\r\n", content_type=kind
    )
    assert refused_or_asked.status_code in (200, 400)


def test_an_unknown_host_is_refused_in_words(client):
    assert "could not read" in refused(client.get("/", HTTP_HOST="elsewhere.example"))


def test_an_empty_form_says_what_is_missing(as_staff):
    response = as_staff.post(reverse("register:vessel_new"))
    assert response.status_code == 200
    assert "This field is required." in response.content.decode()
    assert not Vessel.objects.exists()


def test_an_email_that_nobody_can_have_is_refused_at_sign_in(client, staff):
    long = "a" * 300 + "@example.com"
    page = client.post(SIGN_IN, {"username": long, "password": PASSWORD})
    assert page.status_code == 200
    assert "errorlist" in page.content.decode() or "invalid-feedback" in page.content.decode()


@pytest.mark.parametrize(
    "code", ["\N{ARABIC-INDIC DIGIT THREE}", "\N{SUPERSCRIPT TWO}", "TERN/42", "..", "🎣"]
)
def test_a_code_of_other_letters_leads_nowhere(client, code):
    for view in ("checks:copy", "certificates:verify"):
        assert client.get(reverse(view), {"code": code}, follow=True).status_code in (200, 404)


@pytest.mark.parametrize("number", ["9" * 20, "9" * 5000, "-1", "\N{SUPERSCRIPT TWO}"])
def test_a_number_of_no_row_is_refused_where_rows_are_chosen(as_staff, number):
    for address, name in (
        ("register:stage_many", "vessels"),
        ("calibration:new_round", "officers"),
    ):
        page = as_staff.post(reverse(address), {name: number})
        assert page.status_code in (200, 422)
        assert "not on the list" in str(page.context["form"].errors[name])
    assert as_staff.get(reverse("letters:write"), {"person": number}).status_code == 404
