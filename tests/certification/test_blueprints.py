"""What every form of an exam holds: the same rules at the same levels, as often."""

from collections import Counter, namedtuple
from datetime import timedelta

import pytest

from rigs.rules import rulebook
from tests.certification.candidates import begin, make_requirements, make_strict
from training.certification import blueprints, exams, spread, terms
from training.certification.blueprints import blueprint
from training.certification.models import ExamTask
from training.certification.spread import LAST, READING, RequirementsError
from training.exercises import kinds

Part = namedtuple("Part", "kind difficulty count")

BOOKS = ["no-sweep", "chain-sweep", "grate"]
BOOK = rulebook.load("no-sweep", "1")
PLAIN = [each.key for each in BOOK.requirements if each.is_plain]
MEASURED = [each.key for each in BOOK.requirements if each.key not in PLAIN and not each.by_custom]


def readings(count, level=3):
    return [Part(READING, level, count)]


def asked(slots):
    """Return how often each rule is asked."""
    return Counter(slot.focus[0] for slot in slots if slot.kind == READING)


def test_each_rule_that_must_be_right_is_asked_as_often_as_wanted():
    for must_asked in (3, 5):
        found = asked(
            blueprint(readings(40), ["no-sweep"], ["no_sweep", "top_leg_wire"], must_asked)
        )
        assert found["no_sweep"] == found["top_leg_wire"] == must_asked


def test_what_is_left_is_shared_out_evenly_among_the_measured_rules():
    found = asked(blueprint(readings(54), ["no-sweep"], ["dropper_spacing"], 4))
    others = [found[key] for key in MEASURED if key != "dropper_spacing"]
    assert found.total() == 54
    assert max(others) - min(others) <= 1
    assert min(others) >= 2


def test_a_rule_that_its_name_gives_away_is_asked_once_at_most_unless_it_must_be_right():
    found = asked(blueprint(readings(54), ["no-sweep"], ["no_sweep"], 4))
    assert {found[key] for key in PLAIN if key != "no_sweep"} == {1}
    # With few readings the measured rules come first.
    few = asked(blueprint(readings(len(MEASURED) + 3), ["no-sweep"], [], 4))
    assert not few.keys() & set(PLAIN)
    assert few.keys() == set(MEASURED)


def test_levels_are_what_was_asked_for_and_every_rule_has_its_share():
    parts = [Part(READING, 2, 20), Part(READING, 3, 30)]
    slots = blueprint(parts, ["no-sweep"], ["dropper_spacing"], 5)
    assert Counter(slot.difficulty for slot in slots) == {2: 20, 3: 30}
    of_must = Counter(slot.difficulty for slot in slots if slot.focus == ("dropper_spacing",))
    assert of_must.total() == 5
    assert set(of_must.values()) == {2, 3}


def test_a_rule_is_asked_by_the_rule_sets_that_have_it_and_two_limits_are_two_rules():
    slots = blueprint(readings(80), BOOKS, [], 4)
    books = {}
    for slot in slots:
        books.setdefault(slot.focus[0], Counter())[slot.rulebook] += 1
    assert books["sweep_stock"].keys() == {"chain-sweep"}
    assert books["grate_bar_gap"].keys() == {"grate"}
    # The chain sweep's droppers are of thinner chain, 5/16 in to 3/8 in; both are asked.
    assert books["dropper_stock"]["chain-sweep"] >= 2
    assert books["dropper_stock"].total() - books["dropper_stock"]["chain-sweep"] >= 2
    drawn = Counter(slot.rulebook for slot in slots)
    assert min(drawn.values()) > 80 / len(BOOKS) / 2


def test_a_rule_that_only_one_level_has_is_asked_there():
    """Readings under the grate's rules come at the hardest level alone."""
    levels = [each for each, names in kinds.get(READING).rulebooks.items() if "grate" in names]
    parts = [Part(READING, 2, 30), Part(READING, 3, 40)]
    for slot in blueprint(parts, BOOKS, ["grate_bar_gap"], 6):
        assert slot.rulebook != "grate" or slot.difficulty in levels


def test_other_kinds_come_after_the_readings_and_turn_on_no_rule_of_ones_own():
    parts = [Part("space-droppers", 2, 2), *readings(20), Part("judge-rig", 3, 4)]
    slots = blueprint(parts, BOOKS[:1], [], 4)
    assert [slot.kind for slot in slots[20:]] == ["space-droppers"] * 2 + ["judge-rig"] * 4
    assert {slot.focus for slot in slots[20:]} == {()}


def test_questions_of_several_sizes_are_spread_evenly_over_the_measured_rules():
    slots = blueprint([Part(LAST, 3, 28)], ["no-sweep", "grate"], [], 4)
    asked = Counter(slot.focus for slot in slots)
    assert len(asked) == 14
    assert set(asked.values()) == {2}
    assert Counter(slot.rulebook for slot in slots)["no-sweep"] >= 5


def test_fewer_of_them_than_rules_ask_no_rule_twice():
    slots = blueprint([Part(LAST, 1, 5)], ["no-sweep"], [], 4)
    assert len({slot.focus for slot in slots}) == 5


@pytest.mark.parametrize(
    ("parts", "books", "must", "words"),
    [
        ([], ["no-sweep"], [], "at least one question"),
        ([Part("judge-rig", 3, 0)], ["no-sweep"], [], "at least one question"),
        (readings(40), ["no-sweep"], ["sweep_stock"], "no reading can ask “Sweep chain size”"),
        (readings(40), ["no-sweep"], ["dropper_length"], "no reading can ask"),
        ([Part("judge-rig", 1, 9)], ["no-sweep"], ["legs_equal", "no_sweep"], "Add at least 8"),
        ([Part("space-droppers", 1, 1)], ["grate"], [], "Add one of these"),
        ([Part("gone-kind", 1, 1)], ["no-sweep"], [], "no longer here”. Set other numbers"),
        ([Part("judge-rig", 9, 1)], ["no-sweep"], [], "at level 9 are of “Judge the rig”"),
        (readings(40), ["no-sweep"], ["gone_rule"], "ask “a rule that is no longer here”"),
        (readings(16), ["no-sweep"], ["float_spacing", "no_sweep"], "at least 16"),
    ],
)
def test_a_requirements_that_cannot_be_fair_is_refused_and_told_why(parts, books, must, words):
    if words == "at least 16":
        # Four of each rule that must be right, one of each of the eight other measured ones.
        assert len(blueprint(parts, books, must, 4)) == 16
        parts = readings(15)
    with pytest.raises(RequirementsError, match=f"(?i){words}"):
        blueprint(parts, books, must, 4)


def test_questions_that_can_ask_no_rule_are_refused(monkeypatch):
    monkeypatch.setattr(spread, "rules", lambda *args: [])
    with pytest.raises(RequirementsError, match="can ask no rule of these rule sets"):
        blueprint([Part(LAST, 2, 3)], ["no-sweep"], [], 0)


def test_what_the_site_has_no_longer_is_not_called_by_its_inner_name():
    was = dict.fromkeys(terms.FIELDS, "")
    now = was | {terms.PARTS: [["gone-kind", 1, 2]], "must_pass": ["gone_rule"], "rulebooks": []}
    told = " ".join(" ".join(each) for each in terms.differences(was, now))
    assert "a kind of question that is no longer here, level 1" in told
    assert "a rule that is no longer here" in told
    assert "gone" not in told.replace("longer", "")


def test_the_time_needed_grows_with_what_is_asked():
    one = blueprints.time_needed(blueprint(readings(20), ["no-sweep"], [], 4))
    assert one == timedelta(minutes=5)  # 15 seconds each, common practice, no source
    parts = [*readings(20), Part("judge-rig", 3, 2)]
    assert blueprints.time_needed(blueprint(parts, ["no-sweep"], [], 4)) == timedelta(minutes=11)


def test_rows_add_up_to_the_form_with_what_must_be_right_first():
    parts = [Part(READING, 2, 20), Part(READING, 3, 20), Part("judge-rig", 3, 4)]
    must = ["dropper_spacing", "no_sweep"]
    slots = blueprint(parts, ["no-sweep"], must, 4)
    rows = blueprints.rows(slots, ["no-sweep"], must)
    assert sum(row.total for row in rows) == len(slots) == 44
    assert [row.must for row in rows][:3] == [True, True, False]
    assert [row.total for row in rows][:2] == [4, 4]
    assert rows[-1].title == kinds.get("judge-rig").title


def test_the_tasks_do_ask_the_rules_that_must_be_right(user):
    requirements = make_strict()
    exam = begin(user, requirements)
    made = [exams.task_of(each) for each in exam.tasks.filter(kind=READING)]
    found = Counter(task.requirement.key for task in made)
    assert {found[key] for key in requirements.must_pass} == {requirements.must_asked}


def test_a_task_without_an_answer_earns_nothing_of_the_same_marks(db):
    for slug, kind in kinds.KINDS.items():
        task = kind.generate(5, rulebook.load("no-sweep", "1"), 1, ())
        blank, some = kind.unanswered(task), kind.grade(task, kind.any_answer(task))
        assert (blank.marks, blank.out_of, blank.passed) == (0, some.out_of, False), slug
        assert not any(line.right for line in blank.lines)


def test_tasks_are_made_anew_from_what_the_exam_stores(user):
    exam = begin(user, make_requirements())
    for task in ExamTask.objects.filter(exam=exam):
        assert exams.task_of(task) == exams.task_of(task)
