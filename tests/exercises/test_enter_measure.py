"""Limits worked out from one net: what is asked, what is right, and what no constant passes."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.requirements.worked_out.base import AT_MOST
from rigs.rules import rulebook
from rigs.words.units import FATHOM, FOOT, INCH, parse_length
from training.exercises import kinds
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.enter_measure import BEYOND, INSIDE, KEYS, QUESTIONS

KIND = kinds.get("enter-measure")
EVERY = [(name, level) for level, names in KIND.rulebooks.items() for name in names]
NO_SWEEP, CHAIN_SWEEP, GRATE = (
    rulebook.load(name) for name in ("no-sweep", "chain-sweep", "grate")
)

tasks = st.builds(
    lambda seed, which: KIND.generate(seed, rulebook.load(which[0]), which[1]),
    st.integers(0, 2**31 - 1),
    st.sampled_from(EVERY),
)
few = settings(max_examples=40, deadline=None)


def typed(task, value):
    return {"measure": str(value) if task.counted else f"{value:.5f} m"}


def task_of(asked, book=NO_SWEEP, level=1):
    """Return the first task that asks ``asked``."""
    return next(t for t in (KIND.generate(s, book, level) for s in range(999)) if t.asked == asked)


@pytest.mark.parametrize(("name", "level"), EVERY)
def test_no_constant_answers_more_than_a_few_tasks(name, level):
    """The commonest right answer of all gets less than 8 in 100, whatever the net."""
    book = rulebook.load(name)
    made = [KIND.generate(seed, book, level) for seed in range(500)]
    told = Counter(
        (task.counted, task.just_kept if task.counted else round(task.just_kept / INCH))
        for task in made
    )
    assert max(told.values()) < 0.08 * len(made)
    # Neither is a size that the page tells the answer.
    echoed = sum(
        task.question.say(task.just_kept) == text
        for task in made
        for _, text in KIND.shown(task)["facts"]
    )
    assert echoed < 0.02 * len(made)


@pytest.mark.parametrize(("name", "level"), EVERY)
def test_every_question_that_the_rules_can_answer_is_asked(name, level):
    book = rulebook.load(name)
    asked = {KIND.generate(seed, book, level).asked for seed in range(300)}
    can = {
        each
        for each, question in QUESTIONS.items()
        if level in question.levels and any(book.has(key) for key in KEYS[each])
    }
    assert asked == can


@pytest.mark.parametrize(("name", "level"), EVERY)
def test_only_what_a_clause_asks_is_asked(name, level):
    book = rulebook.load(name)
    assert all(book.requirement(key).binds for key in KIND.covers(book, level))
    for key in KIND.covers(book, level):
        for seed in range(5):
            assert KIND.generate(seed, book, level, (key,)).key == key


@few
@given(tasks)
def test_the_last_answer_that_meets_the_rule_is_right_and_others_are_not(task):
    best, edge = task.just_kept, task.question.edge
    # No figure printed beside a limit is farther from it than 73 m from 40 fathoms, 15 cm.
    past, short = (1, 1) if task.counted else (2 * INSIDE, FOOT)
    assert KIND.grade(task, {"measure": task.right_text}).passed
    assert not task.finding(best).failed
    for off in (past * edge, -short * edge):
        assert not KIND.grade(task, typed(task, best + off)).passed
        assert task.finding(best + off).failed is (off * edge > 0)


@few
@given(tasks)
def test_a_tape_reads_no_finer(task):
    if task.counted:
        return
    best, edge = task.just_kept, task.question.edge
    for off in (BEYOND * 0.9 * edge, -INSIDE * 0.9 * edge):
        marked = KIND.grade(task, typed(task, best + off))
        assert marked.passed
        assert marked.lines[0].outcome == "pass"
        assert marked.remarks == ()


# Worked by hand from the figures of 50 CFR 648.80(a)(9)(ii) and (a)(16), (a)(15), as they are
# written in the rule sets (from memory but for the mesh): 40 fm, 20 ft, 4 ft, 8 ft, 3.5 ft, 7 ft,
# 100 and 50 meshes over and up to 60 ft.


def given_size(task, name):
    return parse_length(dict(KIND.shown(task)["facts"])[name])


@pytest.mark.parametrize("seed", range(20))
def test_answers_worked_by_hand(seed):
    cable = KIND.generate(seed, NO_SWEEP, 2, ("door_to_wing_end",))
    legs = [each.top_length for each in cable.rig.legs]
    cables = [each.length for each in cable.rig.ground_cables]
    assert cable.just_kept == pytest.approx(40 * FATHOM - max(legs or cables))
    rope = KIND.generate(seed, NO_SWEEP, 1, ("footrope_excess",))
    name, other = ("Footrope", -20) if rope.asked == "headrope" else ("Headrope", 20)
    assert rope.just_kept == pytest.approx(given_size(rope, name) + other * FOOT)
    sweep = KIND.generate(seed, CHAIN_SWEEP, 2, ("sweep_wing_excess",))
    past = given_size(sweep, "Footrope from the outermost dropper to the port wing end")
    assert sweep.just_kept == pytest.approx(past + 3.5 * FOOT)
    meshes = KIND.generate(seed, GRATE, 3, ("mesh_count_long",))
    bars = meshes.rig.codend.hanging == "square"
    assert meshes.rig.vessel_length > 60 * FOOT
    assert meshes.just_kept == (200 if bars else 100)


def test_floats_and_droppers_worked_by_hand():
    floats = task_of("floats")
    gaps = -(-given_size(floats, "Headrope") // (4 * FOOT - 1e-9))
    assert floats.just_kept == gaps + 1
    droppers = task_of("all_droppers", level=3)
    wings = (given_size(droppers, f"{side} wing") for side in ("Port", "Starboard"))
    assert droppers.just_kept == 3 + sum(int(wing / FOOT + 1e-6) // 8 for wing in wings)
    last = task_of("next_from_center", level=3)
    out = dict(KIND.shown(last)["facts"])["Outermost dropper on it so far"]
    from_center = given_size(last, "Bosom, corner to corner") / 2
    from_center += parse_length(out.removesuffix(" from the corner"))
    assert last.just_kept == pytest.approx(from_center + 8 * FOOT)


def test_the_metric_figure_that_the_regulation_prints_is_as_right():
    """40 fathoms (73 m): who takes 73 m for the limit is right too."""
    task = task_of("cable")
    leg = task.rig.legs[0].top_length
    assert KIND.grade(task, {"measure": f"{73 - leg:.3f} m"}).passed
    assert not KIND.grade(task, {"measure": f"{72.8 - leg:.3f} m"}).passed


def test_sizes_are_less_round_the_harder_the_task():
    whole = {
        level: sum(
            abs(size / FOOT - round(size / FOOT)) < 1e-6
            for seed in range(60)
            for task in [KIND.generate(seed, NO_SWEEP, level, ("footrope_excess",))]
            for size in [task.just_kept]
        )
        for level in (1, 2, 3)
    }
    assert whole[1] == 60
    assert whole[2] == 0
    assert whole[3] < 20


@pytest.mark.parametrize("asked", ["floats", "cable", "headrope", "next_dropper"])
def test_a_wrong_answer_is_told_by_how_much(asked):
    task = task_of(asked)
    best, edge = task.just_kept, task.question.edge
    step = 2 if task.counted else 2 * FOOT
    past, short = (KIND.grade(task, typed(task, best + sign * edge * step)) for sign in (1, -1))
    off = task.question.say(step)
    assert past.lines[0].outcome == "fail"
    assert past.remarks[0].endswith(f"Your answer: {off} {task.question.past}.")
    assert short.lines[0].outcome == "pass"
    assert f"{off} {task.question.spare}" in short.remarks[0]
    assert all(task.question.say(best) in told.remarks[0] for told in (past, short))


def test_no_limit_is_told_before_the_answer():
    for name, level in EVERY:
        book = rulebook.load(name)
        limits = {book.requirement(key).limit_text for key in KIND.covers(book, level)}
        for seed in range(40):
            task = KIND.generate(seed, book, level)
            assert not limits & set(KIND.shown(task)["ask"].replace("?", "").split(", "))


@pytest.mark.parametrize("said", ["42", "about ten", "", "-3 ft"])
def test_a_length_that_cannot_be_read_is_refused(said):
    with pytest.raises(BadAnswer):
        KIND.grade(task_of("cable"), {"measure": said})


@pytest.mark.parametrize("said", ["ten", "12.5", "3 ft"[::-1], "12345", "-4", ""])
def test_a_number_that_cannot_be_read_is_refused(said):
    with pytest.raises(BadAnswer):
        KIND.grade(task_of("floats"), {"measure": said})


def test_a_number_may_have_its_thing_after_it():
    task = task_of("floats")
    assert KIND.grade(task, {"measure": f"{task.just_kept} floats"}).passed


def test_an_edge_of_at_most_is_asked_as_such():
    form = KIND.form(task_of("cable"))()
    assert QUESTIONS["cable"].edge == AT_MOST
    assert form.fields["measure"].label == "At most"
