"""Where each rule is taught, and the way there."""

import re

import pytest
from django.urls import reverse

from rigs.rules import rulebook
from tests.exercises.conftest import right_answer
from tests.lessons.helpers import law_of, small
from training.exercises import handing, kinds
from training.exercises.models import Attempt
from training.lessons import passages
from training.lessons.errors import LessonError
from training.lessons.loader import all_lessons


@pytest.mark.parametrize("role", rulebook.COURSES)
def test_every_law_of_gear_is_taught_on_the_course(role):
    assert [each for each in law_of(role) if not passages.url_for(each[1], role)] == []


@pytest.mark.parametrize("role", rulebook.COURSES)
def test_a_way_leads_to_a_place_that_is_there(client, db, role):
    for _, key in law_of(role):
        address, place = passages.url_for(key, role).split("#")
        page = client.get(address).content.decode()
        assert page.count(f'id="{place}"') == 1
        assert passages.title_for(key, role)
        # The place is inside what is read, so that a reader is led to words.
        assert re.search(rf'<(p|li|h2)>(?:<span[^>]*></span>)*[^<]*.{{0,400}}id="{place}"', page)


def test_the_way_goes_to_a_lesson_of_ones_own_course():
    for role in rulebook.COURSES:
        for lesson in all_lessons():
            for key in lesson.rules:
                found = passages.lesson_on(key, role)
                assert found is None or found.is_for(role)
    assert passages.url_for("season", "trainee") == ""
    assert passages.url_for("season", "officer").endswith(
        "/where-when-and-what-is-kept/#rule-season"
    )
    assert passages.url_for("season", "staff")


def test_the_way_is_called_by_the_heading_above_it():
    assert passages.title_for("legs_equal", "trainee") == "Legs of one length"
    assert passages.title_for("float_spacing", "trainee") == "Floats"
    lesson = small(
        "{{ passage no_sweep }}None.\n\n## Chain {{ passage dropper_stock }}\n\nIt is so.",
        rules="[no_sweep, dropper_stock]",
    )
    assert lesson.rules == {"no_sweep": "A small lesson", "dropper_stock": "Chain"}


def test_a_rule_that_nothing_teaches_has_no_way():
    assert (
        passages.url_for("knitting", "trainee") == passages.title_for("knitting", "trainee") == ""
    )


@pytest.mark.parametrize(
    ("body", "rules", "words"),
    [
        ("Words.", "[no_sweep]", "there is no passage on “no_sweep”"),
        ("{{ passage no_sweep }}Words.", "[]", "is not among the “rules”"),
        ("{{ passage no_sweep no_sweep }}Words.", "[no_sweep]", "a passage on “no_sweep” already"),
        ("{{ passage }}Words.", "[]", "say which rules"),
        ("Words.", "[knots]", "no rule set has a law requirement “knots”"),
        ("Words.", "[bycatch_share]", "no rule set has a law requirement"),
        ("Words.", "[no_sweep, no_sweep]", "a rule is here twice"),
        ("Words.", "no_sweep", "must be a list"),
        (
            "{{ figure dropper }}\n: One {{ passage no_sweep }}",
            "[no_sweep]",
            "cannot stand in a caption",
        ),
    ],
)
def test_a_rule_taught_nowhere_or_twice_is_refused(body, rules, words):
    with pytest.raises(LessonError, match=re.escape(words)):
        small(body, rules=rules)


def test_a_length_that_is_law_somewhere_and_custom_elsewhere_can_be_taught():
    assert rulebook.load("no-sweep", "1").requirement("dropper_length").by_custom
    assert small("{{ passage dropper_length }}Words.", rules="[dropper_length]").rules


def test_after_a_miss_the_page_leads_to_the_passage(as_user, user):
    kind = kinds.get("space-droppers")
    assignment = handing.open_assignment(user, kind)
    as_user.post(
        reverse("exercises:do", args=[kind.slug]),
        {"assignment": assignment.pk, "port": "", "starboard": "", "center": "on"},
    )
    attempt = Attempt.objects.get()
    page = as_user.get(reverse("exercises:marked", args=[attempt.pk])).content.decode()
    # A line may be of one side alone: "dropper_at_corners:port".
    missed = [line["key"] for line in attempt.findings if not line["right"]]
    assert "dropper_at_corners:port" in missed
    # What the task itself asks for, beside the rules, is taught by no passage.
    ways = [url for key in missed if (url := passages.url_for(key, "trainee"))]
    for url in ways:
        assert f'Read: <a href="{url}">' in page
    assert page.count("Read: <a") == len(ways)


def test_what_was_right_leads_nowhere(as_user, user):
    kind = kinds.get("space-droppers")
    assignment = handing.open_assignment(user, kind)
    attempt = handing.hand_in(assignment, right_answer(handing.task_of(assignment)))
    assert attempt.passed
    page = as_user.get(reverse("exercises:marked", args=[attempt.pk])).content.decode()
    assert "Read: <a" not in page
