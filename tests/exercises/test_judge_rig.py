import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from rigs.rules import rulebook
from rigs.rules.judge import judge
from training.exercises import kinds
from training.exercises.kinds.base import EASIEST
from training.exercises.kinds.judge_rig import (
    FAULTS,
    LEGAL,
    NOT_LEGAL,
    PART_MARKS,
    SLIPS,
    SPOTS,
    VERDICT_MARKS,
)
from training.exercises.kinds.one_reading import BROKEN, MET

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
        # Sound or faulty, every rig is worth the same.
        assert marked.out_of == VERDICT_MARKS + PART_MARKS
        # Every clause that binds the rig can be ticked, and nothing else.
        offered = [key for key, _ in KIND.form(task)().fields["failing"].choices]
        assert offered == [finding.key for finding in verdict.regulation]
        counts.add(len(verdict.failed))
    assert counts >= {0, *FAULTS[difficulty]}


@given(tasks)
def test_the_task_does_not_tell_how_many_faults_there_are(task):
    shown = KIND.shown(task)
    for picture in shown["pictures"]:
        assert not picture.scene.of_style("fault")
        assert not picture.scene.of_style("badge")
    marked = KIND.grade(task, perfect(task))
    assert len(marked.pictures) == 1


@given(tasks, st.data())
def test_one_part_called_wrong_is_a_slip(task, data):
    """One is forgiven at levels 1 and 2 where the verdict is right, none at level 3."""
    answer = perfect(task)
    part = data.draw(st.sampled_from([each.key for each in task.requirements]))
    answer["failing"] = sorted({part} ^ set(answer["failing"]))
    marked = KIND.grade(task, answer)
    assert marked.marks == marked.out_of - 1
    assert [line.key for line in marked.lines if not line.right] == ["parts", part]
    assert marked.passed is (SLIPS[task.difficulty] > 0)
    assert SLIPS == {1: 1, 2: 1, 3: 0}


@given(tasks)
def test_a_part_called_wrong_tells_its_clause_and_how_to_fix_it(task):
    answer = perfect(task) | {"failing": []}
    lines = {line.key: line for line in KIND.grade(task, answer).lines}
    for finding in task.verdict.failed:
        assert lines[finding.key].remedy
        assert lines[finding.key].clause


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
    book = rulebook.load("no-sweep", "1")
    task = next(task for seed in range(50) if not (task := KIND.generate(seed, book, 1)).odd)
    assert KIND.grade(task, {"verdict": LEGAL, "failing": ["dropper_bare"]}).remarks
    assert KIND.grade(task, {"verdict": NOT_LEGAL, "failing": []}).remarks
    assert not KIND.grade(task, {"verdict": NOT_LEGAL, "failing": ["dropper_bare"]}).remarks


@pytest.mark.parametrize("difficulty", [1, 2, 3])
def test_the_form_shows_no_limit(difficulty):
    """The same form is set in an exam, at whatever level."""
    for seed in range(5):
        task = KIND.generate(seed, rulebook.load("no-sweep", "1"), difficulty)
        labels = dict(KIND.form(task)().fields["failing"].choices)
        assert labels == {each.key: each.title for each in task.requirements}


def test_limits_are_told_at_level_1_of_practice_alone(as_user, user):
    book = rulebook.load("no-sweep", "1")
    limit = book.requirement("dropper_stock").limit_text
    for difficulty in (1, 2, 3):
        shown = KIND.shown(KIND.generate(1, book, difficulty))
        assert (limit in dict(shown["limits"]).get("Dropper chain size", "")) is (difficulty == 1)
    page = as_user.get(reverse("exercises:do", args=[KIND.slug])).content.decode()
    assert "shown at level 1 only" in page


def test_limits_written_from_memory_are_marked_where_they_are_shown():
    """What the grate fishery asks of bars was read; of floats it was written from memory."""
    shown = KIND.shown(KIND.generate(3, rulebook.load("grate", "1"), EASIEST))
    limits = dict(shown["limits"])
    assert limits["Float size"] == "at least 8 in*"
    assert limits["Space between grate bars"] == "at most 50 mm"


# What does not pay ---------------------------------------------------------


@pytest.fixture(scope="module", params=[1, 2, 3])
def many(request):
    """Two hundred rigs of a level."""
    book = rulebook.load("no-sweep", "1")
    return [KIND.generate(seed, book, request.param) for seed in range(200)]


def share(found):
    found = list(found)
    return sum(found) / len(found)


def test_either_verdict_is_about_as_likely(many):
    # 0.4 of 200 within four standard errors, 4 * sqrt(0.4 * 0.6 / 200) = 0.14.
    assert share(task.verdict.legal for task in many) == pytest.approx(0.4, abs=0.14)


def test_to_say_the_same_of_every_rig_passes_none_or_the_sound_ones(many):
    every = [each.key for each in many[0].requirements]
    for task in many:
        met, broken = ({"verdict": LEGAL, "failing": []}, {"verdict": NOT_LEGAL, "failing": every})
        assert KIND.grade(task, met).passed is task.verdict.legal
        assert not KIND.grade(task, broken).passed


def test_a_rig_has_as_many_things_that_draw_the_eye_sound_or_not(many):
    for task in many:
        assert len(task.about) + len(task.odd) == SPOTS[task.difficulty]
        # So many at least are sound.
        assert SPOTS[task.difficulty] - len(task.verdict.failed) >= task.difficulty


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_a_rule_to_be_asked_is_broken_about_as_often_as_met(name):
    book = rulebook.load(name)
    for key in KIND.covers(book, 3):
        broken = share(
            key in KIND.generate(seed, book, 3, (key,)).verdict.failed_keys for seed in range(40)
        )
        # A half of 40 within four standard errors, 4 * sqrt(0.25 / 40) = 0.32.
        assert broken == pytest.approx(0.5, abs=0.32), key
        for side in (MET, BROKEN):
            task = KIND.generate(1, book, 3, (key, side))
            assert (key in task.verdict.failed_keys) is (side == BROKEN)


@pytest.mark.parametrize("broken", [True, False])
def test_the_harder_the_rig_the_less_its_readings_miss_their_limits(broken):
    """By the lengths of ropes and chains, as ``spans`` has them for readings too."""
    book = rulebook.load("no-sweep", "1")
    for key in ("dropper_spacing", "footrope_excess", "door_to_wing_end"):
        misses = []
        for level in (1, 2, 3):
            tasks = [KIND.generate(seed, book, level, (key,)) for seed in range(60)]
            found = [task.verdict.finding(key) for task in tasks]
            misses.append([abs(each.margin) for each in found if each.failed is broken])
        assert min(misses[0]) > max(misses[1]), key
        assert min(misses[1]) > max(misses[2]), key
