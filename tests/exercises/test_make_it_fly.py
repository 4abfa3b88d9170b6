"""Make it fly: which changes would do is found from the flights and the rules, never typed."""

from collections import Counter
from dataclasses import replace

import pytest
from django.template.loader import render_to_string

from rigs.physics.flight import POINTS
from rigs.rules import rulebook
from rigs.tuning.flights import mended, table
from rigs.tuning.flights.nets import LOPSIDED
from training.desk.missed import rules_put
from training.exercises import kinds
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.make_it_fly import AILS, NONE, OFF, OPTIONS
from training.recall.memory import answers_in

KIND = kinds.get("make-it-fly")
NO_SWEEP, GRATE = rulebook.load("no-sweep", "1"), rulebook.load("grate", "1")
LEVELS = (1, 2, 3)


def tasks(level, count=60, book=NO_SWEEP):
    return [KIND.generate(seed, book, level) for seed in range(count)]


@pytest.mark.parametrize("level", LEVELS)
class TestTasks:
    def test_every_change_misses_by_as_much_as_its_level_has_it(self, level):
        nearest, farthest = OFF[level]
        for task in tasks(level):
            assert len(set(task.offered)) == OPTIONS[level]
            assert all(nearest <= each.off <= farthest for each in task.changes.values())

    def test_the_change_that_was_tried_is_none_of_those_offered(self, level):
        for task in tasks(level):
            assert task.tried not in task.offered
            assert KIND.shown(task)["did"]

    def test_nets_ail_in_every_way_and_any_number_of_changes_may_do(self, level):
        made = tasks(level, 200)
        ails = Counter(task.flights.ailing.ails for task in made)
        assert min(ails[each] for each in AILS) > 200 / 3 / 2
        counts = Counter(len(set(task.right) - {NONE}) for task in made)
        assert {0, 1, 2} <= set(counts)
        assert max(counts.values()) < 200 * 2 / 3

    def test_no_change_is_right_or_wrong_whatever_the_net(self, level):
        """Adding some floats mends one net and not the next: what it is called tells nothing."""
        found = Counter()
        for task in tasks(level, 200):
            found.update((key.split()[0], each.mends) for key, each in task.changes.items())
        for sort in ("floats", "droppers"):
            assert found[sort, True] > 5
            assert found[sort, False] > 5

    def test_what_is_right_gets_all_points_and_its_opposite_none(self, level):
        for task in tasks(level, 20):
            right = set(task.right) - {NONE}
            marked = KIND.grade(task, {"mends": sorted(right) or [NONE]})
            assert marked.passed
            assert marked.marks == marked.out_of == OPTIONS[level]
            other = KIND.grade(task, {"mends": sorted(set(task.offered) - right) or [NONE]})
            assert not other.passed
            assert other.marks == 0


class TestGrading:
    def test_a_change_that_breaks_a_rule_says_which_clause_and_how_to_mend_it(self):
        task, key = _with(lambda each: each.fault is None and each.broken)
        marked = KIND.grade(task, {"mends": [key]})
        broken = task.changes[key].broken[0]
        line = next(line for line in marked.lines if line.key == f"{key}/{broken.key}")
        assert (line.clause, line.measured_text) == (broken.clause, broken.measured_text)
        assert line.allowed_text == broken.allowed_text
        assert line.remedy == broken.remedy
        assert line.remedy
        assert not line.right

    def test_a_change_in_flight_says_by_how_much_it_misses(self):
        task, key = _with(lambda each: each.fault == mended.STILL_LOW)
        line = next(each for each in KIND.grade(task, {"mends": [key]}).lines if each.key == key)
        assert line.margin_text.endswith("too low")
        assert line.outcome == "fail"

    def test_other_rules_change_what_is_true_of_a_task(self):
        """Without the limit on float spacing a net may have fewer floats."""
        task, key = _with(lambda each: [one.key for one in each.broken] == ["float_spacing"])
        at = task.offered.index(key)
        assert at in KIND.truth(task, NO_SWEEP)["float_spacing"]
        assert KIND.changed(task, NO_SWEEP) == frozenset()

    def test_none_of_these_goes_with_no_other(self):
        task = tasks(1, 1)[0]
        with pytest.raises(BadAnswer):
            KIND.grade(task, {"mends": [NONE, task.offered[0]]})

    def test_each_place_is_said_with_its_range_and_what_is_left_out(self):
        task = tasks(2, 1)[0]
        marked = KIND.grade(task, KIND.any_answer(task))
        page = render_to_string(marked.table_by, {"rows": marked.table})
        assert page.count("<tr><th") >= len(POINTS) * OPTIONS[2]
        assert "of 20" in page
        assert "Catch, current across and soft ground are not counted" in page
        assert "The nets are invented" in page
        for each in task.changes.values():
            assert each.flight.mend.words(task.flights.ailing.rig) in page


class TestPictures:
    def test_a_task_shows_the_net_as_it_flies_and_nothing_of_what_is_offered(self):
        for task in tasks(2, 20):
            scene = KIND.shown(task)["picture"].scene
            other = KIND.shown(replace(task, offered=task.offered[:1]))["picture"].scene
            assert scene == other
            assert not scene.of_style("before")
            for place in KIND.shown(task)["places"]:
                assert place.name in scene.description

    def test_a_graded_answer_shows_what_each_change_does_beside_the_net_as_it_is(self):
        task = tasks(2, 1)[0]
        marked = KIND.grade(task, KIND.any_answer(task))
        for row, each in zip(marked.table, task.changes.values(), strict=True):
            scene = row["picture"]().scene
            assert scene.of_style("before")
            assert len(scene.of_style("float")) == len(each.rig.floats) + 1  # the key's
        page = render_to_string(marked.table_by, {"rows": marked.table})
        assert page.count("<svg") == OPTIONS[2]

    def test_at_sea_the_drawings_are_told_once(self):
        task = tasks(2, 1)[0]
        pieces = [piece for part in KIND.foretold(task).parts for piece in part.pieces.values()]
        assert len([piece for piece in pieces if piece.table]) == 1


def test_a_wrong_answer_counts_to_no_rule():
    """Mostly it is the height that was misjudged, and a rule would be blamed for it."""
    for task in tasks(3, 60):
        right = set(task.right) - {NONE}
        other = sorted(set(task.offered) - right) or [NONE]
        lines = [line.as_record() for line in KIND.grade(task, {"mends": other}).lines]
        assert rules_put(lines, task.rulebook) == {}
        assert answers_in(lines, task.rulebook) == {}


def test_it_is_not_set_under_rules_with_a_sweep():
    assert not KIND.suits(rulebook.load("chain-sweep", "1"))
    assert KIND.suits(GRATE)


def test_every_ailing_net_is_met_in_some_task():
    met = {task.net for level in LEVELS for task in tasks(level, 400)}
    assert met == {each.ailing.key for each in table.flights()}


def test_a_lopsided_net_shows_each_leg_by_itself():
    for each in table.flights():
        if each.ailing.ails == LOPSIDED and each.ailing.net.leg_off is not None:
            task = next(task for task in tasks(1, 400) if task.net == each.ailing.key)
            named = [part for part, __ in KIND.shown(task)["parts"]]
            assert {"Port legs", "Starboard legs"} <= set(named)


def _with(wanted):
    """Return a task with a change that is ``wanted``, and the name of the change."""
    for task in tasks(2, 400):
        for key, each in task.changes.items():
            if wanted(each):
                return task, key
    raise AssertionError
