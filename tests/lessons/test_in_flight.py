"""A net in flight in the lessons: as it is, after a change, and as a phone takes it along."""

import gzip
import json

import pytest
from django.urls import reverse
from django.utils.html import escape

from rigs.physics.flight import POINTS
from rigs.rules import rulebook
from rigs.tuning.flight_words import headline
from rigs.tuning.flights import pictured, pictured_words
from tests.lessons.helpers import small, spaced, with_limits
from tests.lessons.test_tabled import filled
from training.lessons import tabled
from training.lessons.errors import LessonError

PAGE = reverse("lessons:flight", args=["no-sweep"])
PART = reverse("lessons:flight_figure", args=["no-sweep"])
TABLE = reverse("lessons:flight_table", args=["no-sweep"])
SMALL = 60_000  # bytes, as for the dropper

pytestmark = pytest.mark.django_db


@pytest.fixture
def no_flight(monkeypatch):
    """Fail where anything is flown: no page waits for that."""

    def flown(*args, **kwargs):
        raise AssertionError("a net is flown while a page is made")

    monkeypatch.setattr("rigs.physics.flight.flown.settle", flown)
    monkeypatch.setattr("rigs.physics.flight.solve.settle", flown)


@pytest.mark.parametrize("view", ["side", "ahead"])
def test_a_still_figure_says_its_net_is_invented_and_how_sure_its_height_is(view):
    body = spaced(small("{{ flight " + view + " }}\n: What is seen").body)
    assert "<figcaption>What is seen</figcaption>" in body
    assert f"from {'the side' if view == 'side' else 'ahead'}" in body
    for words in (pictured_words.net(), pictured_words.how_high(), str(pictured_words.HEIGHTS)):
        assert escape(words) in body
    assert "An invented net" in body


@pytest.mark.parametrize(
    ("tag", "words"),
    [
        ("{{ flight below }}\n: C", "no view “below”"),
        ("{{ flight side }}", "needs a caption"),
    ],
)
def test_a_figure_that_is_not_there_is_refused(tag, words):
    with pytest.raises(LessonError, match=words):
        small(tag)


def test_a_lesson_offers_only_the_changes_it_names():
    lesson = small("{{ live flight floats headrope }}\n: Choose")
    assert 'value="floats +2" selected' in lesson.body
    assert 'value="headrope +4"' in lesson.body
    assert "droppers +2" not in lesson.body
    assert lesson.live == (TABLE,)


@pytest.mark.parametrize("slug", ["why-fish-part", "what-a-sweep-costs"])
def test_the_first_lessons_show_the_net_as_it_flies(as_user, slug):
    page = as_user.get(reverse("lessons:detail", args=[slug])).content.decode()
    assert "The net in flight from" in page


@pytest.mark.parametrize("slug", ["floats-and-ropes", "shine-and-tuning"])
def test_the_later_lessons_have_it_live_at_few_queries(
    as_user, slug, no_flight, django_assert_max_num_queries
):
    url = reverse("lessons:detail", args=[slug])
    as_user.get(url)
    with django_assert_max_num_queries(10):
        assert f'data-live="{PART}"' in as_user.get(url).content.decode()


@pytest.mark.parametrize("url", [PAGE, PART])
@pytest.mark.parametrize("mend", pictured.tried(), ids=lambda mend: mend.key)
def test_each_change_says_what_each_place_does(client, no_flight, url, mend):
    page = spaced(client.get(url, {"change": mend.key}).content.decode())
    picture = pictured.after(mend.key)
    assert escape(headline(picture.moves)) in page
    assert escape(pictured_words.sure(picture)) in page
    places = pictured_words.places(picture)
    assert [place.name for place in places] == list(POINTS)
    for place in places:
        cells = "".join(f"<td>{cell}</td>" for cell in place[1:])
        assert f'<th scope="row">{place.name.capitalize()}</th>{cells}' in page
    assert pictured_words.shine(picture.flown) in page
    for saying in pictured_words.sayings(picture):
        assert saying.words in page
    assert "style=" not in page


def test_a_change_that_breaks_a_rule_says_so_by_the_rule_set(client):
    told = "Rule broken"
    assert told in client.get(PART, {"change": "top-leg +3"}).content.decode()
    assert told not in client.get(PART, {"change": "floats +2"}).content.decode()


def test_the_page_says_what_the_model_leaves_out(client):
    page = client.get(PAGE, {"change": "floats +2"}).content.decode()
    for words in (*pictured_words.LEFT_OUT, pictured_words.HEIGHTS, pictured_words.net()):
        assert escape(str(words)) in page
    assert page.count("<h1>") == 1


@pytest.mark.parametrize("change", ["", "moon", "floats +3"])
def test_a_change_that_was_not_flown_is_told_beside_its_field(client, change):
    page = client.get(PAGE, {"change": change}).content.decode()
    assert 'id="id_change_error"' in page
    assert "<svg" not in page
    assert client.get(PART, {"change": change}).status_code == 400


@pytest.mark.parametrize("name", ["none", "whiting"])
@pytest.mark.parametrize("view", ["flight", "flight_figure", "flight_table"])
def test_only_rule_sets_for_gear_have_it(client, view, name):
    assert client.get(reverse(f"lessons:{view}", args=[name])).status_code == 404


def test_a_phone_takes_along_each_change_as_the_site_sends_it(client, no_flight):
    table = json.loads(client.get(TABLE).content)
    ((name, keys),) = table["settings"]
    assert keys == [mend.key for mend in pictured.tried()]
    for at, key in enumerate(keys):
        assert filled(table, [at]) == client.get(PART, {name: key}).content.decode()


def test_the_table_is_small_and_public(as_user):
    response = as_user.get(TABLE, HTTP_ACCEPT_ENCODING="gzip")
    assert "public" in response["Cache-Control"]
    assert len(response.content) < SMALL
    assert b"entries" in gzip.decompress(response.content)


def test_it_is_judged_by_the_rule_set_that_is_asked_for():
    strict = with_limits(footrope_excess=0.5)("no-sweep")
    assert list(pictured_words.broken(pictured.after("footrope +24"), strict)) == []
    loose = rulebook.load("no-sweep")
    assert tabled.flight_table(loose)["settings"][0][1]
    tight = with_limits(footrope_excess=9 * 0.3048)("no-sweep")
    (sentence,) = pictured_words.broken(pictured.after("footrope +24"), tight)
    assert "footrope" in sentence.lower()
