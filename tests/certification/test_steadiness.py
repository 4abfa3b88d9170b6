"""The steadiness of verdicts, held against people whose true shares are known."""

import numpy as np
import pytest

from rigs.statistics.steadiness import NothingToTell, Shape, error_at_cut, steadiness
from tests.certification.livingston_lewis import decision_consistency

CREW = Shape(asked=(4, 4, 4, *(3,) * 12, 4), needed=46, slips={0: 1, 1: 1, 2: 1})


def made_up(people, exam, seed):
    """
    Return (answers, consistent, accurate) of people who know a rule or do not (made-up data).

    A known rule is right 97 times in 100, another half the time.
    """
    rng = np.random.default_rng(seed)
    knowledge = rng.beta(6, 2, size=(people, 1))
    knows = rng.random((people, len(exam.asked))) < knowledge
    share = np.where(knows, 0.97, 0.5)
    asked = np.array(exam.asked)
    first, second = rng.binomial(asked, share), rng.binomial(asked, share)
    deserved = exam.passes(share * asked)
    same = exam.passes(first) == exam.passes(second)
    return first, same.mean(), (exam.passes(first) == deserved).mean()


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_it_finds_what_a_second_exam_would_say(seed):
    # The truth is counted over 20,000 made-up people; the figure comes from 300 of them who
    # took one exam. Their own standard error is about 0.02.
    _, same, right = made_up(20_000, CREW, seed)
    answers, _, _ = made_up(300, CREW, seed + 100)
    found = steadiness(answers, CREW, seed=seed)
    assert found.consistent == pytest.approx(same, abs=0.05)
    assert found.accurate == pytest.approx(right, abs=0.05)
    assert found.accurate + found.false_pass + found.false_fail == pytest.approx(1)
    assert found.people == 300


def test_rules_that_must_be_right_make_a_difference():
    answers, _, _ = made_up(300, CREW, seed=4)
    easy = CREW.asked, 0
    assert steadiness(answers, Shape(*easy, {}), seed=1).consistent == 1
    assert steadiness(answers, Shape(*easy, CREW.slips), seed=1).consistent < 0.95


def test_of_alike_questions_it_agrees_with_the_one_sitting_estimate():
    # Where questions do not hang together by rule and none must be right, Livingston and
    # Lewis (1995) estimate the same thing another way.
    rng = np.random.default_rng(7)
    share = rng.beta(8, 3, size=(400, 1))
    exam = Shape((1,) * 40, needed=28, slips={})
    answers = rng.binomial(1, share, size=(400, 40))
    shares = answers.mean(axis=1)
    p = answers.mean(axis=0)
    reliability = 40 / 39 * (1 - (p * (1 - p)).sum() / answers.sum(axis=1).var())
    other = decision_consistency(shares, float(reliability), 0.7)
    assert steadiness(answers, exam, seed=2).consistent == pytest.approx(other.consistent, abs=0.03)


def test_the_same_seed_gives_the_same_figures():
    answers, _, _ = made_up(40, CREW, seed=5)
    assert steadiness(answers, CREW, seed=9) == steadiness(answers, CREW, seed=9)


def test_nothing_is_told_of_one_person_or_of_people_all_alike():
    with pytest.raises(NothingToTell, match="two people"):
        steadiness([[4, 4]], Shape((4, 4), 6, {}), seed=1)
    with pytest.raises(NothingToTell, match="same answers"):
        steadiness([[4, 4], [4, 4]], Shape((4, 4), 6, {}), seed=1)


def test_slips_count_beside_points():
    exam = Shape((4, 4), needed=6, slips={0: 1})
    right = np.array([[4, 2], [3, 3], [2, 4], [3, 2]])
    assert exam.passes(right).tolist() == [True, True, False, False]


def test_the_error_at_the_cut_by_hand():
    # 36 right of 40: the root of 36 x 4 / 39.
    assert error_at_cut(36, 40) == pytest.approx(1.9215, abs=1e-4)
