"""What no phone of this site sends: refused with words, nothing kept, nothing falls over."""

import json
import uuid
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageOps

from tests.checks.conftest import entry, make_check
from tests.checks.test_sending import envelope, picture, send
from training.checks import photos
from training.checks.models import CheckPhoto, CheckRevision, CheckSheet

pytestmark = pytest.mark.django_db

SEND, THROWN = reverse("checks:check_send"), reverse("checks:check_thrown")
HALF = "\ud83d"  # half of an emoji, as a field that is full cuts it
NUMBERS = "9" * 5000


def send_text(client, text):
    return client.post(SEND, text, content_type="application/json", HTTP_ACCEPT="application/json")


def nested(depth):
    return "[" * depth + "]" * depth


@pytest.mark.parametrize(
    "changes",
    [
        {"day": 20261124},
        {"day": ["2026-11-24"]},
        {"vessel_name": {"a": 1}},
        {"harbor": True},
        {"at_sea": [1]},
        {"head": {"started": 7, "skipper": ["x"]}},
        {"rulebook_name": 4},
        {"key": 5},
        {"device": []},
        {"user": {}},
        {"number": 1.5},
        {"code": {"a": "b"}},
        {"notes": 3},
        {"notes": "a\0b"},
        {"typed": {"bosom": "16\0 ft"}},
        {"head": {"skipper": "A\0"}},
        {"reasons": {"a\0": "b"}},
        {"signatures": [{"role": "officer", "name": "\0", "strokes": [[[1, 2]]]}]},
        {"signatures": [{"role": "officer", "strokes": [[[float("inf"), float("nan")]]]}]},
        {"readings": [entry("bosom", "16 ft\0")]},
        {"readings": [entry("bosom", "16 ft", at="0001-01-01T00:00:00+14:00")]},
        {"readings": [entry("bosom", "16 ft", at="9999-12-31T23:59:59-14:00")]},
        {"readings": [entry("bosom", "16 ft", struck="0001-01-01T00:00:00+14:00")]},
        {"said": {"page": json.loads(nested(100))}},
        {"said": {"tally": {"outside": float("inf")}}},
    ],
    ids=lambda changes: next(iter(changes)),
)
def test_is_refused_by_what_is_wrong(as_officer, officer, changes):
    response = send(as_officer, envelope(officer, **changes))
    assert response.status_code == 422
    assert response.json()["problem"]
    assert not CheckSheet.objects.exists()


@pytest.mark.parametrize("number", [NUMBERS, f"-{NUMBERS}", "1e999", "NaN", "Infinity"])
def test_a_number_that_cannot_be_is_refused(as_officer, officer, number):
    text = json.dumps(envelope(officer, number=0)).replace('"number": 0', f'"number": {number}')
    response = send_text(as_officer, text)
    assert response.status_code == 422
    assert "number" in response.json()["problem"]


@pytest.mark.parametrize("depth", [20, 900, 200_000])
def test_what_is_nested_too_deeply_is_refused(as_officer, officer, depth):
    for address in (SEND, THROWN):
        text = json.dumps(envelope(officer, reason="x", content={}, at=""))[:-1]
        text += f', "more": {nested(depth)}}}'
        response = as_officer.post(address, text, content_type="application/json")
        assert response.status_code == 422
        assert "nested" in response.json()["problem"]
    assert not CheckSheet.objects.exists()


def test_what_is_too_large_is_refused_for_good(as_officer, officer):
    """A phone sends again and again what it is answered by 400: this is none of it."""
    response = send_text(as_officer, json.dumps(envelope(officer, notes="x" * 3_000_000)))
    assert response.status_code == 413
    assert "too large" in response.json()["problem"]


def test_half_an_emoji_is_kept_as_a_browser_would_send_it(as_officer, officer):
    changes = {"notes": f"Hake {HALF}", "readings": [entry("bosom", f"16 ft {HALF}")]}
    held = send(as_officer, envelope(officer, **changes)).json()
    assert held["content"]["notes"] == "Hake \N{REPLACEMENT CHARACTER}"
    whole = send(as_officer, envelope(officer, number=2, notes="Hake 🎣")).json()
    assert whole["content"]["notes"] == "Hake 🎣"
    raw = b'{"notes": "\xed\xa0\xbd"}'
    assert as_officer.post(SEND, raw, content_type="application/json").status_code == 400


def test_a_refused_sheet_can_be_sent_once_it_is_right(as_officer, officer):
    assert send(as_officer, envelope(officer, notes="a\0b")).status_code == 422
    assert send(as_officer, envelope(officer, notes="ab")).status_code == 200
    assert CheckRevision.objects.count() == 1


@pytest.mark.parametrize("body", ["", "[]", "{", "3", "\ufeff{}", '"\\ud83d"'])
def test_what_did_not_arrive_whole_is_asked_for_again(as_officer, body):
    for address in (SEND, THROWN):
        response = as_officer.post(address, body, content_type="application/json")
        assert response.status_code == 400
        assert response.json()["problem"]


ANYTHING = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**20), 10**20)
    | st.floats()
    | st.text(max_size=20)
    | st.sampled_from([HALF, "\0", NUMBERS, "2026-11-24", "0001-01-01T00:00:00+14:00", "1e999"]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner, max_size=3)
    ),
    max_leaves=6,
)
NAMES = (
    "key user device number hands_in said head typed photo_keys reasons photo_lines signatures "
    "readings notes day vessel_name harbor position boarding code rulebook_name fishery_name "
    "at_sea reason at content"
)


@given(changes=st.dictionaries(st.sampled_from(NAMES.split()), ANYTHING, min_size=1, max_size=4))
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_nothing_that_is_sent_takes_the_site_down(as_officer, officer, changes):
    told = envelope(officer, reason="x", at="", content={}) | changes
    for address in (SEND, THROWN):
        response = as_officer.post(address, json.dumps(told), content_type="application/json")
        assert response.status_code < 500
    # Whatever was taken in can be looked at.
    for sheet in CheckSheet.objects.order_by("-pk")[:1]:
        assert as_officer.get(sheet.get_absolute_url()).status_code == 200
        assert as_officer.get(reverse("checks:check_pdf", args=[sheet.key])).status_code == 200


def corner(image, at):
    """Return the color of ``image`` at a place that may be counted from its end."""
    return image.getpixel([place % size for place, size in zip(at, image.size, strict=True)])


class TestPhotos:
    def add(self, client, officer, photo):
        key = uuid.uuid4()
        sheet = make_check(officer, photo_keys=[str(key)])
        told = {"user": officer.pk, "key": str(key), "photo": photo}
        return client.post(reverse("checks:check_add_photo", args=[sheet.key]), told)

    def test_are_turned_upright_whatever_else_is_wrong_in_the_notes(self, as_officer, officer):
        exif = Image.Exif()
        exif[0x0112], exif[0x010F] = 6, "Camera"
        # The height of the picture, a number, becomes what was the maker's name.
        broken = exif.tobytes().replace(b"\x01\x0f", b"\x01\x01")
        assert self.add(as_officer, officer, picture(exif=broken)).status_code == 204
        assert Image.open(CheckPhoto.objects.get().image.open()).size == (40, 60)

    @pytest.mark.parametrize("orientation", range(1, 9))
    def test_are_turned_as_the_library_turns_them(self, orientation):
        exif, data = Image.Exif(), BytesIO()
        exif[0x0112] = orientation
        corners = Image.new("RGB", (64, 48), "white")
        corners.paste("red", (0, 0, 24, 16))
        corners.save(data, "PNG", exif=exif)
        right = ImageOps.exif_transpose(Image.open(BytesIO(data.getvalue())))
        kept = Image.open(photos.fit(SimpleUploadedFile("a.png", data.getvalue())))
        assert kept.size == right.size
        assert all(
            abs(mine - theirs) < 30
            for at in ((4, 4), (4, -5), (-5, 4), (-5, -5))
            for mine, theirs in zip(corner(kept, at), corner(right, at), strict=True)
        )

    @pytest.mark.parametrize(
        "exif",
        [
            b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0",  # breaks off
            b"Exif\0\0MM\0*\0\0\0\x08\xff\xff" + b"\xff" * 40,
            b"Exif\0\0rubbish",
            b"Exif\0\0",
        ],
    )
    def test_with_broken_notes_of_the_camera_are_kept_without_them(self, as_officer, officer, exif):
        assert self.add(as_officer, officer, picture(exif=exif)).status_code == 204
        assert Image.open(CheckPhoto.objects.get().image.open()).size == (60, 40)

    @pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
    def test_with_any_byte_gone_wrong_are_kept_or_refused(self, as_officer, officer, kind):
        whole = picture(kind, exif=b"Exif\0\0MM\0*\0\0\0\x08\0\0").read()
        for place in range(0, len(whole), max(1, len(whole) // 60)):
            for broken in (whole[:place], whole[:place] + b"\xff\xff\xff" + whole[place + 3 :]):
                try:
                    photos.fit(SimpleUploadedFile("a.jpg", broken, "image/jpeg"))
                except photos.PhotoError as error:
                    assert str(error)  # noqa: PT017

    @pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
    def test_of_too_many_pixels_are_refused_before_they_are_drawn(
        self, as_officer, officer, kind, monkeypatch
    ):
        """A file of a few kilobytes can hold a picture that fills the memory."""
        monkeypatch.setattr(photos, "MOST_PIXELS", dict.fromkeys(photos.MOST_PIXELS, 900 * 900))
        drawn = []
        monkeypatch.setattr(Image.Image, "thumbnail", lambda *told, **more: drawn.append(told))
        response = self.add(as_officer, officer, picture(kind, size=(1000, 1000)))
        assert response.status_code == 422
        assert "too many pixels" in response.json()["problem"]
        assert not drawn

    def test_are_as_large_as_phones_take_them(self):
        # Common practice, no source: phones sold today take photos of up to 50 megapixels.
        assert photos.MOST_PIXELS["JPEG"] >= 50_000_000
        data = BytesIO()
        Image.new("L", (8200, 6200)).save(data, "JPEG", quality=20)
        small = photos.fit(SimpleUploadedFile("a.jpg", data.getvalue(), "image/jpeg"))
        assert Image.open(small).size == (1600, 1210)
