"""A round's figures, held against the same calls counted in another way."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats import inter_rater
from statsmodels.stats.proportion import proportion_confint

from rigs.rules import rulebook
from rigs.statistics.facets import Lack
from rigs.statistics.kappa import fleiss_kappa
from tests.calibration.round_factory import FAILS, PASSES, UNSURE, truth
from training.calibration.figures import VERDICTS, Figures, so
from training.calibration.making import make
from training.calibration.models import Call
from training.calibration.tables import grid

BOOK = rulebook.load("no-sweep", "1")
RIGS = make(7, BOOK, 20, 50)


def calls(said, rigs=RIGS):
    """Return what ``said`` gives for each rig as Calls by number."""
    made = {}
    for rig in rigs:
        verdict, failing = said(rig)
        made[rig.number] = Call(number=rig.number, verdict=verdict, failing=failing)
    return made


def guesses(seed, rigs=RIGS):
    """Return the calls of somebody who errs at random, and sometimes cannot tell."""
    rng = random.Random(seed)
    keys = [each.key for each in rigs[0].verdict.rulebook.requirements]

    def said(rig):
        if rng.random() < 0.1:
            return UNSURE, []
        return truth(rig, miss=rng.sample(keys, 3), claim=rng.sample(keys, rng.randint(0, 2)))

    return calls(said, rigs)


def table(first, second):
    return [
        [sum(a == one and b == two for a, b in zip(first, second, strict=True)) for two in VERDICTS]
        for one in VERDICTS
    ]


@settings(max_examples=25)
@given(st.lists(st.integers(0, 10**6), min_size=2, max_size=6, unique=True))
def test_figures_are_those_of_statsmodels(seeds):
    figures = Figures(RIGS, {seed: guesses(seed) for seed in seeds})
    right = [so(rig) for rig in RIGS]
    said = {seed: [call.verdict for call in guesses(seed).values()] for seed in seeds}
    for each in figures.by_officer:
        theirs = said[each.officer]
        matches = sum(a == b for a, b in zip(theirs, right, strict=True))
        assert (each.right.count, each.right.of) == (matches, len(RIGS))
        assert each.right.wilson == pytest.approx(
            proportion_confint(matches, len(RIGS), method="wilson")
        )
        reference = inter_rater.cohens_kappa(np.array(table(theirs, right)))
        assert each.kappa.kappa == pytest.approx(reference.kappa)
        assert each.kappa.standard_error == pytest.approx(reference.std_kappa)
        if each.kappa.interval:
            assert -1 < each.kappa.interval.low < each.kappa.interval.high < 1
        assert each.unsure == theirs.count(UNSURE)
    counts = [
        [sum(said[seed][place] == verdict for seed in seeds) for verdict in VERDICTS]
        for place in range(len(RIGS))
    ]
    assert figures.among.kappa == pytest.approx(inter_rater.fleiss_kappa(counts))
    for pair in figures.pairs:
        reference = inter_rater.cohens_kappa(np.array(table(said[pair.first], said[pair.second])))
        assert pair.kappa.kappa == pytest.approx(reference.kappa)
    assert len(figures.pairs) == len(seeds) * (len(seeds) - 1) / 2


@settings(max_examples=25)
@given(st.integers(0, 10**6))
def test_one_officers_kappa_of_a_rule_is_that_of_statsmodels(seed):
    made = guesses(seed)
    for each in Figures(RIGS, {"one": made}).of_one("one"):
        key = each.requirement.key
        pairs = [
            (key in made[rig.number].failing, key in rig.verdict.failed_keys)
            for rig in RIGS
            if made[rig.number].verdict != UNSURE
        ]
        counts = np.array([[pairs.count((a, b)) for b in (False, True)] for a in (False, True)])
        assert each.calling.over.count == counts[1, 0]
        assert each.calling.under.count == counts[0, 1]
        assert each.calling.agreed.count == counts.trace()
        assert each.interval == pytest.approx(
            proportion_confint(counts.trace(), counts.sum(), method="wilson")
        )
        if each.kappa.kappa is not None:
            assert each.kappa.kappa == pytest.approx(inter_rater.cohens_kappa(counts).kappa)


def test_over_and_under_calling_of_known_habits():
    habits = {"blind": calls(lambda rig: truth(rig, miss=["float_diameter"]))}
    habits["strict"] = calls(lambda rig: truth(rig, claim=["legs_equal"]))
    figures = Figures(RIGS, habits)
    failing = sum("float_diameter" in rig.verdict.failed_keys for rig in RIGS)
    sound = sum("legs_equal" not in rig.verdict.failed_keys for rig in RIGS)
    blind, strict = figures.by_officer
    assert (blind.calling.under.count, blind.calling.over.count) == (failing, 0)
    assert (strict.calling.under.count, strict.calling.over.count) == (0, sound)
    by_key = {each.requirement.key: each for each in figures.by_rule}
    assert by_key["float_diameter"].calling.under.count == failing
    assert by_key["legs_equal"].calling.over.count == sound
    assert by_key["top_leg_wire"].calling.agreed.share == 1


def test_the_share_right_of_several_has_its_interval_by_rig_and_by_officer():
    figures = Figures(RIGS, {seed: guesses(seed) for seed in range(4)})
    right = np.array(
        [[made[rig.number].verdict == so(rig) for rig in RIGS] for made in figures.said.values()]
    )
    assert figures.right.count == right.sum()
    # The variance of a mean of both, counted from the means of rigs and of officers.
    variances = [right.mean(axis=axis).var(ddof=1) / right.shape[1 - axis] for axis in (0, 1)]
    found = figures.right_reach
    assert found.error**2 == pytest.approx(sum(variances))
    parts = zip(variances, (len(RIGS) - 1, 3), strict=True)
    degrees = sum(variances) ** 2 / sum(each**2 / free for each, free in parts)
    share = right.mean()
    half = stats.t.isf(0.025, min(degrees, len(RIGS) - 1)) * found.error / share / (1 - share)
    ends = [1 / (1 + (1 / share - 1) * np.exp(side * half)) for side in (1, -1)]
    assert figures.right_interval == pytest.approx(ends)


def test_rules_that_bind_some_vessels_only_are_counted_where_they_bind():
    rigs = make(3, rulebook.load("grate", "1"), 40, 50)
    figures = Figures(rigs, {"one": calls(truth, rigs), "two": calls(truth, rigs)})
    for each in figures.by_rule:
        binding = sum(
            any(finding.key == each.requirement.key for finding in rig.verdict.findings)
            for rig in rigs
        )
        assert each.calling.agreed.of == 2 * binding
    assert not {"season", "area"} & {each.requirement.key for each in figures.by_rule}


def test_six_officers_do_not_make_a_kappa_sure():
    # Each is wrong on four rigs of his own, so that no rig and no officer differs.
    rigs = make(7, BOOK, 24, 50)
    turned = {PASSES: FAILS, FAILS: PASSES}

    def said(officer, rig):
        verdict, failing = truth(rig)
        return (turned[verdict], []) if rig.number % 6 == officer else (verdict, failing)

    figures = Figures(
        rigs, {one: calls(lambda rig, one=one: said(one, rig), rigs) for one in range(6)}
    )
    for kappa in (figures.kappa, figures.among):
        assert kappa.reach.others
        assert kappa.interval.high - kappa.interval.low > 0.1
        assert -1 < kappa.interval.low < kappa.kappa < kappa.interval.high < 1


def test_of_two_officers_the_ranges_are_for_these_two():
    figures = Figures(RIGS, {seed: guesses(seed) for seed in range(2)})
    assert not figures.for_others
    assert not figures.kappa.reach.others
    counts = [
        [
            sum(made[rig.number].verdict == each for made in figures.said.values())
            for each in VERDICTS
        ]
        for rig in RIGS
    ]
    assert list(figures.among.interval) == pytest.approx(list(fleiss_kappa(counts).interval))
    assert Figures(RIGS, {seed: guesses(seed) for seed in range(3)}).for_others


class TestUndefined:
    def test_nobody(self):
        with pytest.raises(ValueError, match="Nobody"):
            Figures(RIGS, {})

    def test_half_a_round(self):
        with pytest.raises(ValueError, match="whole rounds"):
            Figures(RIGS, {"one": {1: Call(number=1, verdict=PASSES)}})

    def test_one_officer_alone(self):
        figures = Figures(RIGS, {"one": guesses(1)})
        assert figures.among is None
        assert figures.pairs == []
        assert grid(figures) == [("one", [None])]
        assert all(each.among is None for each in figures.by_rule)

    def test_everybody_said_the_same_of_every_rig(self):
        same = {name: calls(lambda rig: (PASSES, [])) for name in "ab"}
        figures = Figures(RIGS, same)
        assert figures.among.kappa is None
        assert figures.pairs[0].kappa.kappa is None
        # The rule module differed, so there kappa is nought, and nothing tells how sure.
        assert figures.by_officer[0].kappa.kappa == pytest.approx(0)
        assert figures.by_officer[0].kappa.interval is None
        assert figures.by_officer[0].kappa.reach.lack == Lack.ALIKE

    def test_everybody_is_right(self):
        figures = Figures(RIGS, {name: calls(truth) for name in "ab"})
        assert figures.kappa.kappa == figures.among.kappa == 1
        assert figures.kappa.reach.lack == figures.among.reach.lack == Lack.TOP
        assert figures.right_interval is None
        assert (figures.astray.count, figures.split.count, figures.split.of) == (0, 0, len(RIGS))

    def test_nobody_could_tell_any_rig(self):
        unsure = {name: calls(lambda rig: (UNSURE, [])) for name in "ab"}
        figures = Figures(RIGS, unsure)
        assert figures.right.share == 0
        assert figures.kappa.kappa == pytest.approx(0)
        assert figures.calling.agreed.share is None
        for each in figures.by_rule + figures.of_one("a"):
            assert (each.kappa, each.reach, each.among) == (None, None, None)


def test_a_rig_that_could_not_be_told_leaves_its_rules_open():
    first = RIGS[0].number

    def said(rig):
        return (UNSURE, []) if rig.number == first else truth(rig)

    figures = Figures(RIGS, {"one": calls(said), "two": calls(truth)})
    one, two = figures.by_officer
    parts = len(RIGS[0].verdict.regulation)
    assert two.calling.agreed.of - one.calling.agreed.of == parts
    assert one.calling.agreed.share == 1
    assert (one.right.count, one.unsure) == (len(RIGS) - 1, 1)


def test_the_grid_is_the_same_both_ways():
    figures = Figures(RIGS, {seed: guesses(seed) for seed in range(3)})
    cells = [row for _, row in grid(figures)]
    for i in range(3):
        assert cells[i][i] is None
        for j in range(3):
            assert cells[i][j] is cells[j][i]


def test_the_truth_is_the_rule_modules():
    assert {so(rig) for rig in RIGS} == {PASSES, FAILS}
    assert all((so(rig) == PASSES) is rig.verdict.legal for rig in RIGS)
