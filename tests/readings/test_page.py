"""What every finding says, for rigs that are sound, at the limit and broken each way there is."""

import re

import pytest

from rigs.rules import rulebook
from rigs.rules.wording import CUSTOM_SOURCE
from tests.readings.page import every, page
from tests.words import sentences, unwanted

MOST_WORDS = 20
TOLD = every()
ON_GEAR = [each for each in TOLD if not each.finding.requirement.of_trip]

NEVER = (
    *("not so", "must be so", "off by 0", "found no;", "found yes", "rule says longer", "-"),
    *("misses by", "none there", "a hair", "one short.", "wherever a gap is wider", "{", "}"),
    *(" 0 in", " 0 ft", " 0 fm", " 1 meshes", "None", "nan", "yes", "no rule"),
)

# A figure with its unit is one word to a reader: 2 1/2 in, 3 ft 6 in.
_NUMBER = r"\d+(?:[/.,]\d+)*(?: \d+/\d+)?"
_MEASURE = re.compile(rf"\b{_NUMBER}(?: (?:ft|in|fm|mm|lb)\b)?(?: {_NUMBER} in\b)?")


def said(each):
    """Return all the texts of a finding on gear, each on its own."""
    finding = each.finding
    texts = (each.sentence, finding.sheet_sentence, finding.remedy, *finding.places)
    return [text for text in texts if text]


def test_it_covers_every_rule_each_way():
    titles = {rule.title for name in rulebook.names() for rule in rulebook.load(name).requirements}
    text = page(whole=True)
    assert all(f"## {title}\n" in text for title in titles)
    for book in rulebook.gear_books():
        for rule in book.requirements:
            outcomes = {e.finding.outcome for e in ON_GEAR if e.finding.requirement == rule}
            assert rule.of_trip or {"pass", "fail"} <= outcomes, rule.title


def test_the_short_page_has_each_rule_broken():
    text = page()
    for each in ON_GEAR:
        section = text.split(f"## {each.finding.title}\n")[1].split("\n## ")[0]
        assert "*Fix it:*" in section or "*To do as is the custom:*" in section


@pytest.mark.parametrize("phrase", NEVER)
def test_no_finding_says(phrase):
    for each in ON_GEAR:
        for text in said(each):
            if phrase == "-":  # a sign before a figure
                assert not re.search(r"-\d", text), text
            else:
                assert phrase not in text, text


def test_findings_use_the_words_of_the_site():
    for each in ON_GEAR:
        for text in (each.finding.title, each.finding.requirement.why, *said(each)):
            assert not list(unwanted(text)), text


def test_each_says_where_it_comes_from_what_is_there_and_how_to_fix_it():
    for each in ON_GEAR:
        finding = each.finding
        assert finding.title
        assert "50 CFR 648" in finding.source or finding.source == CUSTOM_SOURCE
        assert finding.by_custom == (finding.source == CUSTOM_SOURCE)
        assert ("*" in finding.source) == (finding.requirement.known == "memory")
        assert each.sentence.endswith(".")
        assert each.sentence[0].isupper()
        assert bool(finding.remedy) == finding.failed


def test_sentences_are_short():
    for each in ON_GEAR:
        for text in (*said(each), each.finding.requirement.why, each.finding.reading):
            # What is there and what is asked are two thoughts, parted by a semicolon.
            halves = _MEASURE.sub("8", text).replace("; ", ". ").split(". ")
            for sentence, words in (told for half in halves for told in sentences(half)):
                assert words <= MOST_WORDS, sentence


def test_what_a_fishery_is_weighed_by_is_never_told_as_broken():
    told = [e.finding for e in TOLD if e.finding.requirement.basis == rulebook.FISHERY]
    assert {finding.mark for finding in told} >= {"a warning sign", "under the standard"}
    assert not {finding.mark for finding in told} & {"met", "broken"}


def test_a_custom_is_never_told_as_broken_or_outside():
    customs = [each.finding for each in ON_GEAR if each.finding.by_custom]
    assert {finding.outcome for finding in customs} == {"pass", "fail", "not measured"}
    for finding in customs:
        words = f"{finding.mark} {finding.sheet_mark} {finding.sentence} {finding.sheet_sentence}"
        assert not re.search("broken|outside|clause says|met", words.lower()), words
