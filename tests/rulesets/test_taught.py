"""What rule sets say of exercises is said of exercises that there are."""

import pytest

from rigs.rules import rulebook
from training.exercises import kinds
from training.people.models import Role


@pytest.mark.parametrize("name", rulebook.names())
def test_a_rule_set_names_only_exercises_that_there_are(name):
    for book in rulebook.versions(name):
        if book.taught:
            assert {slug for slug, _ in book.taught.exercises} <= set(kinds.KINDS)


def test_courses_are_those_of_roles_that_learn():
    assert set(rulebook.COURSES) == {Role.TRAINEE, Role.OFFICER}
