"""What a phone sends, and what it gets back."""

import json
import uuid
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from PIL import Image

from rigs.rules import rulebook
from tests.checks.conftest import content, make_check, typed_rig
from tests.site import PASSWORD
from training.checks.models import CheckPhoto, CheckRevision, CheckSheet
from training.people.models import Role, User

pytestmark = pytest.mark.django_db

SEND = reverse("checks:check_send")
DEVICE = str(uuid.UUID(int=3))


def envelope(officer, **changes):
    told = content() | {"day": "2026-11-24", "key": str(uuid.UUID(int=5)), "user": officer.pk}
    return told | {"device": DEVICE, "number": 1, "hands_in": False} | changes


def send(client, sent):
    return client.post(SEND, json.dumps(sent), content_type="application/json")


def picture(kind="JPEG", size=(60, 40), **options):
    data = BytesIO()
    Image.new("RGB", size, "teal").save(data, kind, **options)
    return SimpleUploadedFile("IMG_0001.jpg", data.getvalue(), "image/jpeg")


def with_place():
    """Return a photo whose camera wrote down where and on its side how it was taken."""
    exif = Image.Exif()
    exif[0x0112] = 6  # turned by a quarter
    exif[0x010F] = "Camera of somebody"
    exif.get_ifd(0x8825).update({1: "N", 2: (43.0, 15.0, 0.0), 3: "W", 4: (70.0, 20.0, 0.0)})
    photo = picture(exif=exif)
    assert Image.open(BytesIO(photo.read())).getexif().get_ifd(0x8825)
    photo.seek(0)
    return photo


def test_sent_twice_it_is_there_once(as_officer, officer):
    sent = envelope(officer, hands_in=True)
    first, second = (send(as_officer, sent).json() for _ in range(2))
    assert first == second
    assert first["finished"] is True
    assert (first["revision"], first["device"]) == (1, DEVICE)
    assert CheckSheet.objects.count() == CheckRevision.objects.count() == 1


def test_an_older_save_that_comes_late_gets_the_newer_back(as_officer, officer):
    send(as_officer, envelope(officer, number=3, notes="new"))
    held = send(as_officer, envelope(officer, number=2, notes="old")).json()
    assert held["content"]["notes"] == "new"
    assert CheckRevision.objects.count() == 2


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"vessel_name": ""}, "Vessel"),
        ({"day": "2999-01-01"}, "in the future"),
        ({"day": "1999-01-01"}, "have no version for January 1, 1999"),
        ({"rulebook_name": "whiting"}, "Which rules?"),
        ({"typed": "all"}, "answers did not arrive"),
        ({"photo_keys": ["x"]}, "list of photos"),
        ({"photo_keys": [str(uuid.uuid4()) for _ in range(21)]}, "at most"),
        ({"number": 0}, "number"),
        ({"key": "mine"}, "key"),
    ],
)
def test_what_cannot_be_taken_in_is_told(as_officer, officer, changes, words):
    response = send(as_officer, envelope(officer, **changes))
    assert response.status_code == 422
    assert words in response.json()["problem"]
    assert not CheckSheet.objects.exists()


@pytest.fixture
def past_rules():
    """Two versions of the no-sweep rules, and rules that have run out since."""
    text = (rulebook.FOLDER / "no-sweep.yaml").read_text("utf-8")
    texts = (
        text.replace('version: "1"', 'version: "2"').replace(
            "from: 2020-01-01", "from: 2026-11-01"
        ),
        text.replace("name: no-sweep", "name: old-net").replace(
            "from: 2020-01-01\n  to:", "from: 2020-01-01\n  to: 2024-12-31"
        ),
    )

    def source():
        return tuple((f"past {number}", text) for number, text in enumerate(texts))

    rulebook.add_source(source)
    yield
    rulebook.remove_source(source)


@pytest.mark.parametrize(
    ("name", "day", "version"),
    [
        ("no-sweep", "2026-10-31", "1"),  # superseded since
        ("no-sweep", "2026-11-01", "2"),
        ("old-net", "2024-12-31", "1"),  # no version holds any more
    ],
)
def test_a_sheet_sent_late_goes_by_the_rules_of_its_day(
    as_officer, officer, past_rules, name, day, version
):
    sent = envelope(officer, rulebook_name=name, day=day, hands_in=True)
    assert send(as_officer, sent).json()["finished"] is True
    sheet = CheckSheet.objects.get()
    assert sheet.rulebook_version == version
    assert as_officer.get(sheet.get_absolute_url()).status_code == 200
    assert as_officer.get(reverse("checks:check_pdf", args=[sheet.key])).status_code == 200


def test_a_sheet_of_a_day_without_rules_says_so(as_officer, officer, past_rules):
    response = send(as_officer, envelope(officer, rulebook_name="old-net", day="2025-01-01"))
    assert response.status_code == 422
    assert "have no version for January 1, 2025" in response.json()["problem"]


def test_rules_that_hold_no_more_say_so_where_they_are_offered(as_officer, past_rules):
    page = as_officer.get(reverse("checks:check_new")).content.decode()
    assert "(until December 31, 2024)" in page
    listed = as_officer.get(reverse("checks:checks")).content.decode()
    assert "old-net" not in listed
    blank = reverse("checks:check_blank", args=["old-net"])
    assert as_officer.get(blank).status_code == 404


@pytest.mark.parametrize("body", ["", "[]", "{", "3"])
def test_rubbish_is_refused(as_officer, body):
    assert as_officer.post(SEND, body, content_type="application/json").status_code == 400


def test_only_answers_to_questions_are_kept(as_officer, officer):
    typed = {"bosom": "16 ft", "nobody": "asks", "sweep": True, "mesh": ""}
    send(as_officer, envelope(officer, typed=typed))
    assert CheckSheet.objects.get().typed == {"bosom": "16 ft"}


def test_nothing_is_sent_under_another_name(as_officer, officer, as_staff, staff, check):
    assert send(as_staff, envelope(officer)).status_code == 409
    assert send(as_staff, envelope(staff, key=str(check.key))).status_code == 409
    assert CheckRevision.objects.count() == 1


def test_who_may_send(as_user, user, client, officer):
    assert send(as_user, envelope(user)).status_code == 403
    assert send(client, envelope(officer)).status_code == 302
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(officer)
    assert send(strict, envelope(officer)).status_code == 403
    assert as_user.get(SEND).status_code == 403
    assert not CheckSheet.objects.exists()


def test_a_sheet_is_fetched_by_its_officer_alone(as_officer, as_staff, check):
    address = reverse("checks:check_held", args=[check.key])
    assert as_officer.get(address).json()["content"]["vessel_name"] == "Sanderling"
    assert as_staff.get(address).status_code == 404


class TestPhotos:
    def add(self, client, sheet, officer, key, photo):
        told = {"user": officer.pk, "key": str(key), "photo": photo}
        return client.post(reverse("checks:check_add_photo", args=[sheet.key]), told)

    def test_keep_nothing_of_what_the_camera_wrote(self, as_officer, officer):
        key = uuid.uuid4()
        sheet = make_check(officer, photo_keys=[str(key)])
        assert sheet.photos_to_come == 1
        for _ in range(2):
            assert self.add(as_officer, sheet, officer, key, with_place()).status_code == 204
        photo = CheckPhoto.objects.get()
        kept = Image.open(photo.image.open())
        assert kept.format == "JPEG"
        assert not kept.getexif()
        assert "exif" not in kept.info
        assert kept.size == (40, 60)  # upright, as it was taken
        assert "IMG" not in photo.image.name
        assert sheet.photos_to_come == 0

    def test_are_made_smaller(self, as_officer, officer):
        key = uuid.uuid4()
        sheet = make_check(officer, photo_keys=[str(key)])
        self.add(as_officer, sheet, officer, key, picture(size=(3200, 100)))
        assert Image.open(CheckPhoto.objects.get().image.open()).size == (1600, 50)

    def test_of_what_is_no_photo_nothing_is_kept(self, as_officer, officer, media):
        key = uuid.uuid4()
        sheet = make_check(officer, photo_keys=[str(key)])
        text = SimpleUploadedFile("photo.jpg", b"<svg onload=alert(1)>", "image/jpeg")
        for photo in (text, picture("GIF"), SimpleUploadedFile("a.jpg", picture().read()[:300])):
            response = self.add(as_officer, sheet, officer, key, photo)
            assert response.status_code == 422
            assert "not a photo" in response.json()["problem"]
        assert not CheckPhoto.objects.exists()
        assert not media.exists()

    def test_of_which_the_sheet_does_not_speak_are_refused(self, as_officer, officer, check):
        assert self.add(as_officer, check, officer, uuid.uuid4(), picture()).status_code == 422

    def test_are_seen_by_their_officer_and_staff_alone(
        self, as_officer, as_staff, as_user, client, officer
    ):
        key = uuid.uuid4()
        sheet = make_check(officer, photo_keys=[str(key)])
        self.add(as_officer, sheet, officer, key, picture())
        address = reverse("checks:check_photo", args=[key])
        for person in (as_officer, as_staff):
            response = person.get(address)
            assert response["Content-Type"] == "image/jpeg"
            assert "no-store" in response["Cache-Control"]
            assert b"".join(response.streaming_content).startswith(b"\xff\xd8")
        assert as_user.get(address).status_code == 403
        assert client.get(address).status_code == 302
        other = User.objects.create_user("o@example.com", PASSWORD, name="O", role=Role.OFFICER)
        client.force_login(other)
        assert client.get(address).status_code == 404
        assert self.add(client, sheet, other, key, picture()).status_code == 404


def test_the_page_holds_limits_from_the_rule_module_and_no_sheet(as_officer, check):
    page = as_officer.get(reverse("checks:check_phone"))
    assert "csrftoken" in page.cookies
    text = page.content.decode()
    assert check.vessel_name not in text
    assert 'id="check-rules"' in text


def test_the_worker_that_was_of_sheets_alone_ends_itself(client):
    response = client.get(reverse("checks:check_worker"))
    assert response["Content-Type"].startswith("text/javascript")
    assert "unregister()" in response.content.decode()


def test_a_typed_sheet_comes_back_as_typed(as_officer, officer):
    typed = typed_rig(port_gap="7' 6½\"")
    held = send(as_officer, envelope(officer, typed=typed)).json()
    assert held["content"]["typed"] == typed
    assert not held["unread"]
