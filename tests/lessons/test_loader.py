"""Lessons read from files: what is taken, what is refused, and when it is read again."""

import os
from dataclasses import replace
from datetime import date

import pytest

from rigs.rules import rulebook
from rigs.rules.text import write
from tests.lessons.helpers import BODY_LINE, small, spaced, text
from training.lessons import loader
from training.lessons.errors import LessonError
from training.lessons.loader import all_lessons, count_words, parse, typed_measures


def refusal(body="Some words.", name="01-small.md", **changes):
    with pytest.raises(LessonError) as refused:
        parse(text(body, **changes), name, rulebook.load)
    return str(refused.value)


def test_a_lesson_is_read():
    lesson = small("Some *words*.", exercises="[judge-rig]", more="[pick-chain]")
    assert (lesson.number, lesson.slug, lesson.reading_minutes) == (1, "small", 1)
    assert lesson.exercises == ("judge-rig",)
    assert lesson.more == ("pick-chain",)
    assert lesson.kinds == ("judge-rig", "pick-chain")
    assert lesson.rulebook is rulebook.load("no-sweep", "1")
    assert lesson.body == "<p>Some <em>words</em>.</p>"
    assert lesson.words == 2


@pytest.mark.parametrize(
    "field", ["title", "summary", "track", "exercises", "more", "rules", "rulebook"]
)
def test_every_field_is_needed(field):
    assert refusal(**{field: None}) == (
        f"01-small.md, line 1: “{field}” is missing from the front matter"
    )


@pytest.mark.parametrize(
    ("changes", "line", "words"),
    [
        ({"more": "judge-rig"}, 6, "must be a list"),
        ({"summary": '""'}, 3, "must be some words"),
        ({"track": "passengers"}, 4, "must be one of"),
        ({"exercises": "judge-rig"}, 5, "must be a list"),
        ({"exercises": "[Judge Rig]"}, 5, "no name of a kind"),
        ({"exercises": "[judge-rig, judge-rig]"}, 5, "twice"),
        ({"rulebook": "no-such"}, 8, "no rule set called"),
        ({"author": "somebody"}, 9, "unknown field “author”"),
        ({"summary": "About 8 ft long."}, 3, "a measure is typed"),
    ],
)
def test_a_wrong_field_is_refused_with_its_line(changes, line, words):
    message = refusal(**changes)
    assert message.startswith(f"01-small.md, line {line}: ")
    assert words in message


@pytest.mark.parametrize(
    ("whole", "words"),
    [
        ("Some words.", "must begin with front matter"),
        ("---\ntitle: x\n", "is not closed"),
        ("---\n- x\n---\n", "must be names and values"),
        ("---\ntitle: [\n---\n", "not readable"),
        ("---\ntitle: x\ntitle: y\n---\n", "is here twice"),
    ],
)
def test_broken_front_matter_is_refused(whole, words):
    with pytest.raises(LessonError, match=words):
        parse(whole, "01-small.md", rulebook.load)


@pytest.mark.parametrize("name", ["small.md", "1-small.md", "01-Small.md", "01_small.md"])
def test_a_file_must_be_named_by_number_and_slug(name):
    assert "must be called like" in refusal(name=name)


def test_a_second_title_is_refused():
    assert refusal("Words.\n\n# Title").startswith(f"01-small.md, line {BODY_LINE + 2}: ")


@pytest.mark.parametrize(
    "sentence",
    [
        "Hang one every 8 ft.",
        "Hang one every 8ft.",
        "Hang one every 8 feet.",
        "A 3/8 in chain.",
        'A 42" dropper.',
        "A 42-inch dropper.",
        "At most 40 fathoms.",
        "Under 5 percent of it.",
        "Under 5% of it.",
        "About 1.4 lb.",
        "Bars 50 mm apart.",
        "Some 2.44 m.",
        "Towed at 3 knots.",
        "Hang one every eight feet.",
        "Half a fathom of it.",
        "At least forty-two inches, or twenty feet.",
        "Bar of ⅜ in.",
    ],
)
def test_a_typed_measure_is_refused(sentence):
    message = refusal(f"Words.\n\n{sentence}")
    assert message.startswith(f"01-small.md, line {BODY_LINE + 2}: a measure is typed")


@pytest.mark.parametrize(
    "sentence",
    [
        "Two people and 3 kinds of net.",
        "See 50 CFR for it.",
        "Half of them inland.",
        '{{ worked floats headrope="70 ft" }}\n: An example',
    ],
)
def test_numbers_without_units_and_sizes_in_tags_are_taken(sentence):
    assert not list(typed_measures(sentence))


def test_only_words_that_are_read_count():
    html = (
        "<p>One two&nbsp;three.</p><svg><text>no no</text></svg><details>no</details> 3/8 in"
        "<table><tr><td>six</td></tr></table><section>seven</section><form>no</form>"
        "<p>(50 CFR 648.80(a)(9)(ii)(D))</p>"
    )
    assert count_words(html) == 8


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "01-first.md").write_text(text("The limit is {{ limit dropper_spacing }}."))
    (tmp_path / "02-second.md").write_text(text("Second."))
    return tmp_path


def test_lessons_come_in_order(folder):
    assert [lesson.slug for lesson in all_lessons(folder)] == ["first", "second"]


def test_a_file_is_parsed_once_and_again_when_it_changes(folder):
    before = all_lessons(folder)
    assert all_lessons(folder)[0] is before[0]
    path = folder / "01-first.md"
    path.write_text(text("Other words."))
    os.utime(path, ns=(0, before[0].number))
    after = all_lessons(folder)
    assert after[0].body == "<p>Other words.</p>"
    assert after[1] is before[1]


def test_a_lesson_is_parsed_again_when_another_rule_set_comes_into_force(folder, monkeypatch):
    before = all_lessons(folder)
    from tests.lessons.helpers import with_limits

    later = with_limits(dropper_spacing=7 * 0.3048)("no-sweep")
    monkeypatch.setattr(loader.rulebooks, "nearest", lambda name, day: later)
    after = all_lessons(folder)
    assert "8 ft" in spaced(before[0].body)
    assert "7 ft" in spaced(after[0].body)


def test_a_rule_set_without_a_version_is_shown_as_it_was_and_marked(folder):
    before = all_lessons(folder)
    book = replace(
        rulebook.load("no-sweep", "1"),
        version="2",
        effective_from=date(2020, 2, 1),
        effective_to=date(2020, 2, 29),
    )
    with rulebook.trying("ended.yaml", write(book)):
        after = all_lessons(folder)
    assert before[0].lapsed == ()
    assert [each.version for each in after[0].lapsed] == ["2"]
    assert "8 ft" in spaced(after[0].body)
    # Once it has a version again the mark goes.
    assert all_lessons(folder)[0].lapsed == ()


def test_two_lessons_cannot_have_one_number_or_one_slug(folder):
    (folder / "02-third.md").write_text(text())
    with pytest.raises(LessonError, match="its number is taken"):
        all_lessons(folder)
    (folder / "02-third.md").rename(folder / "03-first.md")
    with pytest.raises(LessonError, match="its slug is taken"):
        all_lessons(folder)
