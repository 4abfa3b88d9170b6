"""The lessons speak as the site speaks: plain American words, short sentences."""

import re

import pytest

from tests import words
from training.lessons.loader import all_lessons

lesson = pytest.mark.parametrize("lesson", all_lessons(), ids=lambda lesson: lesson.slug)

# Phrases that a lesson needs although the site does not speak so, with the reason.
ALLOWED = {
    # Where people meet the regulation's own word, for the first and last time.
    "parts-of-the-rig": ["The regulation calls them drop chains"],
    # Words that an officer is asked to leave out.
    "what-goes-on-the-sheet": ["“Unlawful”, “violation”, “offense”"],
}

MOST = 20
"""Words in a sentence."""

TOLERANCE = 5
"""How far a sentence may go over that lists parts, or into which a tag puts a figure."""

FEW = 0.1
"""The share of a lesson's sentences that may go over at all."""


def said_in(lesson):
    """Return what ``lesson`` says, its tables, findings and drawings included."""
    return " ".join(words.shown_in_html(f"{lesson.title}. {lesson.summary} {lesson.body}").split())


@lesson
def test_a_lesson_uses_the_sites_words(lesson):
    assert list(words.unwanted(said_in(lesson), ALLOWED.get(lesson.slug, ()))) == []


@pytest.mark.parametrize("slug", ALLOWED)
def test_an_exception_is_needed(slug):
    (lesson,) = (each for each in all_lessons() if each.slug == slug)
    for phrase in ALLOWED[slug]:
        assert phrase in said_in(lesson)
        assert list(words.unwanted(phrase))


@lesson
def test_sentences_are_short(lesson):
    blocks = words.prose_blocks(lesson.body.replace("Why it matters on the net: ", ""))
    said = [each for block in blocks for each in words.sentences(block)]
    over = [sentence for sentence, count in said if count > MOST]
    assert [sentence for sentence, count in said if count > MOST + TOLERANCE] == []
    assert len(over) <= FEW * len(said), over


@lesson
def test_headings_are_short_and_the_last_one_is_the_same(lesson):
    headings = [
        re.sub(r"<[^>]+>", "", each).strip() for each in re.findall(r"<h2>(.*?)</h2>", lesson.body)
    ]
    assert headings[-1] == "Remember"
    assert all(len(each.split()) <= 9 for each in headings)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("It lies towards the quay.", ["towards", "quay"]),
        ("Toward the dock, in the center.", []),
        ("A drop chain, and Drop Chains.", ["drop chain", "Drop Chains"]),
        ("Whoever told her is legal.", ["told", "Whoever", "legal", "her"]),
        ("It stands for the limit.", []),
        ("There, then, and the other.", []),
    ],
)
def test_words_are_found_as_words(text, found):
    assert sorted(each.split(" (in")[0] for each, _ in words.unwanted(text)) == sorted(found)


def test_a_clause_is_not_counted_word_by_word():
    (one,) = words.sentences("It is in one place (50 CFR 648.80(a)(9)(ii)(D)) and no other.")
    assert one[1] == 9


def test_sentences_end_where_they_end():
    said = words.sentences("Take 2.5 in. Then go on! “Why?” Say so: it is fine; then stop.")
    assert [count for _, count in said] == [3, 3, 1, 7]


def test_what_is_shown_is_told_from_what_is_not():
    page = '{% comment %}whoever{% endcomment %}<p title="a hair">So {{ told }} {# anew #}is it</p>'
    assert [each.split(" (in")[0] for each, _ in words.unwanted(words.shown_in_template(page))] == [
        "a hair"
    ]
    source = '"""Whoever."""\nX = "towards it"\nY = "centre"\n'
    assert words.shown_in_python(source) == "towards it"
    assert (
        words.shown_in_yaml("key: no_sweep\nwhy: It is so.\nlist: [{a: b c}]") == "It is so.\nb c"
    )
