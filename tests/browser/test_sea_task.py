"""A task for sea is answered without signal, is graded on the phone at once, and arrives once."""

import pytest
from playwright.sync_api import expect

from tests.exercises.conftest import right_answer
from training.exercises import handing, kinds
from training.exercises.models import Attempt
from training.exercises.sea import setting

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def task(user, monkeypatch):
    """A task of one question that ``user`` has along."""
    monkeypatch.setattr(setting, "kinds_for", lambda user: [kinds.get("one-reading")])
    return setting.top_up(user)[0]


def answer(page, task):
    right = right_answer(handing.task_of(task))["said"]
    page.locator(f"[name=said][value={right}]").check()
    page.get_by_role("button", name="Turn in my answer").click()


def test_a_task_answered_without_signal(phone, sign_in, user, task, axe):
    sign_in(phone, user)
    phone.goto(f"/exercises/sea/{task.pk}/")
    phone.wait_for_load_state("networkidle")
    phone.context.set_offline(True)
    answer(phone, task)
    expect(phone.get_by_text("saved on this phone, not sent yet")).to_be_visible()
    expect(phone.get_by_text("Passed.")).to_be_visible()
    expect(phone.get_by_text("1 of 1 point", exact=True)).to_be_visible()
    assert phone.locator("form[data-sea-task]").evaluate("(form) => form.inert")
    axe(phone)
    assert not Attempt.objects.exists()
    phone.context.set_offline(False)
    expect(phone.get_by_text("the site has your answer")).to_be_visible()
    attempt = Attempt.objects.get()
    assert (attempt.passed, attempt.told, attempt.noted is None) == (True, 1, False)
    phone.get_by_role("link", name="See it as the site graded it").click()
    expect(phone.get_by_text("answered without signal")).to_be_visible()


def test_nothing_chosen_is_not_an_answer(phone, sign_in, user, task):
    sign_in(phone, user)
    phone.goto(f"/exercises/sea/{task.pk}/")
    phone.get_by_role("button", name="Turn in my answer").click()
    expect(phone.get_by_text("Choose one: met or broken.")).to_be_visible()
    expect(phone.locator("[data-sea-told]")).to_be_hidden()
