"""Papers of one scheme: the same in what they cover, not in their numbers."""

from collections import namedtuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs import rulebook
from training.certification import papers, schemes
from training.certification.models import PaperTask
from training.certification.schemes import SchemeError, blueprint
from training.exercises import kinds

from .candidates import begin, make_scheme

Part = namedtuple("Part", "kind difficulty count")

JUDGING = [Part("judge-rig", 3, 4)]
ALL_BOOKS = ["no-sweep", "chain-sweep", "grate"]
COVERED = kinds.get("judge-rig").covers(rulebook.load("no-sweep"), 3)


def test_every_rule_that_must_be_right_has_a_task_of_its_own():
    must = ["float_spacing", "dropper_spacing", "sweep_stock", "grate_bar_gap"]
    slots = blueprint(JUDGING, ALL_BOOKS, must)
    assert sorted(key for slot in slots for key in slot.focus) == sorted(must)
    book = {slot.focus: slot.rulebook for slot in slots}
    assert book["sweep_stock",] == "chain-sweep"
    assert book["grate_bar_gap",] == "grate"


def test_a_kind_that_always_covers_a_rule_leaves_the_others_to_the_rest():
    parts = [Part("space-droppers", 1, 1), Part("judge-rig", 1, 1)]
    spacing, judging = blueprint(parts, ["no-sweep"], ["dropper_spacing", "legs_equal"])
    assert spacing.focus == ("dropper_spacing",)
    assert judging.focus == ("legs_equal",)


def test_rules_are_moved_about_until_each_has_a_place():
    """The first rule may go anywhere, the second only where the first was put first."""
    parts = [Part("measure-drawing", 2, 1), Part("measure-drawing", 1, 1)]
    easy, harder = (
        kinds.get("measure-drawing").covers(rulebook.load("no-sweep"), level) for level in (1, 2)
    )
    first = next(key for key in easy if key in harder)
    second = next(key for key in harder if key not in easy)
    slots = blueprint(parts, ["no-sweep"], [first, second])
    assert [slot.focus for slot in slots] == [(second,), (first,)]


@pytest.mark.parametrize(
    ("parts", "books", "must", "words"),
    [
        ([], ["no-sweep"], [], "at least one question"),
        (JUDGING, ["no-sweep"], ["sweep_stock"], "no question can be about"),
        (JUDGING, ["chain-sweep"], ["sweep_excess"], "no question can be about"),
        ([Part("pick-chain", 1, 3)], ["no-sweep"], ["float_spacing"], "Judge the rig"),
        ([Part("judge-rig", 1, 1)], ["no-sweep"], ["legs_equal", "float_spacing"], "not enough"),
        ([Part("space-droppers", 1, 1)], ["grate"], [], "Add one of these"),
    ],
)
def test_a_scheme_that_cannot_be_fair_is_refused_and_told_why(parts, books, must, words):
    with pytest.raises(SchemeError, match=f"(?i){words}"):
        blueprint(parts, books, must)


@given(st.lists(st.sampled_from(COVERED), unique=True, max_size=8), st.integers(1, 8))
def test_refused_just_when_there_are_more_rules_than_tasks(must, count):
    parts = [Part("judge-rig", 3, count)]
    if len(must) > count:
        with pytest.raises(SchemeError):
            blueprint(parts, ["no-sweep"], must)
    else:
        slots = blueprint(parts, ["no-sweep"], must)
        assert len(slots) == count
        assert sorted(key for slot in slots for key in slot.focus) == sorted(must)


def test_papers_cover_the_same_in_other_numbers(db):
    scheme = make_scheme()
    first, second = schemes.compose(scheme, 1), schemes.compose(scheme, 2)
    assert [spec.slot for spec in first] == [spec.slot for spec in second]
    assert not {spec.seed for spec in first} & {spec.seed for spec in second}
    assert first == schemes.compose(scheme, 1)
    assert schemes.levels([spec.slot for spec in first]) == [(1, 4)]


def test_the_tasks_do_turn_on_the_rules_that_must_be_right(user):
    scheme = make_scheme(attempts_allowed=5)
    for _ in range(5):
        paper = begin(user, scheme)
        lines = [line for each in paper.tasks.all() for line in papers.marked(each).lines]
        assert {line.key.split(":")[0] for line in lines} >= set(scheme.must_pass)
        papers.hand_in(paper)


@pytest.mark.parametrize("key", COVERED)
def test_a_rig_to_judge_fails_what_the_task_is_to_turn_on(key):
    kind, book = kinds.get("judge-rig"), rulebook.load("no-sweep")
    for seed in range(3):
        assert key in kind.generate(seed, book, 3, (key,)).verdict.failed_keys


def test_a_task_without_an_answer_earns_nothing_of_the_same_marks(db):
    for slug, kind in kinds.KINDS.items():
        task = kind.generate(5, rulebook.load("no-sweep"), 1, ())
        blank, some = kind.unanswered(task), kind.grade(task, kind.any_answer(task))
        assert (blank.marks, blank.out_of, blank.passed) == (0, some.out_of, False), slug
        assert not any(line.right for line in blank.lines)


def test_tasks_are_made_anew_from_what_the_paper_stores(user):
    paper = begin(user, make_scheme())
    for task in PaperTask.objects.filter(paper=paper):
        assert papers.task_of(task) == papers.task_of(task)
