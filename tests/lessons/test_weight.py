"""A lesson with its drawings is light on the wire, all counted that it has a browser fetch."""

import gzip
import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.templatetags.static import static
from django.urls import reverse

from training.deck.scripts import imported
from training.lessons.loader import all_lessons

MOST = 100_000
"""Bytes for a lesson, cold: two seconds of a link of 400 kbit/s."""

HEADERS = 900
"""Bytes of one request's head and its answer's, more than any here has."""

FETCHED = re.compile(r'<(?:link|script|img)\b[^>]*?\b(?:href|src)="([^"]+)"')

pytestmark = pytest.mark.django_db


def fetched(page):
    """Return the addresses of all that a browser fetches for ``page``, what is imported too."""
    found = set(FETCHED.findall(page))
    base = static("")
    scripts = [each.removeprefix(base) for each in found if each.endswith(".js")]
    return found | {static(name) for name in imported(*scripts)}


def weight(client, address):
    """Return the bytes on the wire for the page at ``address``, by plain gzip."""
    response = client.get(address, HTTP_ACCEPT_ENCODING="gzip")
    assert response["Content-Encoding"] == "gzip"
    parts = fetched(gzip.decompress(response.content).decode())
    assert len(parts) > 5
    total = len(response.content) + HEADERS
    for each in parts:
        if not each.startswith(static("")):
            total += len(gzip.compress(client.get(each).content)) + HEADERS
            continue
        file = Path(finders.find(each.removeprefix(static(""))))
        total += len(gzip.compress(file.read_bytes())) + HEADERS
    return total, parts


@pytest.mark.parametrize("slug", [lesson.slug for lesson in all_lessons()])
def test_each_lesson_is_light_and_all_of_it_is_the_sites(as_user, slug):
    total, parts = weight(as_user, reverse("lessons:detail", args=[slug]))
    assert all(each.startswith("/") and not each.startswith("//") for each in parts)
    assert total <= MOST


def test_styles_fetch_nothing_more():
    styles = list(Path(finders.find("css/site.css")).parent.glob("*.css"))
    assert len(styles) > 10
    for path in styles:
        assert "url(" not in path.read_text()
