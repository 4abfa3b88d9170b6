"""Setting tasks to be taken to sea: so many of each kind, as hard as the next, and no more."""

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import date

import pytest
from django.db import IntegrityError, connection, transaction
from django.utils import timezone

from tests.exercises.conftest import right_answer
from training.exercises import handing
from training.exercises.models import Assignment
from training.exercises.sea import setting

DAY = date(2026, 9, 1)


def counted(tasks):
    return Counter(each.kind for each in tasks)


@pytest.mark.django_db
class TestSetting:
    def test_so_many_of_each_kind_of_the_course(self, user):
        found = counted(setting.top_up(user))
        assert set(found) == {kind.slug for kind in setting.kinds_for(user)}
        assert set(found.values()) == {setting.OF_EACH}

    def test_the_kinds_of_a_course_are_those_of_its_lessons(self, user, officer, staff):
        for person in (user, officer, staff):
            assert setting.kinds_for(person)
        assert set(setting.kinds_for(user)) <= set(setting.kinds_for(staff))

    def test_again_it_sets_no_more(self, user, one_kind):
        assert setting.top_up(user) == setting.top_up(user)
        assert Assignment.objects.filter(user=user).count() == setting.OF_EACH

    def test_one_answered_is_made_up_for_and_the_others_stay(self, user, one_kind):
        answered, *others = setting.top_up(user)
        handing.hand_in(answered, right_answer(handing.task_of(answered)))
        found = setting.top_up(user)
        assert answered not in found
        assert set(others) < set(found)
        assert len(found) == setting.OF_EACH

    def test_they_are_as_hard_as_the_next(self, user, one_kind):
        for _ in range(2):
            opened = handing.open_assignment(user, one_kind)
            handing.hand_in(opened, right_answer(handing.task_of(opened)))
        assert {each.difficulty for each in setting.top_up(user)} == {2}

    def test_the_open_task_of_the_kind_stays_what_it_is(self, user, one_kind):
        opened = handing.open_assignment(user, one_kind)
        setting.top_up(user)
        assert handing.open_assignment(user, one_kind) == opened

    def test_one_set_for_sea_cannot_be_the_open_one(self, user, one_kind):
        (first, *_) = setting.top_up(user)
        with pytest.raises(IntegrityError), transaction.atomic():
            Assignment.objects.filter(pk=first.pk).update(is_open=True)

    def test_another_person_has_others(self, user, officer, one_kind):
        assert not set(setting.top_up(user)) & set(setting.top_up(officer))

    @pytest.mark.parametrize(
        "stale", [{"rulebook_version": "0"}, {"kind_version": 0}, {"kind": "no-more"}]
    )
    def test_one_of_an_earlier_version_is_renewed(self, user, one_kind, stale):
        (first, *_) = setting.top_up(user)
        Assignment.objects.filter(pk=first.pk).update(**stale)
        found = setting.top_up(user)
        assert first not in found
        assert len(found) == setting.OF_EACH

    def test_where_no_rules_hold_none_is_set(self, user, one_kind, monkeypatch):
        monkeypatch.setattr(type(one_kind), "pick_rulebook", lambda *args: None)
        assert setting.top_up(user) == []


@pytest.mark.django_db(transaction=True)
def test_two_taps_at_once_set_them_once(user, one_kind):
    if connection.vendor == "sqlite":
        pytest.skip("one writer at a time")

    def tap(_):
        try:
            return setting.top_up(user)
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        list(pool.map(tap, range(2)))
    assert setting.along(user, timezone.localdate()) == setting.top_up(user)
    assert Assignment.objects.at_sea().count() == setting.OF_EACH
