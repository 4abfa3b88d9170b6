"""The live figure, in the lessons and by itself, without a script."""

import pytest
from django.urls import reverse
from django.utils.html import escape

from rigs.physics import chain, tow
from rigs.physics.tow.report import MODEL_BASIS, RULE_BASIS
from rigs.plan import trial
from rigs.rules import rulebook
from rigs.words.units import FOOT, INCH, KNOT, inches
from tests.lessons.helpers import small, with_limits
from training.lessons.errors import LessonError

PAGE = reverse("lessons:live", args=["no-sweep"])
PART = reverse("lessons:live_figure", args=["no-sweep"])
SET = {"chain": "two 5/16 in", "speed": "2.5", "length": "50", "shine": "9"}
TAG = "{{ live dropper }}\n: Move it"

pytestmark = pytest.mark.django_db


def test_the_lesson_shows_where_it_begins_and_its_limits_are_the_rules():
    body = small(TAG).body
    assert "<figcaption>Move it</figcaption>" in body
    assert f'action="{PAGE}"' in body
    assert 'min="42"' in body
    longer = small(TAG, with_limits(dropper_length=4 * FOOT)).body
    assert 'min="48"' in longer
    assert 'min="42"' not in longer


@pytest.mark.parametrize(
    ("tag", "words"),
    [
        ("{{ live moon }}\n: C", "no live figure of “moon”"),
        ("{{ live dropper }}", "needs a caption"),
        ("{{ live }}\n: C", "does not fit its arguments"),
        ("{{ live dropper floats }}\n: C", "offers all it has"),
        ("{{ live flight moon }}\n: C", "no change “moon”"),
    ],
)
def test_a_live_figure_that_is_not_there_is_refused(tag, words):
    with pytest.raises(LessonError, match=words):
        small(tag)


@pytest.mark.parametrize("slug", ["shine-and-tuning", "converting-step-by-step"])
def test_the_lessons_have_it_at_few_queries(as_user, slug, django_assert_max_num_queries):
    url = reverse("lessons:detail", args=[slug])
    as_user.get(url)
    with django_assert_max_num_queries(10):
        assert f'data-live="{PART}"' in as_user.get(url).content.decode()


@pytest.mark.parametrize("url", [PAGE, PART])
def test_what_is_set_is_what_is_worked_out(client, url, django_assert_max_num_queries):
    with django_assert_max_num_queries(2):
        page = client.get(url, SET).content.decode()
    report = tow.height_report(chain.TWO_LIGHT, 50 * INCH, 2.5 * KNOT, 9 * INCH)
    rule, model = report.estimates
    assert f"{rule.name}: footrope at most {inches(rule.height, 1)} off the bottom" in page
    assert f"{model.name}: footrope about {inches(model.height, 1)} off the bottom" in page
    assert f"between {inches(model.low, 1)} and {inches(model.high, 1)}" in page
    assert "<svg" in page
    assert "style=" not in page


def test_without_shine_no_height_is_the_most(client):
    page = client.get(PART, {**SET, "shine": "0"}).content.decode()
    report = tow.height_report(chain.TWO_LIGHT, 50 * INCH, 2.5 * KNOT, 0.0)
    assert "Length minus shine: footrope at any height: nothing touched" in page
    assert f"footrope at least {inches(report.model.height, 1)} off the bottom" in page
    assert "at most" not in page


def test_the_page_keeps_what_was_set(client):
    page = client.get(PAGE, SET).content.decode()
    assert 'value="two 5/16 in" selected' in page
    assert escape(MODEL_BASIS) in page
    assert escape(RULE_BASIS) in page
    assert 'value="50"' in page
    assert client.get(PAGE).content.decode().count("<h1>") == 1


@pytest.mark.parametrize(
    ("name", "value"), [("length", "9"), ("speed", "fast"), ("shine", "-1"), ("chain", "rope")]
)
def test_what_cannot_be_set_is_told_beside_its_field_and_kept(client, name, value):
    page = client.get(PAGE, {**SET, name: value}).content.decode()
    assert f'id="id_{name}_error"' in page
    assert "<svg" not in page
    if name != "chain":
        assert f'value="{value}"' in page
    assert client.get(PART, {**SET, name: value}).status_code == 400


@pytest.mark.parametrize("name", ["none", "whiting"])
def test_only_rule_sets_for_gear_have_it(client, name):
    assert client.get(reverse("lessons:live", args=[name])).status_code == 404


def test_it_is_there_for_every_rule_set_of_gear(client):
    for name in rulebook.gear_names():
        assert trial.choices(rulebook.load(name))
        assert client.get(reverse("lessons:live", args=[name])).status_code == 200
