"""The fleet's own paired tows in the lesson on the sweep."""

import pytest
from django.urls import reverse

from tests.evidence.tows_factory import make_fleet
from tests.lessons.helpers import small
from training.lessons import standing
from training.lessons.errors import LessonError
from training.people.sharing import Level, What, choose

pytestmark = pytest.mark.django_db

LESSON = reverse("lessons:detail", args=["what-a-sweep-costs"])


def test_it_says_when_there_are_not_enough(client):
    page = client.get(LESSON).content.decode()
    assert "not enough paired tows of this fleet to show yet" in page
    assert "at least 10 pairs" in page


def test_it_shows_the_fleets_own_with_what_they_rest_on(client):
    people = make_fleet(Level.SUMS)
    page = client.get(LESSON).content.decode()
    assert "16 pairs of tows by 8 vessels, July 1, 2026 to July 2, 2026." in page
    assert "Flatfish: without the sweep the nets took 33 percent of the weight" in page
    assert "paired-tows-title" in page
    # As it stands: what an owner takes back is gone at the next look.
    for person in people[:3]:
        choose(person, What.CATCHES, Level.OWN)
    assert "not enough paired tows" in client.get(LESSON).content.decode()


def test_it_costs_one_query(client, django_assert_num_queries):
    client.get(LESSON)
    with django_assert_num_queries(1):
        standing.filled(standing.mark("fleet-catches"))


def test_a_place_that_nothing_stands_in_is_refused():
    with pytest.raises(LessonError, match="nothing under “moon”: use one of fleet-catches"):
        small("{{ standing moon }}\n: Caption")
