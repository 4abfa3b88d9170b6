"""When rules come back, on fixed days: the requirements as the site publishes it."""

from datetime import date, timedelta

import pytest

from rigs.rules import openings, rulebook
from training.recall import spacing

DAY = date(2026, 3, 2)


def days(number):
    return timedelta(days=number)


def walked(answers, opening=None):
    """Return [(step, due)] after each of ``answers``, (day, right), one rule's."""
    step, due, right_last, found = 0, None, False, []
    for day, right in answers:
        step, due = spacing.after(step, due, right_last, right, day, opening)
        right_last = right
        found.append((step, due))
    return found


def test_right_on_each_day_it_comes_back_after_longer_and_longer():
    # 2, 7, 21 and 60 days, then nothing where there is no season.
    expected, day, answers = [], DAY, []
    for step, gap in enumerate((2, 7, 21, 60)):
        answers.append((day, True))
        day += days(gap)
        expected.append((step, day))
    answers.append((day, True))
    assert walked(answers) == [*expected, (4, None)]


def test_a_miss_starts_over_and_so_does_the_first_right_answer_after_it():
    answers = [(DAY, True), (DAY + days(2), True), (DAY + days(9), False), (DAY + days(11), True)]
    assert walked(answers) == [
        (0, DAY + days(2)),
        (1, DAY + days(9)),
        (0, DAY + days(11)),
        (0, DAY + days(13)),
    ]


def test_right_again_before_its_day_moves_nothing():
    answers = [(DAY, True), (DAY, True), (DAY + days(1), True)]
    assert walked(answers)[-1] == (0, DAY + days(2))


def test_a_season_that_opens_sooner_brings_it_back_a_week_before():
    opening = DAY + days(20)
    answers = [(DAY, True), (DAY + days(2), True), (DAY + days(9), True)]
    assert walked(answers, opening)[1:] == [
        (1, DAY + days(9)),
        (2, opening - days(7)),
    ]


def test_at_the_last_step_it_goes_by_seasons_alone():
    assert spacing.placed(spacing.LAST, DAY, DAY + days(200)) == DAY + days(193)
    assert spacing.placed(spacing.LAST, DAY, None) is None


def test_a_season_about_to_open_does_not_ask_again_what_was_just_asked():
    """A season counts only if the week before it begins a week from now or later."""
    assert spacing.season_opens_after(DAY) == DAY + days(13)


@pytest.mark.parametrize(
    ("step", "right_last", "late", "state"),
    [
        (0, True, -2, spacing.SHAKY),  # right once
        (1, False, -2, spacing.SHAKY),
        (1, True, 0, spacing.KNOWN),
        (1, True, 7, spacing.KNOWN),
        (1, True, 8, spacing.SHAKY),  # overdue by more than its interval
        (3, True, 60, spacing.KNOWN),
        (3, True, 61, spacing.SHAKY),
        (4, True, 60, spacing.KNOWN),
        (4, True, 61, spacing.SHAKY),
    ],
)
def test_known_is_right_on_two_days_and_not_long_overdue(step, right_last, late, state):
    asked = DAY - days(30)
    assert spacing.state(step, DAY, right_last, asked, DAY + days(late)) == state


def test_what_never_comes_back_is_known_for_a_year():
    assert spacing.state(4, None, True, DAY, DAY + days(365)) == spacing.KNOWN
    assert spacing.state(4, None, True, DAY, DAY + days(366)) == spacing.SHAKY


# Seasons of the rule sets: 50 CFR 648.80 (a)(9)(i), (15) and (16), as in the rule sets.


@pytest.mark.parametrize(
    ("name", "day", "opening"),
    [
        ("grate", date(2026, 1, 1), date(2026, 7, 1)),
        ("grate", date(2026, 7, 1), date(2027, 7, 1)),
        ("whiting", date(2026, 3, 1), date(2026, 9, 1)),
        # Gear rules that three fisheries take over: small mesh area 1, whiting, area 2.
        ("no-sweep", date(2026, 3, 1), date(2026, 7, 15)),
        ("chain-sweep", date(2026, 7, 15), date(2026, 9, 1)),
        ("no-sweep", date(2026, 9, 1), date(2027, 1, 1)),
        ("no-such-rules", date(2026, 3, 1), None),
    ],
)
def test_the_next_season_of_a_rule_set(name, day, opening):
    assert openings.next_season(name, day, rulebook.everything(day)) == opening
