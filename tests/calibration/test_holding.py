"""The test that tells who knows a rule from who guesses, by exact sums."""

from itertools import product
from math import log

import pytest

from training.calibration.holding import GUESSES, KNOWS, RISK, SOON, Count, chance, figures


def said(*calls):
    count = Count()
    for right in calls:
        count = count.after(bool(right))
    return count


def test_the_first_test_is_walds():
    """Wald 1945 (from memory): stop once the ratio of the two likelihoods is 1 over the risk."""
    risk = RISK / 2  # of the first test; those that follow share the rest
    for right, wrong in product(range(12), range(2)):
        ratio = right * log(KNOWS / GUESSES) + wrong * log((1 - KNOWS) / (1 - GUESSES))
        assert Count(right=right, wrong=wrong).held is (ratio >= log(1 / risk))
    assert Count().whole == 6  # 0.5 ** 6 is under 0.025, and 0.95 ** 6 / 0.5 ** 6 over 40


def test_every_test_that_begins_asks_twice_as_much():
    for test in range(1, 8):
        asked = log(2**test / RISK)
        rights = next(n for n in range(99) if Count(test, n).held)
        assert (rights - 1) * log(KNOWS / GUESSES) < asked <= rights * log(KNOWS / GUESSES)


def test_wrong_calls_close_together_begin_another_test():
    assert said(1, 0) == Count(right=1, wrong=1)
    assert said(0, 0) == Count(test=2)
    assert said(0, 1, 0) == Count(test=2)
    assert said(1, 1, 1, 1, 0, 1, 1, 0).test == 1


def test_a_wrong_call_after_holding_has_it_shown_once_more():
    held = said(*[1] * 6)
    assert held.held
    assert held.after(True) == held
    assert held.after(False) == Count(test=2, wrong=1)


@pytest.mark.parametrize("calls", [(), (1,), (1, 1, 0), (0,), (0, 0, 1), (1, 0, 1, 1, 0, 0)])
def test_to_go_is_how_many_right_ones_are_enough(calls):
    count = said(*calls)
    for _ in range(count.to_go):
        assert not count.held
        count = count.after(True)
    assert count.held
    assert count.to_go == 0


def test_the_chance_is_that_of_all_ways_in_which_calls_can_go():
    """Every one of 2 to the 11 ways, one by one, against the sum that is kept by states."""
    for share in (GUESSES, 0.8, KNOWS):
        total = 0.0
        for calls in product((True, False), repeat=11):
            count, held = Count(), False
            for right in calls:
                count = count.after(right)
                held = held or count.held
            rights = sum(calls)
            total += held * share**rights * (1 - share) ** (11 - rights)
        assert chance(share, 11) == pytest.approx(total)


def test_guessing_holds_a_rule_less_than_once_in_twenty_practices():
    """However long the practice: after 60 rigs nearly nothing is added."""
    assert chance(GUESSES, 16) < 0.05
    assert chance(GUESSES, 100) < RISK
    assert chance(GUESSES, 100) - chance(GUESSES, 60) < 1e-3


def test_whoever_knows_holds_it_soon():
    assert chance(KNOWS, 10) > 0.7
    assert chance(KNOWS, SOON) > 0.9
    assert chance(KNOWS, 40) > 0.999
    # Somebody who knows it less well needs longer, and gets there.
    assert chance(0.8, SOON) < chance(KNOWS, SOON)
    assert chance(0.8, 100) > 0.95


def test_pages_tell_what_the_test_does():
    told = figures()
    assert told.right_running == next(n for n in range(99) if said(*[1] * n).held)
    assert told.wrong_adds == said(0).to_go - Count().to_go
    assert told.knows_held == round(100 * chance(KNOWS, told.within))
    assert chance(GUESSES, 100) < told.guesses_held / 100
