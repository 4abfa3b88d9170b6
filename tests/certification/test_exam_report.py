"""An exam's report: its flags say the right thing and undefined figures are told apart."""

from itertools import combinations
from statistics import covariance as covariance_of
from statistics import fmean
from statistics import variance as variance_of

import numpy as np
import pytest

from rigs.statistics.items import alpha, kr20, pool
from training.certification.exam_report import flags, item_reports, report

QUIET = (30, 0.7, 0.4)


def keys(found):
    return [flag.key for flag in found]


@pytest.mark.parametrize(
    ("answers", "difficulty", "discrimination", "expected"),
    [
        (*QUIET, []),
        (19, 0.1, -0.5, ["few answers"]),
        (20, 0.29, 0.4, ["too hard"]),
        (30, 0.30, 0.4, []),
        (30, 0.95, 0.4, []),
        (30, 0.96, 0.4, ["too easy"]),
        # Of 30 people a correlation of -0.30 leaves 0.07 open, one of -0.40 only -0.05.
        (30, 0.7, -0.01, []),
        (30, 0.7, -0.30, ["does not fit the rest"]),
        (30, 0.7, -0.40, ["works backward"]),
        (1000, 0.7, 0.0, ["does not fit the rest"]),
        (1000, 0.7, 0.20, []),
        (30, 1.0, np.nan, ["too easy"]),
    ],
)
def test_flags(answers, difficulty, discrimination, expected):
    assert keys(flags(answers, difficulty, discrimination)) == expected


def test_what_guessing_would_get_is_no_knowledge():
    assert keys(flags(30, 0.5, 0.4, guessed=0.5)) == ["no better than guessing"]
    assert keys(flags(30, 0.51, 0.4, guessed=0.5)) == []


def test_every_flag_is_a_sentence():
    found = [
        *flags(30, 0.1, -0.5),
        *flags(30, 0.99, -0.2),
        *flags(3, 0.5, 0.5),
        *flags(30, 0.4, 0.5, guessed=0.5),
    ]
    assert len(found) == 6
    for flag in found:
        assert flag.sentence[0].isupper()
        assert flag.sentence.endswith(".")


def sat_by(candidates, seed=1):
    rng = np.random.default_rng(seed)
    ability = rng.normal(size=candidates)
    return [
        {item: int(rng.random() < 1 / (1 + np.exp(hard - skill))) for item, hard in ITEMS.items()}
        for skill in ability
    ]


ITEMS = {"spacing": -1.0, "stock": -0.5, "floats": 0.0, "legs": 0.5, "sweep": 1.0}
OUT_OF = dict.fromkeys(ITEMS, 1)


def test_report_of_a_full_pool():
    made = pool(sat_by(120), OUT_OF)
    found = report(made, seed=5, resamples=200)
    assert found.candidates == 120
    assert found.reliability_name == "KR-20"
    assert found.reliability == kr20(made.marks)
    assert found.feldt.low < found.reliability < found.feldt.high
    assert found.bootstrap.low < found.reliability < found.bootstrap.high
    assert found.error == pytest.approx(found.spread * np.sqrt(1 - found.reliability))
    assert found.notes == ()
    items = item_reports(made)
    assert [each.item for each in items] == list(ITEMS)
    assert all(each.answers == 120 for each in items)


def test_report_of_exams_that_lack_some_templates():
    exams = sat_by(120)
    for number, exam in enumerate(exams):
        del exam[list(ITEMS)[number % 5]]
    made = pool(exams, OUT_OF)
    found = report(made, seed=5, resamples=0)
    assert found.missing == 120
    assert found.reliability_name == "Cronbach’s alpha"
    assert found.reliability == alpha(made.marks)
    assert found.bootstrap is None
    assert all(each.answers == 96 for each in item_reports(made))
    assert any("120 of 600 cells" in note for note in found.notes)


def in_three_ways(marks):
    """
    Return alpha of a full array of people by questions by three roads that share no code.

    From the mean variance and the mean covariance (Cronbach, 1951), from the mean squares of the
    analysis of variance (Hoyt, 1941), and from the differences between every two questions; all
    from memory, in plain loops.
    """
    people, questions = len(marks), len(marks[0])
    columns = list(zip(*marks, strict=True))
    variance = fmean(map(variance_of, columns))
    covariance = fmean(covariance_of(a, b) for a, b in combinations(columns, 2))
    by_covariance = questions * covariance / (variance + (questions - 1) * covariance)
    grand = fmean(map(fmean, marks))
    of_people = questions * sum((fmean(row) - grand) ** 2 for row in marks) / (people - 1)
    left = sum(
        (mark - fmean(row) - fmean(column) + grand) ** 2
        for row in marks
        for mark, column in zip(row, columns, strict=True)
    ) / ((people - 1) * (questions - 1))
    # A person's total, and how far the questions of each person differ in pairs.
    total = variance_of([sum(row) for row in marks])
    apart = sum(
        variance_of([one - other for one, other in zip(a, b, strict=True)])
        for a, b in combinations(columns, 2)
    )
    return by_covariance, 1 - left / of_people, 1 - apart / (questions - 1) / total


def test_reliability_weighs_questions_by_their_points_and_says_so():
    rng = np.random.default_rng(3)
    out_of = {"spacing": 12, "stock": 4, "floats": 1, "legs": 1}
    skills = rng.uniform(0, 1, 60)
    exams = [
        {each: float(rng.binomial(most, skill)) for each, most in out_of.items()}
        for skill in skills
    ]
    found = report(pool(exams, out_of), seed=5, resamples=0)
    marks = [list(exam.values()) for exam in exams]
    for other in in_three_ways(marks):
        assert found.reliability == pytest.approx(other)
    shares = [
        [mark / most for mark, most in zip(row, out_of.values(), strict=True)] for row in marks
    ]
    for other in in_three_ways(shares):
        assert found.equal == pytest.approx(other)
    assert abs(found.equal - found.reliability) > 0.02
    assert "Each weighs the points that it can give, 1 to 12" in found.weighed[0]
    # Where each gives one point the two are the same, and only one is told.
    even = report(pool(sat_by(120), OUT_OF), seed=5, resamples=0)
    assert even.equal is None
    assert even.weighed[0] == "It has 5 questions, and each weighs one point."
    for other in in_three_ways([list(exam.values()) for exam in sat_by(120)]):
        assert even.reliability == pytest.approx(other)


def test_report_of_one_candidate_has_notes_in_place_of_figures():
    made = pool([dict.fromkeys(ITEMS, 1)], OUT_OF)
    found = report(made, seed=5)
    assert found.mean == 1
    for figure in ("spread", "reliability", "feldt", "bootstrap", "error"):
        assert getattr(found, figure) is None
    assert found.notes == ("Reliability needs at least two questions and two people.",)
    assert all(keys(each.flags) == ["few answers"] for each in item_reports(made))
