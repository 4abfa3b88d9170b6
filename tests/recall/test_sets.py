"""Sets of readings: opened once, answered once, and mixed."""

import uuid
from dataclasses import replace
from datetime import timedelta

import pytest
from django.utils import timezone

from rigs.rules import rulebook
from rigs.rules.text import write
from tests.recall.conftest import RULES, answer_all, said
from training.exercises.kinds.base import BadAnswer
from training.recall import sets
from training.recall.models import ReadingSet, RuleMemory, SetReading

pytestmark = pytest.mark.django_db


def test_it_asks_each_rule_as_often_as_told(open_set):
    found = open_set(each=3)
    asked = [(each.rulebook_name, each.focus) for each in found.readings.all()]
    assert sorted(asked) == sorted(RULES * 3)
    assert all(first != second for first, second in zip(asked, asked[1:], strict=False))
    assert {sets.task_of(each).requirement.key for each in found.readings.all()} == {
        key for _, key in RULES
    }


def test_one_is_open_for_a_purpose_and_a_subject(open_set):
    first = open_set()
    assert open_set(rules=RULES[:1]) == first
    assert open_set(subject="droppers") != first
    assert open_set(purpose=ReadingSet.Purpose.REVIEW) != first
    assert ReadingSet.objects.count() == 3
    answer_all(first)
    assert open_set() != first


def test_the_same_key_opens_one_even_when_it_is_finished(open_set):
    key = uuid.uuid4()
    found = open_set(key=key)
    answer_all(found)
    assert open_set(key=key) == found
    assert ReadingSet.objects.count() == 1


def test_a_key_of_somebody_else_opens_nothing_of_theirs(open_set, officer):
    key = uuid.uuid4()
    found = open_set(key=key)
    theirs = sets.open_set(officer, ReadingSet.Purpose.START, RULES, key=key)
    assert theirs != found
    assert theirs.user == officer


def test_rules_that_cannot_be_asked_are_left_out(open_set):
    found = open_set(rules=[*RULES, ("no-sweep", "no_such_rule"), ("no-such-rules", "no_sweep")])
    assert found.readings.count() == len(RULES)
    with pytest.raises(sets.NothingToAsk):
        open_set(rules=[("no-sweep", "no_such_rule")], subject="other")
    assert ReadingSet.objects.count() == 1


def test_a_custom_is_never_asked(open_set):
    book = rulebook.in_force("no-sweep", timezone.localdate())
    customs = [("no-sweep", each.key) for each in book.requirements if each.by_custom]
    assert customs
    with pytest.raises(sets.NothingToAsk):
        open_set(rules=customs)


def test_the_first_answer_stands(open_set):
    found = open_set(rules=RULES[:1])
    reading = found.readings.get()
    first = sets.answer(reading, said(reading))
    again = sets.answer(reading, said(reading, right=False))
    assert first.passed
    assert again.passed
    assert again.answered == first.answered
    assert again.answer == said(reading)
    assert set(RuleMemory.objects.values_list("asked", flat=True)) == {1}


def test_it_is_finished_with_its_last_reading(open_set):
    found = open_set()
    *others, last = found.readings.all()
    for reading in others:
        sets.answer(reading, said(reading))
    found.refresh_from_db()
    assert found.finished is None
    answered = sets.answer(last, said(last, right=False))
    found.refresh_from_db()
    assert found.finished == answered.answered
    assert found.readings.filter(passed=False).get() == last


def test_what_cannot_be_read_saves_nothing(open_set):
    reading = open_set(rules=RULES[:1]).readings.get()
    with pytest.raises(BadAnswer):
        sets.answer(reading, {"said": "perhaps"})
    assert SetReading.objects.get().answered is None
    assert not RuleMemory.objects.exists()


def test_a_reading_is_graded_the_same_years_later(open_set):
    found = open_set()
    answer_all(found, right=False)
    for reading in found.readings.all():
        assert [line.as_record() for line in sets.remark(reading).lines] == reading.findings


def test_what_is_not_answered_goes_by_the_rules_of_the_day(open_set):
    found = open_set()
    answered, *others = found.readings.all()
    sets.answer(answered, said(answered))
    today = timezone.localdate()
    book = rulebook.in_force("no-sweep", today)
    newer = replace(
        book,
        version="newer",
        effective_from=today - timedelta(days=1),
        requirements=tuple(each for each in book.requirements if each.key != others[0].focus),
    )
    with rulebook.trying("newer.yaml", write(newer)):
        assert open_set() == found
        left = found.readings.filter(answered=None)
        assert [each.rulebook_version for each in left] == ["newer"]
        assert left.get().focus == others[1].focus
        assert found.readings.get(pk=answered.pk).rulebook_version == book.version


def test_a_set_whose_rules_have_all_ended_is_over(open_set):
    found = open_set()
    today = timezone.localdate()
    yesterday = today - timedelta(days=1)
    gone = replace(
        rulebook.load("no-sweep", "1"),
        version="ended",
        effective_from=yesterday,
        effective_to=yesterday,
    )
    with rulebook.trying("ended.yaml", write(gone)):
        with pytest.raises(sets.NothingToAsk):
            open_set()
        found.refresh_from_db()
        assert found.readings.count() == 0


@pytest.mark.parametrize(("readings", "minutes"), [(1, 1), (2, 1), (3, 2), (10, 5)])
def test_how_long_it_takes(readings, minutes):
    assert sets.minutes(readings) == minutes
