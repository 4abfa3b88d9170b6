"""The pieces of page that several parts of the site share."""

import random
from datetime import date

import pytest
from django.template.loader import render_to_string

from rigs.make import faults, sample
from rigs.rules import rulebook
from rigs.rules.judge import judge


@pytest.fixture(scope="module")
def rules():
    return rulebook.load("no-sweep", "1")


@pytest.fixture(scope="module")
def verdict(rules):
    rng = random.Random(3)
    rig = sample.legal_rig(rng, rules)
    return judge(faults.spoil(rig, "float_spacing", faults.Draw(rng, rules)), rules)


def order(html, *texts):
    """Return whether ``texts`` stand in ``html`` in this order."""
    places = [html.index(text) for text in texts]
    return places == sorted(places)


def test_findings_of_a_verdict_show_what_fails_first(verdict):
    html = render_to_string("deck/findings.html", {"verdict": verdict})
    (failed,) = verdict.failed
    assert html.count("finding-fail") == 1
    assert html.count("finding-pass") == len(verdict.passed)
    assert order(html, failed.title, "Fix it:", failed.clause, verdict.passed[0].title)
    assert f"Met: {len(verdict.passed)} rules" in html


def test_findings_may_be_dicts():
    common = {"source": "clause A"}
    findings = [
        common | {"title": "Kept", "outcome": "pass", "sentence": "It is 3 ft.", "remedy": ""},
        common | {"title": "Unseen", "outcome": "not measured", "sentence": "Not measured."},
        common
        | {"title": "Broken", "outcome": "fail", "sentence": "It is 5 ft.", "remedy": "Add one."},
    ]
    html = render_to_string("deck/findings.html", {"findings": findings})
    assert order(html, "Broken", "It is 5 ft.", "Add one.", "Unseen", "Kept", "It is 3 ft.")


def test_cautions_name_the_rule_set_and_who_decides(rules):
    html = " ".join(render_to_string("deck/cautions.html", {"rulebook": rules}).split())
    assert rules.title in html
    assert f"version {rules.version}" in html
    day = rules.effective_from
    assert f"{day:%B} {day.day}, {day.year}" in html
    assert isinstance(day, date)
    for words in ("not legal advice", "your permit", "local officer", "Chain under load"):
        assert words in html
