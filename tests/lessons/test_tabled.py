"""What a phone takes along of the live figure is, to the letter, what the site would send."""

import gzip
import random

import pytest
from django.urls import reverse

from rigs.rules import rulebook
from tests.lessons.helpers import small, with_limits
from training.lessons import live, tabled

TABLE = reverse("lessons:live_table", args=["no-sweep"])
PART = reverse("lessons:live_figure", args=["no-sweep"])
SMALL = 60_000  # bytes: about a second of a slow link, for one figure

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def table():
    """The table of the rule set that the lessons' figure goes by."""
    return tabled.table(rulebook.nearest("no-sweep", rulebook.load("no-sweep").effective_from))


def filled(table, numbers):
    """Return the markup of the entry at ``numbers``, the places of its settings in their lists."""
    at = 0
    for (__, values), number in zip(table["settings"], numbers, strict=True):
        at = at * len(values) + number
    frame, place = table["entries"][at]
    text, holes = table["frames"][frame]
    first, *rest = text.split(tabled.HOLE)
    fills = (table["columns"][hole].split()[place] for hole in holes)
    return first + "".join(map("".join, zip(fills, rest, strict=True)))


def test_each_entry_is_what_the_site_sends_for_those_settings(client, table):
    ends = [[0, len(values) - 1] for __, values in table["settings"]]
    draw = random.Random(7)
    places = [[end[0] for end in ends], [end[1] for end in ends]]
    places += [[draw.randrange(len(v)) for __, v in table["settings"]] for __ in range(30)]
    for numbers in places:
        chosen = {
            name: values[number]
            for (name, values), number in zip(table["settings"], numbers, strict=True)
        }
        assert filled(table, numbers) == client.get(PART, chosen).content.decode(), chosen


def test_where_the_figure_begins_and_all_ends_are_in_it(table):
    form = live.LiveForm(rulebook.load("no-sweep"))
    settings = dict(table["settings"])
    assert settings["chain"] == list(form.choices)
    for dial in form.dials:
        assert {dial.low, dial.start, dial.high} <= set(settings[dial.key])
    count = 1
    for values in settings.values():
        count *= len(values)
    assert len(table["entries"]) == count


def test_it_is_small_and_holds_nothing_of_a_person(as_user, django_assert_max_num_queries):
    as_user.get(TABLE)
    with django_assert_max_num_queries(2):
        response = as_user.get(TABLE, HTTP_ACCEPT_ENCODING="gzip")
    assert "public" in response["Cache-Control"]
    assert len(response.content) < SMALL
    assert b"entries" in gzip.decompress(response.content)


def test_the_figure_says_where_it_is():
    assert f'data-live-table="{TABLE}"' in small("{{ live dropper }}\n: Move it").body


def test_only_rule_sets_for_gear_have_one(client):
    assert client.get(reverse("lessons:live_table", args=["whiting"])).status_code == 404


def test_another_limit_is_another_table():
    book = with_limits(dropper_length=1.2)("no-sweep")
    form = live.LiveForm(book)
    (length,) = (dial for dial in form.dials if dial.key == "length")
    assert tabled.settings_of(length)[0] == length.low == 47
