"""What goes out smaller than it is, and is the same when it has arrived."""

import gzip

import pytest
from django.urls import reverse

from training.lessons.loader import all_lessons

pytestmark = pytest.mark.django_db

ASKED = {"HTTP_ACCEPT_ENCODING": "gzip, br"}
TOKEN = 'name="csrfmiddlewaretoken" value="'


def lesson():
    return reverse("lessons:detail", args=[all_lessons()[0].slug])


def test_a_page_arrives_smaller_and_is_the_same(client):
    plain = client.get(lesson())
    packed = client.get(lesson(), **ASKED)
    assert not plain.has_header("Content-Encoding")
    assert packed["Content-Encoding"] == "gzip"
    assert "Accept-Encoding" in packed["Vary"]
    assert int(packed["Content-Length"]) == len(packed.content) < len(plain.content) / 2
    assert gzip.decompress(packed.content) == plain.content


def test_what_is_small_by_itself_goes_as_it_is(as_user):
    picture = as_user.post(
        reverse("trips:trip_chart", args=["whiting"]), {"day": "7/20/2026"}, **ASKED
    )
    assert picture["Content-Type"] == "image/png"
    assert not picture.has_header("Content-Encoding")


def test_the_same_page_is_not_always_as_long(client):
    lengths = {len(client.get(lesson(), **ASKED).content) for _ in range(12)}
    assert len(lengths) > 1


def test_a_forms_token_is_written_otherwise_in_each_answer(client):
    pages = [gzip.decompress(client.get(reverse("people:sign_in"), **ASKED).content) for _ in "ab"]
    one, other = (page.decode().partition(TOKEN)[2][:64] for page in pages)
    assert len(one) == 64
    assert one != other
