"""What is remembered by rule: fed by all that is answered, and the same when made anew."""

import uuid
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone

from rigs.rules import rulebook
from tests.calibration.round_factory import judge_all, make_round
from tests.certification.candidates import begin, make_requirements
from tests.exercises.conftest import right_answer
from tests.recall.conftest import RULES, answer_all, at, said
from training.calibration.practice import departures
from training.certification import exams
from training.course.onward import onward
from training.exercises import handing, kinds
from training.exercises.models import Assignment
from training.recall import memory, sets, spacing
from training.recall.models import AskedAgain, ReadingSet, RuleMemory

pytestmark = pytest.mark.django_db

DAY = date(2026, 3, 2)
RULE = RULES[0]


def row(user, rule=RULE):
    return user.rule_memories.get(rulebook_name=rule[0], key=rule[1])


def rows():
    """Return all that is remembered, and what was asked again, as plain rows."""
    found = []
    for model in (RuleMemory, AskedAgain):
        fields = [each.name for each in model._meta.fields if each.name != "id"]
        found += model.objects.order_by("user", "rulebook_name", "key", "pk").values_list(*fields)
    return found


def practice(user, rules, day, right=True):
    found = sets.open_set(user, ReadingSet.Purpose.REVIEW, rules, now=at(day))
    answer_all(found, right, at(day))


def test_a_reading_answered_is_remembered(user):
    practice(user, [RULE], DAY)
    held = row(user)
    assert (held.step, held.asked, held.right, held.due) == (0, 1, 1, date(2026, 3, 4))
    assert held.state(DAY) == spacing.SHAKY
    practice(user, [RULE], date(2026, 3, 4))
    held = row(user)
    assert (held.step, held.due) == (1, date(2026, 3, 11))
    assert held.state(date(2026, 3, 4)) == spacing.KNOWN
    practice(user, [RULE], date(2026, 3, 11), right=False)
    held = row(user)
    assert (held.step, held.asked, held.right, held.due) == (0, 3, 2, date(2026, 3, 13))
    assert not held.right_last


def test_days_are_those_where_the_site_is(user, settings):
    """11 p.m. on March 2 in New York is March 3 in UTC; the rule comes back on March 4."""
    settings.TIME_ZONE = "America/New_York"
    late = datetime(2026, 3, 2, 23, tzinfo=ZoneInfo("America/New_York"))
    memory.note(user, *RULE, True, late)
    assert row(user).due == date(2026, 3, 4)


def test_rule_sets_that_ask_the_same_share_what_is_remembered(user):
    memory.note(user, "no-sweep", "float_spacing", True, at(DAY))
    rules = [("grate", "float_spacing"), ("chain-sweep", "float_spacing")]
    found = memory.standing(user, rules, DAY)
    assert {found[rule].memory for rule in rules} == {row(user)}
    memory.note(user, *rules[0], True, at(DAY + timedelta(days=2)))
    assert [(each.step, each.asked) for each in user.rule_memories.all()] == [(1, 2), (1, 2)]
    assert len(memory.coming_back(user, DAY + timedelta(days=9))) == 1
    # 3/8 in without a sweep, 5/16 in with one: (a)(9)(ii)(D).
    memory.note(user, "no-sweep", "dropper_stock", True, at(DAY))
    other = ("chain-sweep", "dropper_stock")
    assert memory.standing(user, [other], DAY)[other].state == spacing.NOT_ASKED


def test_an_exercise_handed_in_is_remembered(user):
    kind = kinds.get("judge-rig")
    assignment = handing.open_assignment(user, kind)
    task = handing.task_of(assignment)
    handing.hand_in(assignment, right_answer(task))
    expected = task.verdict.failed_keys
    assert set(user.rule_memories.values_list("key", flat=True)) == expected
    assert all(each.right_last for each in user.rule_memories.all())


def test_only_lines_that_say_what_a_person_knows_are_remembered(user):
    book = rulebook.in_force("no-sweep", DAY)

    def line(key, right, out_of=1, basis="regulation", outcome="pass"):
        return {
            "key": key,
            "right": right,
            "out_of": out_of,
            "basis": basis,
            "outcome": outcome,
        }

    found = memory.answers_in(
        [
            line("float_spacing", True),
            line("dropper_stock", True, out_of=0),  # a sound part that was let pass
            line("off_bottom", True, out_of=0, outcome="fail"),  # a fault that was found
            line("no_sweep", False, out_of=0),  # a sound part that was said to be broken
            line("dropper_length", False, basis="practice"),
            line("legs_equal:port", True),
            line("legs_equal:starboard", False),
            line("verdict", True, basis=""),
        ],
        book,
    )
    assert found == {
        "float_spacing": True,
        "off_bottom": True,
        "no_sweep": False,
        "legs_equal": False,
    }


def test_made_anew_it_is_the_same(user, officer):
    for person in (user, officer):
        practice(person, RULES, DAY)
        practice(person, RULES[:2], DAY + timedelta(days=2), right=False)
        practice(person, RULES[1:], DAY + timedelta(days=50))
        for slug in ("judge-rig", "choose-one", "space-droppers"):
            kind = kinds.get(slug)
            assignment = handing.open_assignment(person, kind)
            handing.hand_in(assignment, kind.any_answer(handing.task_of(assignment)))
    live = rows()
    assert live
    assert AskedAgain.objects.exists()
    memory.rebuild([user.pk])
    assert rows() == live
    RuleMemory.objects.all().delete()
    call_command("recount_memory", verbosity=0)
    assert rows() == live


def test_what_comes_late_is_put_in_its_place(user):
    first = sets.open_set(user, ReadingSet.Purpose.START, [RULE], now=at(DAY))
    practice(user, [RULE], DAY + timedelta(days=2), right=False)
    reading = first.readings.get()
    sets.answer(reading, said(reading), at(DAY))
    assert row(user).due == DAY + timedelta(days=4)
    assert not row(user).right_last
    live = rows()
    memory.rebuild([user.pk])
    assert rows() == live


def test_an_attempt_put_in_by_bulk_is_found_by_a_recount(user):
    practice(user, [RULE], DAY)
    Assignment.objects.all().delete()
    RuleMemory.objects.update(asked=7, right=7)
    memory.rebuild_all()
    assert row(user).asked == 1


def test_standing_tells_known_shaky_and_not_yet_asked(user):
    practice(user, RULES[:2], DAY)
    practice(user, RULES[:1], DAY + timedelta(days=2))
    found = memory.standing(user, RULES, DAY + timedelta(days=2))
    assert [found[rule].state for rule in RULES] == [
        spacing.KNOWN,
        spacing.SHAKY,
        spacing.NOT_ASKED,
    ]
    assert found[RULES[2]].memory is None


def test_the_longest_due_comes_first_and_only_what_can_be_asked(user):
    practice(user, RULES[:1], DAY)
    practice(user, RULES[1:2], DAY - timedelta(days=30))
    RuleMemory.objects.create(
        user=user, rulebook_name="ended-rules", key="no_sweep", last_asked=at(DAY), due=DAY
    )
    assert memory.coming_back(user, DAY + timedelta(days=1)) == [RULES[1]]
    assert memory.coming_back(user, DAY + timedelta(days=2)) == [RULES[1], RULES[0]]


def test_rules_missed_in_a_round_come_back(officer):
    sets.bring_back(officer, RULES, at(DAY))
    assert {each.due for each in officer.rule_memories.all()} == {DAY + timedelta(days=2)}
    assert set(memory.coming_back(officer, DAY + timedelta(days=2))) == set(RULES)


def test_nobody_sees_into_the_memory_of_others(user, officer):
    practice(user, RULES, DAY)
    assert memory.standing(officer) == {}
    assert uuid.uuid4() not in ReadingSet.objects.values_list("key", flat=True)
    assert timezone.localdate(row(user).last_asked) == DAY


def test_an_exam_turned_in_is_remembered_and_what_was_left_out_is_not(user):
    requirements = make_requirements(parts=(("judge-rig", 1, 2), ("choose-one", 1, 2)))
    exam = begin(user, requirements, at(DAY))
    judged, chosen = (exam.tasks.filter(kind=kind) for kind in ("judge-rig", "choose-one"))
    for task in judged:
        exams.save(task, right_answer(exams.task_of(task)), 0, at(DAY))
    assert not user.rule_memories.exists()
    exams.hand_in(exam, at(DAY))
    expected = set().union(*(exams.task_of(task).verdict.failed_keys for task in judged))
    assert set(user.rule_memories.values_list("key", flat=True)) == expected
    assert chosen.exists()
    live = rows()
    exams.hand_in(exam, at(DAY))
    memory.rebuild([user.pk])
    assert rows() == live


def test_what_an_officer_called_wrong_in_a_round_comes_back(officer):
    turn = make_round([officer], count=8).turns.get()
    judge_all(turn, lambda rig: ("passes", []))
    turn.refresh_from_db()
    wrong = {key for found in departures(turn).values() for key in found}
    assert wrong
    assert set(officer.rule_memories.values_list("key", flat=True)) == wrong
    live = rows()
    memory.rebuild([officer.pk])
    assert rows() == live


def test_readings_after_a_round_ask_what_was_called_wrong(officer, as_officer, as_user):
    turn = make_round([officer], count=8).turns.get()
    judge_all(turn, lambda rig: ("passes", []))
    url = reverse("calibration:readings", args=[turn.pk])
    assert url in as_officer.get(reverse("calibration:result", args=[turn.pk])).content.decode()
    assert as_user.post(url).status_code == 403
    for _ in range(2):
        as_officer.post(url)
    found = ReadingSet.objects.get()
    wrong = {key for each in departures(turn).values() for key in each}
    assert {each.focus for each in found.readings.all()} == wrong
    assert {each.difficulty for each in found.readings.all()} == {3}
    assert onward(found).url == reverse("calibration:result", args=[turn.pk])


def test_a_closed_account_is_left_as_it_is(user):
    practice(user, [RULE], DAY)
    user.is_active = False
    user.save()
    RuleMemory.objects.all().delete()
    memory.rebuild_all()
    assert not RuleMemory.objects.exists()
