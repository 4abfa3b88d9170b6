import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs import rulebook
from rigs.judge import judge
from training.exercises import kinds
from training.exercises.kinds.base import EASIEST
from training.exercises.kinds.judge_rig import (
    FAULT_MARKS,
    FAULTS,
    LEGAL,
    NOT_LEGAL,
    SOUND_PART_COSTS,
    VERDICT_MARKS,
)

KIND = kinds.get("judge-rig")
EVERY = [(name, difficulty) for difficulty, names in KIND.rulebooks.items() for name in names]

tasks = st.builds(
    lambda seed, which: KIND.generate(seed, rulebook.load(which[0]), which[1]),
    st.integers(0, 2**31 - 1),
    st.sampled_from(EVERY),
)


def perfect(task):
    verdict = judge(task.rig, task.rulebook)
    return {
        "verdict": LEGAL if verdict.legal else NOT_LEGAL,
        "failing": sorted(verdict.failed_keys),
    }


@pytest.mark.parametrize(("name", "difficulty"), EVERY)
def test_what_counts_as_true_is_what_the_judge_finds(name, difficulty):
    book = rulebook.load(name)
    counts = set()
    for seed in range(200):
        task = KIND.generate(seed, book, difficulty)
        verdict = judge(task.rig, book)
        assert not verdict.not_measured
        marked = KIND.grade(task, perfect(task))
        assert marked.passed
        assert marked.marks == marked.out_of
        assert {line.key for line in marked.lines if line.outcome == "fail"} - {
            "verdict"
        } == verdict.failed_keys
        # Every clause that binds the rig can be ticked, and nothing else.
        offered = [key for key, _ in KIND.form(task)().fields["failing"].choices]
        assert offered == [finding.key for finding in verdict.regulation]
        counts.add(len(verdict.failed))
    assert counts == set(FAULTS[difficulty])


@given(tasks)
def test_the_task_does_not_tell_how_many_faults_there_are(task):
    shown = KIND.shown(task)
    for picture in shown["pictures"]:
        assert not picture.scene.of_style("fault")
        assert not picture.scene.of_style("badge")
    marked = KIND.grade(task, perfect(task))
    assert len(marked.pictures) == 1


@given(tasks, st.data())
def test_a_sound_part_ticked_costs_a_mark(task, data):
    answer = perfect(task)
    sound = [each.key for each in task.requirements if each.key not in answer["failing"]]
    answer["failing"].append(data.draw(st.sampled_from(sound)))
    marked = KIND.grade(task, answer)
    assert marked.marks == marked.out_of - SOUND_PART_COSTS


@given(tasks, st.data())
def test_a_fault_not_found_loses_its_own_marks_only(task, data):
    answer = perfect(task)
    if not answer["failing"]:
        return
    missed = data.draw(st.sampled_from(answer["failing"]))
    answer["failing"].remove(missed)
    marked = KIND.grade(task, answer)
    assert marked.marks == marked.out_of - FAULT_MARKS
    assert [line.key for line in marked.lines if not line.right] == [missed]
    line = next(line for line in marked.lines if line.key == missed)
    assert line.remedy
    assert line.clause


@given(tasks)
def test_the_wrong_verdict_loses_its_marks_and_the_pass(task):
    answer = perfect(task)
    answer["verdict"] = NOT_LEGAL if answer["verdict"] == LEGAL else LEGAL
    marked = KIND.grade(task, answer)
    assert marked.marks == marked.out_of - VERDICT_MARKS
    assert not marked.passed


@given(tasks)
def test_ticking_everything_is_never_less_than_nought_and_never_passes(task):
    answer = perfect(task)
    answer["failing"] = [each.key for each in task.requirements]
    marked = KIND.grade(task, answer)
    assert marked.marks >= 0
    assert not marked.passed


@given(tasks)
def test_marks_never_fall_below_nought(task):
    truth = perfect(task)
    wrong = {
        "verdict": NOT_LEGAL if truth["verdict"] == LEGAL else LEGAL,
        "failing": [e.key for e in task.requirements if e.key not in truth["failing"]],
    }
    assert KIND.grade(task, wrong).marks == 0


def test_an_answer_that_contradicts_itself_is_remarked_upon():
    task = KIND.generate(1, rulebook.load("no-sweep"), 1)
    assert KIND.grade(task, {"verdict": LEGAL, "failing": ["dropper_bare"]}).remarks
    assert KIND.grade(task, {"verdict": NOT_LEGAL, "failing": []}).remarks
    assert not KIND.grade(task, {"verdict": NOT_LEGAL, "failing": ["dropper_bare"]}).remarks


def test_beginners_are_told_the_limits_and_others_not():
    book = rulebook.load("no-sweep")
    limit = book.requirement("dropper_stock").limit_text

    def labels(difficulty):
        form = KIND.form(KIND.generate(1, book, difficulty))()
        return dict(form.fields["failing"].choices)

    assert limit in labels(1)["dropper_stock"]
    assert limit not in labels(2)["dropper_stock"]


def test_limits_written_from_memory_are_marked_where_they_are_shown():
    """What the grate fishery asks of bars was read; of floats it was written from memory."""
    form = KIND.form(KIND.generate(3, rulebook.load("grate"), EASIEST))()
    labels = dict(form.fields["failing"].choices)
    assert labels["float_diameter"] == "Float size (at least 8 in*)"
    assert labels["grate_bar_gap"] == "Space between grate bars (at most 50 mm)"
