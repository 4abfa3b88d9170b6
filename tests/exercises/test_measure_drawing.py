import json
import re

import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from rigs import requirements
from rigs.drawing.sheets import SHEETS
from rigs.make.oddities import ODDITIES
from rigs.rules import rulebook
from rigs.rules.judge import FAIL, PASS, judge
from rigs.words.units import feet_inches
from tests.exercises.conftest import measured_answer
from training.exercises import handing, kinds
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.measure_drawing import breaking
from training.exercises.kinds.measure_form import OUTSIDE, UNTOLD, WITHIN
from training.exercises.kinds.one_reading import BROKEN, MET
from training.exercises.models import Assignment, Attempt
from training.exercises.typed_measurements import MOST, read_measurements

KIND = kinds.get("measure-drawing")
EVERY = [(name, difficulty) for difficulty, names in KIND.rulebooks.items() for name in names]
COVERED = [
    (name, difficulty, key)
    for name, difficulty in EVERY
    for key in KIND.covers(rulebook.load(name), difficulty)
]

seeds = st.integers(0, 2**31 - 1)
tasks = st.builds(
    lambda seed, which: KIND.generate(seed, rulebook.load(which[0]), which[1]),
    seeds,
    st.sampled_from(EVERY),
)


def rules(marked):
    """Return the lines about rules, without those about how much something measures."""
    return [line for line in marked.lines if not line.key.startswith("size:")]


def sizes(marked):
    return [line for line in marked.lines if line.key.startswith("size:")]


def some_task(suits, name="no-sweep", difficulty=3):
    """Return the first task that ``suits``."""
    book = rulebook.load(name)
    return next(task for seed in range(500) if suits(task := KIND.generate(seed, book, difficulty)))


@pytest.mark.parametrize(("name", "difficulty"), EVERY)
def test_what_counts_as_true_is_what_the_judge_finds_on_what_is_drawn(name, difficulty):
    book, truths = rulebook.load(name), set()
    for seed in range(60):
        task = KIND.generate(seed, book, difficulty)
        found = {finding.key: finding for finding in judge(task.rig, book).findings}
        for key in task.keys:
            wanted = {PASS: WITHIN, FAIL: OUTSIDE}.get(found[key].outcome, UNTOLD)
            assert task.truth(key) == wanted
            truths.add(wanted)
        assert set(task.verdict.failed_keys) == {k for k in task.keys if found[k].failed}
    assert truths == {WITHIN, OUTSIDE, UNTOLD}


@given(tasks)
def test_a_careful_answer_gets_full_marks(task):
    marked = KIND.grade(task, measured_answer(task))
    assert marked.passed
    assert marked.marks == marked.out_of == len(marked.lines)
    assert len(marked.pictures) == len(task.sheets)
    json.dumps([line.as_record() for line in marked.lines])


@given(tasks)
def test_what_can_be_told_is_just_what_a_sheet_beside_it_shows(task):
    drawn = {key for name in task.sheets for key in SHEETS[name].keys}
    for name, key in task.asked:
        assert name in task.sheets
        assert (task.truth(key) == UNTOLD) is (key not in drawn)
        if key in drawn:
            assert key in SHEETS[name].keys


@given(tasks, st.data())
def test_a_rule_told_wrong_loses_its_mark_and_a_fault_the_pass(task, data):
    answer = measured_answer(task)
    key = data.draw(st.sampled_from(task.keys))
    truth = task.truth(key)
    answer[f"said_{key}"] = said = data.draw(
        st.sampled_from([each for each in (WITHIN, OUTSIDE, UNTOLD) if each != truth])
    )
    marked = KIND.grade(task, answer)
    assert [line.key for line in rules(marked) if not line.right] == [key]
    # With a fault missed, what it measures is not looked at either.
    assert marked.marks == marked.out_of - 1 - (truth == OUTSIDE)
    if OUTSIDE in (said, truth):
        assert not marked.passed
        assert "no pass" in marked.remarks[0]


@given(tasks)
def test_how_much_it_measures_may_be_left_out(task):
    answer = {k: v for k, v in measured_answer(task).items() if k.startswith("said_")}
    marked = KIND.grade(task, answer)
    assert marked.passed
    assert marked.marks == marked.out_of - len(task.verdict.failed)
    assert all(line.yours == "nothing" for line in sizes(marked))


@given(tasks.filter(lambda task: task.verdict.failed), st.floats(-3, 3))
def test_a_measure_counts_if_it_is_as_near_as_the_tool_can_tell(task, off):
    finding = task.verdict.failed[0]
    near = next(each for each in SHEETS.values() if finding.key in each.keys).resolution()
    readings = breaking(task.rig, finding)
    said = max(readings[0] + off * near, near / 100)
    if any(abs(abs(said - reading) - near) < near / 50 for reading in readings):
        return  # at the very edge printing it would round it over
    answer = measured_answer(task) | {f"size_{finding.key}": f"{said:.9f} m"}
    line = next(line for line in sizes(KIND.grade(task, answer)) if finding.key in line.key)
    assert line.right is any(abs(said - reading) <= near for reading in readings)


@given(tasks)
def test_a_measure_that_would_do_never_lies_on_the_right_side_of_the_limit(task):
    for finding in task.verdict.failed:
        near = next(each for each in SHEETS.values() if finding.key in each.keys).resolution()
        limit = finding.requirement.limit
        assert all(abs(reading - limit) > near for reading in breaking(task.rig, finding))


@pytest.mark.parametrize(("name", "difficulty", "key"), COVERED)
def test_a_task_asks_what_it_is_to_turn_on_on_either_side(name, difficulty, key):
    for side, truth in ((MET, WITHIN), (BROKEN, OUTSIDE)):
        task = KIND.generate(3, rulebook.load(name), difficulty, (key, side))
        assert key in task.keys
        assert task.truth(key) == truth


def test_as_much_is_broken_as_met_and_the_same_answer_throughout_hardly_ever_passes():
    book, found = rulebook.load("no-sweep", "1"), []
    passed = dict.fromkeys((WITHIN, OUTSIDE, UNTOLD), 0)
    for seed in range(60):
        task = KIND.generate(seed, book, 3)
        found += [task.truth(key) for key in task.keys]
        for said in passed:
            same = {f"said_{key}": said for key in task.keys}
            passed[said] += KIND.grade(task, same).passed
    # Met a little more often: of two limits of one reading just one is broken.
    assert 0.6 < found.count(OUTSIDE) / found.count(WITHIN) < 1.2
    assert max(passed.values()) <= 1


@pytest.mark.parametrize("side", [MET, BROKEN])
def test_the_harder_the_drawing_the_less_it_misses_a_limit(side):
    book = rulebook.load("no-sweep", "1")
    for key in ("dropper_spacing", "float_spacing"):
        worst = []
        for level in (1, 2, 3):
            tasks = [KIND.generate(seed, book, level, (key, side)) for seed in range(12)]
            worst.append([abs(task.verdict.finding(key).margin) for task in tasks])
        # A foot between two floats at the least: less room is left where the rule is met.
        assert sum(worst[0]) > sum(worst[1]) > 1.3 * sum(worst[2]), key


@given(tasks)
def test_oddities_are_told_of_afterwards_and_belong_to_what_is_drawn(task):
    drawn = {key for name in task.sheets for key in SHEETS[name].keys}
    assert all(ODDITIES[name].key in drawn for name in task.oddities)
    remarks = KIND.grade(task, measured_answer(task)).remarks
    assert len(remarks) == len(task.oddities)


def test_every_rule_that_is_drawn_says_how_to_measure_it():
    told = {each.key for each in requirements.all() if each.on_drawing}
    assert told == {key for sheet in SHEETS.values() for key in sheet.keys}


def test_what_is_not_drawn_is_told_as_such():
    task = some_task(lambda task: any(task.truth(key) == UNTOLD for key in task.keys))
    key = next(key for key in task.keys if task.truth(key) == UNTOLD)
    line = next(x for x in KIND.grade(task, KIND.any_answer(task)).lines if x.key == key)
    assert not line.right
    assert "you cannot tell" in line.measured_text
    assert not line.allowed_text


def test_a_size_that_cannot_be_read_is_refused_only_where_it_is_asked():
    task = some_task(lambda task: task.verdict.failed)
    key = task.verdict.failed[0].key
    answer = measured_answer(task) | {f"size_{key}": "a good bit"}
    with pytest.raises(BadAnswer, match="a good bit"):
        KIND.grade(task, answer)
    KIND.grade(task, answer | {f"said_{key}": WITHIN})


def test_beginners_are_told_the_limits_and_others_not():
    book = rulebook.load("no-sweep", "1")
    limit = book.requirement("dropper_spacing").limit_text
    for difficulty in (1, 2, 3):
        task = KIND.generate(1, book, difficulty)
        told = [q.allowed for each in KIND.form(task)().sections for q in each.questions]
        assert any(limit in words for words in told) is (difficulty == 1)


# Measurements kept -------------------------------------------------------


names = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=40).filter(
    lambda name: name.strip() == name
)
places = st.integers(0, 900000).map(lambda n: n / 100)


@given(names, st.sampled_from(sorted(SHEETS)), places, places)
def test_a_measurement_written_down_is_read_again(name, sheet, start, end):
    line = f"{name} [{sheet} {start:g} to {end:g}]"
    (found,) = read_measurements(line, sheet)
    assert found.name == name
    assert (found.start, found.end) == pytest.approx((start, end), rel=1e-4)
    assert read_measurements(line, "elsewhere") == ()


@given(st.text(max_size=300))
def test_notes_of_any_sort_do_no_harm(text):
    for name in SHEETS:
        assert len(read_measurements(text, name)) <= MOST


@given(tasks)
def test_measurements_are_laid_over_the_drawings_afterwards(task):
    text = "\n".join(f"mine: 1 ft [{name} 30 to 60.5]" for name in task.sheets)
    marked = KIND.grade(task, measured_answer(task) | {"measurements": f"a note\n{text}"})
    for picture in marked.pictures:
        assert len(picture.scene.of_style("measured")) == 3
        assert any(part.text == "1: mine: 1 ft" for part in picture.scene.texts)


# Pages -------------------------------------------------------------------


def set_to(user, seed, difficulty=3):
    return Assignment.objects.create(
        user=user,
        kind=KIND.slug,
        seed=seed,
        difficulty=difficulty,
        rulebook_name="no-sweep",
        rulebook_version="1",
    )


@pytest.mark.parametrize("seed", range(4))
def test_the_page_gives_nothing_away(as_user, user, seed):
    task = handing.task_of(set_to(user, seed))
    page = as_user.get(reverse("exercises:do", args=[KIND.slug])).content.decode()
    for drawing in re.findall(r"<svg.*?</svg>", page, re.DOTALL):
        assert not re.search(r'class="(fault|badge|ghost|measured)', drawing)
        assert re.findall(r"data-[\w-]+", drawing) in ([], ["data-metres-per-unit"])
    assert "checked" not in page
    # What the page says of any drawing: examples, scale bars, how fine the tool reads.
    for words in (r"<details>.*?</details>", r"such as [^.]*\.", r"this bar is [^<]*"):
        page = re.sub(words, "", page, flags=re.DOTALL)
    for finding in task.verdict.failed:
        assert finding.remedy not in page
        for told in (finding.margin_text, *map(feet_inches, breaking(task.rig, finding))):
            assert not re.search(rf"(?<![\d/] )(?<![\d/]){re.escape(told)}\b", page), told


def test_a_wrong_answer_names_clause_measure_limit_and_remedy(as_user, user):
    assignment = set_to(user, 12)
    task = handing.task_of(assignment)
    answer = KIND.any_answer(task) | {"assignment": assignment.pk}
    answer["measurements"] = "Port wing: 8 ft [ropes 24 to 120]"
    as_user.post(reverse("exercises:do", args=[KIND.slug]), answer)
    attempt = Attempt.objects.get()
    assert attempt.answer["measurements"] == answer["measurements"]
    page = as_user.get(reverse("exercises:marked", args=[attempt.pk])).content.decode()
    for finding in task.verdict.failed:
        assert finding.clause in page
        assert finding.remedy.replace("'", "&#x27;") in page
    assert "1: Port wing: 8 ft" in page
    assert 'class="fault"' in page
    assert "Unusual, but it breaks no rule." in page


def test_trouble_stands_beside_its_field_and_typed_input_is_kept(as_user, user):
    assignment = set_to(user, 12)
    task = handing.task_of(assignment)
    key = task.verdict.failed[0].key
    answer = measured_answer(task) | {f"size_{key}": "9 fet", "assignment": assignment.pk}
    del answer[f"said_{task.keys[-1]}"]
    page = as_user.post(reverse("exercises:do", args=[KIND.slug]), answer).content.decode()
    assert not Attempt.objects.exists()
    ask = page[page.index(f'id="ask-{key}"') :]
    ask = ask[: ask.index("</fieldset>")]
    assert 'value="9 fet"' in ask
    assert "invalid-feedback" in ask
    assert "checked" in ask
    last = page[page.index(f'id="ask-{task.keys[-1]}"') :]
    assert "Choose one of the three answers." in last
