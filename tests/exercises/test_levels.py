"""A level that one chooses: one task is open, and none that was answered is lost."""

import re

import pytest
from django.urls import reverse

from tests.exercises.conftest import right_answer
from training.exercises import handing, kinds
from training.exercises.models import Assignment, Attempt

KIND = "pick-chain"
AT = reverse("exercises:at_level", args=[KIND])


def choose(client, level):
    return client.post(AT, {"level": str(level)})


def test_the_chosen_level_is_set_once_and_another_puts_it_away(as_user, user):
    assert choose(as_user, 3).url == reverse("exercises:do", args=[KIND])
    first = Assignment.objects.get()
    assert (first.difficulty, first.is_open) == (3, True)
    choose(as_user, 3)
    assert Assignment.objects.get() == first
    choose(as_user, 1)
    assert Assignment.objects.open().get().difficulty == 1
    page = as_user.get(reverse("exercises:list")).content.decode()
    assert "You have a task open at level 1." in page
    # What was put away and is answered all the same, from another window, counts.
    answer = right_answer(handing.task_of(first))
    posted = {"assignment": first.pk} | answer
    as_user.post(reverse("exercises:do", args=[KIND]), posted)
    assert Attempt.objects.get().assignment == first
    assert Assignment.objects.open().get().difficulty == 1


def test_the_staircase_goes_on_from_the_chosen_level(as_user, user):
    choose(as_user, 3)
    task = Assignment.objects.get()
    handing.hand_in(task, right_answer(handing.task_of(task)))
    assert handing.next_difficulty(user, kinds.get(KIND)) == 3
    page = as_user.get(reverse("exercises:list")).content.decode()
    row = page.split(AT)[1].split("</form>")[0]
    marked = re.findall(r'value="(\d)" class="[^"]*level-next', row)
    assert marked == ["3"]
    assert "You have a task open" not in page


@pytest.mark.parametrize("level", ["", "0", "4", "one"])
def test_another_level_is_none(as_user, level):
    assert choose(as_user, level).status_code == 404
    assert not Assignment.objects.exists()


def test_without_rules_for_today_it_is_said(as_user, monkeypatch):
    monkeypatch.setattr(type(kinds.get(KIND)), "pick_rulebook", lambda *args: None)
    response = as_user.post(AT, {"level": "2"}, follow=True)
    assert "No task of this kind and level can be set today." in response.content.decode()
    assert not Assignment.objects.exists()
