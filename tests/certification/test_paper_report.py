"""A paper's report: its flags say the right thing and undefined figures are told apart."""

import numpy as np
import pytest

from training.certification.measure import alpha, kr20, option_shares, pool
from training.certification.paper_report import flags, report

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
        (30, 0.7, -0.01, ["works backward"]),
        (30, 0.7, 0.0, ["does not fit the rest"]),
        (30, 0.7, 0.19, ["does not fit the rest"]),
        (30, 0.7, 0.20, []),
        (30, 1.0, np.nan, ["too easy"]),
    ],
)
def test_flags(answers, difficulty, discrimination, expected):
    assert keys(flags(answers, difficulty, discrimination)) == expected


def test_every_flag_is_a_sentence():
    options = option_shares([{"42 in"}] * 30, ["42 in", "36 in"], {"42 in"})
    found = [*flags(30, 0.1, -0.2, options), *flags(30, 0.99, 0.1), *flags(3, 0.5, 0.5)]
    assert len(found) == 6
    for flag in found:
        assert flag.sentence[0].isupper()
        assert flag.sentence.endswith(".")


def test_a_dead_option_is_named():
    options = option_shares([{"42 in"}] * 30, ["42 in", "36 in"], {"42 in"})
    (flag,) = flags(*QUIET, options)
    assert flag.key == "unused answer"
    assert "36 in" in flag.sentence


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
    found = report(made, cut=0.6, seed=5, resamples=200)
    assert found.candidates == 120
    assert found.reliability_name == "KR-20"
    assert found.reliability == kr20(made.marks)
    assert found.feldt.low < found.reliability < found.feldt.high
    assert found.bootstrap.low < found.reliability < found.bootstrap.high
    assert found.error == pytest.approx(found.spread * np.sqrt(1 - found.reliability))
    assert 0.5 < found.consistency.consistent < 1
    assert [item.item for item in found.items] == list(ITEMS)
    assert all(item.answers == 120 for item in found.items)
    assert found.notes == ()


def test_report_of_papers_that_lack_some_templates():
    papers = sat_by(120)
    for number, paper in enumerate(papers):
        del paper[list(ITEMS)[number % 5]]
    made = pool(papers, OUT_OF)
    found = report(made, cut=0.6, seed=5, resamples=0)
    assert found.missing == 120
    assert found.reliability_name == "Cronbach’s alpha"
    assert found.reliability == alpha(made.marks)
    assert found.bootstrap is None
    assert all(item.answers == 96 for item in found.items)
    assert any("120 of 600 cells" in note for note in found.notes)


def test_report_of_one_candidate_has_notes_in_place_of_figures():
    found = report(pool([dict.fromkeys(ITEMS, 1)], OUT_OF), cut=0.6, seed=5)
    assert found.mean == 1
    for figure in ("spread", "reliability", "feldt", "bootstrap", "error", "consistency"):
        assert getattr(found, figure) is None
    assert found.notes == ("Reliability needs at least two questions and two people.",)
    assert all(keys(item.flags) == ["few answers"] for item in found.items)


def test_report_shows_option_figures_with_their_item():
    options = option_shares([{"a"}] * 120, "ab", {"a"})
    found = report(pool(sat_by(120), OUT_OF), 0.6, 5, {"stock": options}, resamples=0)
    stock = found.items[1]
    assert stock.options == options
    assert "unused answer" in keys(stock.flags)
