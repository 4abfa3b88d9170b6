"""What exams are expected to do, and what modelled people make of whole ones."""

from datetime import date

import pytest

from tests.benchmarks.exams import trial
from tests.words import sentences, unwanted
from training.certification import blueprints, expected
from training.demo.certification import CREW, OFFICER
from training.exercises.hands import people

# Exams are made, taken and foretold without a row: what is approved is all that is asked for.
pytestmark = pytest.mark.one_database

DAY = date(2026, 9, 1)
FORMS = 60


@pytest.fixture(scope="module")
def crew():
    return trial.requirements_of(*CREW)


@pytest.fixture(scope="module")
def forms(crew, django_db_setup, django_db_blocker):
    """Sixty exams for crews, the same each time."""
    with django_db_blocker.unblock():
        return [trial.form(crew, number, DAY) for number in range(FORMS)]


@pytest.fixture(scope="module")
def foretold(crew, django_db_setup, django_db_blocker):
    with django_db_blocker.unblock():
        return expected.expect(blueprints.of_requirements(crew, DAY), expected.Terms.of(crew), DAY)


@pytest.fixture(scope="module")
def passes(crew, forms, django_db_setup, django_db_blocker):
    """Return a function: of as many people of a type as there are forms, how many pass."""
    makers, counted = trial.types(crew, DAY), {}

    def count(name):
        if name not in counted:
            counted[name] = sum(
                trial.take(form, makers[name](number), trial.rng_for("test", number)).passed
                for number, form in enumerate(forms)
            )
        return counted[name]

    with django_db_blocker.unblock():
        yield count


@pytest.mark.django_db
class TestWholeExams:
    """
    People of the extremes take whole exams.

    The seeds are fixed, so that these come out the same until a kind or an exam changes. The
    bounds are loose: what they allow is said as a chance by the binomial distribution.
    """

    def test_the_blind_fail(self, passes):
        # If 1 in 100 passed, 4 or more of 60 would in 3 of 1,000 such tests.
        assert passes("blind") <= 3

    def test_who_answers_by_chance_fails(self, passes):
        # If 1 in 1,000 passed, one of 60 would in 6 of 100 such tests.
        assert passes("random") == 0

    def test_who_compares_the_questions_fails(self, passes):
        # As for the blind.
        assert passes("splits middle") <= 3
        assert passes("splits gap") <= 3
        assert passes("splits sizes") <= 3

    def test_who_knows_95_percent_passes(self, passes):
        # If 90 in 100 passed, fewer than 46 of 60 would in 1 of 1,000 such tests.
        assert passes("knows 95%") >= 46


@pytest.mark.django_db
class TestExpected:
    @pytest.mark.parametrize("sort", [expected.BLIND, 60, 80, 95])
    def test_agrees_with_whole_exams(self, passes, foretold, sort):
        name = sort if sort == expected.BLIND else f"knows {sort}%"
        share, told = passes(name) / FORMS, foretold.passes[sort]
        # Three standard errors of the 60, the error told, and the shapes of few questions.
        error = 3 * (max(told * (1 - told), 0.02) / FORMS) ** 0.5 + foretold.error + 0.02
        assert share == pytest.approx(told, abs=error)

    @pytest.mark.parametrize("exam", [CREW, OFFICER], ids=["crew", "officer"])
    def test_the_demos_exams_meet_every_aim(self, exam):
        requirements = trial.requirements_of(*exam)
        found = expected.expect(
            blueprints.of_requirements(requirements, DAY), expected.Terms.of(requirements), DAY
        )
        assert not found.missed, found
        # Half an hour for crews, and some time more than is needed for all.
        needed = blueprints.time_needed(blueprints.of_requirements(requirements, DAY)).seconds / 60
        assert needed <= (30 if exam is CREW else 45)
        assert needed * 1.25 < requirements.minutes

    def test_who_knows_more_passes_more(self, foretold):
        told = [foretold.passes[each] for each in sorted(people.SHARES)]
        assert told == sorted(told)
        assert foretold.passes[expected.BLIND] < told[0]

    def test_a_higher_bar_passes_fewer(self, crew, foretold):
        terms = expected.Terms.of(crew)._replace(pass_percent=100)
        higher = expected.expect(blueprints.of_requirements(crew, DAY), terms, DAY)
        assert higher.passes[95] < foretold.passes[95]
        assert higher.false_fail > foretold.false_fail
        assert 95 in higher.missed

    def test_no_slips_in_rules_that_must_be_right_pass_fewer(self, crew, foretold):
        terms = expected.Terms.of(crew)._replace(must_slips=0)
        stricter = expected.expect(blueprints.of_requirements(crew, DAY), terms, DAY)
        assert stricter.passes[100] < foretold.passes[100]

    def test_the_officers_exam_and_any_kind_can_be_foretold(self):
        for parts in (OFFICER[1], [(slug, 1, 1) for slug in ("pick-chain", "choose-several")]):
            requirements = trial.requirements_of({**OFFICER[0], "must_pass": []}, parts)
            slots = blueprints.of_requirements(requirements, DAY)
            found = expected.expect(slots, expected.Terms.of(requirements), DAY)
            assert 0 <= found.passes[60] <= found.passes[100] <= 1

    def test_same_arguments_give_the_same_figures(self, crew):
        slots, terms = blueprints.of_requirements(crew, DAY), expected.Terms.of(crew)
        assert expected.expect.__wrapped__(slots, terms, DAY) == expected.expect.__wrapped__(
            slots, terms, DAY
        )


def told(**changes):
    shares = {expected.BLIND: 0.001, expected.CRIB: 0.0123, 60: 0.2, 80: 0.5, 95: 0.93, 100: 1.0}
    values = {
        "passes": shares,
        "accurate": 0.9,
        "false_pass": 0.3,
        "false_fail": 0.04,
        "same": 0.8,
        "missed": frozenset({60, expected.SAME}),
    }
    return expected.Expected(**(values | changes))


class TestInWords:
    def test_says_of_100_people_how_many_pass(self):
        lines = {line.text: line.missed for line in expected.in_words(told(), "fisherman")}
        assert lines["Of 100 people who know all the rules, about 100 pass."] == ""
        assert lines["Of 100 people who know 95 percent of the rules, about 93 pass."] == ""
        assert (
            lines["Of 100 people who know 60 percent of the rules, about 20 pass."]
            == "The aim is at most 5."
        )
        assert lines["Of 100 people who know no limit and guess, almost none pass."] == ""
        assert "Of 100 people with a note of the 2 limits asked most, about 1 passes." in lines

    def test_keeps_to_the_words_of_the_site(self):
        texts = [line.text for line in expected.in_words(told(), "officer")] + expected.assumed()
        for text in texts:
            assert list(unwanted(text)) == []
            assert all(count <= 20 for _, count in sentences(text))


def test_an_aim_is_met_at_its_own_figure():
    assert expected.Aim(0.05).is_met(0.05)
    assert not expected.Aim(0.05).is_met(0.06)
    assert expected.Aim(0.9, at_least=True).is_met(0.9)
    assert not expected.Aim(0.9, at_least=True).is_met(0.89)
