"""The lessons themselves: their length, their numbers, their figures."""

import re
from dataclasses import replace

import pytest
import yaml

from rigs.rules import rulebook
from rigs.words import mesh
from rigs.words.units import FOOT, INCH
from tests.lessons.helpers import content_files, spaced, with_limits
from training.exercises.checks import lessons_can_be_read
from training.exercises.kinds import KINDS
from training.lessons import minutes
from training.lessons.loader import all_lessons, parse

FILES = content_files()

lesson_file = pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)


def read(path, load=rulebook.load):
    lesson = parse(path.read_text("utf-8"), path.name, load)
    return replace(lesson, body=spaced(lesson.body))


def test_there_are_the_lessons_that_were_promised():
    assert [lesson.slug for lesson in all_lessons()] == [
        "why-fish-part",
        "what-a-sweep-costs",
        "parts-of-the-rig",
        "droppers",
        "chain-stock",
        "floats-and-ropes",
        "legs-and-ground-cables",
        "shine-and-tuning",
        "converting-step-by-step",
        "what-an-officer-checks",
        "measuring-alike",
        "from-wing-end-to-center",
        "taking-each-measure",
        "what-goes-on-the-sheet",
        "being-fair",
        "where-when-and-what-is-kept",
        "what-may-be-kept",
    ]


@lesson_file
def test_a_lesson_is_short(path):
    assert read(path).reading_minutes <= 7


def test_minutes_are_of_the_words_read_at_the_pace_of_who_reads_little():
    # 150 words a minute: common practice, no source.
    lesson = read(FILES[0])
    assert minutes.reading(lesson.words) == pytest.approx(lesson.words / 150 * 60)
    assert [minutes.whole(each) for each in (0, 1, 60, 89, 90, 600)] == [0, 1, 1, 1, 2, 10]


@lesson_file
def test_no_measure_is_typed(path):
    # Found here by other means than the loader's own: every number outside the tags
    # is looked at, whatever follows it.
    text = re.sub(r"\{\{.*?\}\}", "", path.read_text("utf-8"), flags=re.DOTALL)
    text = re.sub(r"^\d\. ", "", text, flags=re.MULTILINE)  # of an ordered list
    assert not re.findall(r".*\d.*", text)


# Every limit is moved, a length by a foot and a number by one, and each lesson is to
# say nothing of the old one.
LENGTHS = {
    "dropper_spacing": 7 * FOOT,
    "dropper_stock": INCH / 4,
    "dropper_length": 43 * INCH,
    "sweep_stock": INCH / 4,
    "footrope_excess": 21 * FOOT,
    "float_spacing": 3.5 * FOOT,
    "float_diameter": 9 * INCH,
    "door_to_wing_end": 39 * 6 * FOOT,
    "mesh_size": 2.75 * INCH,
    "bycatch_share": 0.04,
}


@pytest.mark.parametrize("key", LENGTHS)
def test_a_changed_rule_set_changes_the_prose(key):
    changed = with_limits(**{key: LENGTHS[key]})
    names = [name for name in rulebook.names() if rulebook.load(name).has(key)]
    new = replace(rulebook.load(names[0]).requirement(key), limit=LENGTHS[key]).limit_text
    told = 0
    for path in FILES:
        if not re.search(rf"(limit|limits|allowed)\b[^}}]*\b{key}\b", path.read_text("utf-8")):
            continue
        told += 1
        before, after = read(path).body, read(path, changed).body
        assert before != after
        assert new in after
    assert told


def test_the_old_limit_is_gone_from_the_lesson_on_droppers():
    path = next(path for path in FILES if "droppers" in path.name)
    after = read(path, with_limits(dropper_spacing=7 * FOOT)).body
    said = re.sub(r"<(svg|section)\b.*?</\1>", "", after, flags=re.DOTALL)
    assert "8 ft" not in said
    assert said.count("7 ft") >= 2


def test_a_changed_clause_changes_the_prose():
    def load(name):
        book = rulebook.load(name)
        moved = tuple(replace(each, clause="50 CFR 999.9") for each in book.requirements)
        return replace(book, requirements=moved, follows=book.follows and "50 CFR 999.9")

    # How mesh is measured and what may not be on the net are no rules of a rule set.
    beside = (mesh.MEASURED, mesh.TOP_HALF, mesh.CLOSED_UP)
    for path in FILES:
        body = read(path, load).body
        for clause in beside:
            body = body.replace(clause, "")
        assert "648.80" not in body


@lesson_file
def test_each_lesson_has_a_figure_or_is_read_with_tables(path):
    body = read(path).body
    assert "<figure" in body or "<table" in body
    assert body.count("<figure") == body.count("<figcaption>")
    assert "style=" not in body
    assert "<script" not in body


@lesson_file
def test_paragraphs_are_short(path):
    body = re.sub(r"<(svg|section|div|figure)\b.*?</\1>", "", read(path).body, flags=re.DOTALL)
    for paragraph in re.findall(r"<p>(.*?)</p>", body, re.DOTALL):
        assert len(re.sub(r"<[^>]+>", "", paragraph).split()) <= 90, paragraph


@lesson_file
def test_exercises_are_ones_that_exist(path):
    assert set(read(path).kinds) <= set(KINDS)


def test_each_of_the_core_exercises_belongs_to_a_lesson():
    kinds = {kind for lesson in all_lessons() for kind in lesson.exercises}
    assert {"space-droppers", "pick-chain", "judge-rig"} <= kinds


@lesson_file
def test_front_matter_is_plain_yaml(path):
    head = path.read_text("utf-8").split("---\n")[1]
    assert yaml.safe_load(head)["rulebook"] in rulebook.names()


def test_the_sites_checks_find_nothing():
    assert lessons_can_be_read(None) == []


def test_the_sites_checks_name_a_bad_lesson(monkeypatch, tmp_path):
    (tmp_path / "01-bad.md").write_text("No front matter.")
    monkeypatch.setattr(
        "training.exercises.checks.all_lessons", lambda: all_lessons(folder=tmp_path)
    )
    (error,) = lessons_can_be_read(None)
    assert error.id == "lessons.E001"
    assert "01-bad.md, line 1" in error.msg


def test_the_sites_checks_name_an_exercise_that_is_not_there(monkeypatch):
    lesson = replace(all_lessons()[0], exercises=("knitting",))
    monkeypatch.setattr("training.exercises.checks.all_lessons", lambda: (lesson,))
    (error,) = lessons_can_be_read(None)
    assert error.id == "lessons.E002"
    assert "knitting" in error.msg
