"""An exam sat in a browser: saved on every change, whatever the connection does."""

import re
from uuid import uuid4

import pytest
from playwright.sync_api import expect

from tests.certification.candidates import begin, make_requirements
from tests.exercises.conftest import right_answer
from training.certification import changes, exams, terms
from training.certification.models import Certificate, Exam, ExamTask
from training.certification.motion import Motion

pytestmark = pytest.mark.django_db(transaction=True)

PARTS = (("pick-chain", 1, 1), ("judge-rig", 1, 1))


@pytest.fixture
def exam(user):
    return begin(user, make_requirements(PARTS))


@pytest.fixture
def told():
    return lambda page: page.locator("[data-answer-told]")


def stock(page, size):
    return page.get_by_label(f"{size} chain", exact=True)


def saved(exam):
    return ExamTask.objects.get(exam=exam, number=1).answer


def test_every_change_is_saved_and_seen_on_another_device(
    phone, desk, sign_in, user, exam, told, axe
):
    for page in (phone, desk):
        sign_in(page, user)
    phone.goto(f"/exams/{exam.pk}/task/1/")
    stock(phone, "5/16 in").check()
    expect(told(phone)).to_contain_text("Saved at")
    assert saved(exam)["stock"] == "5/16 in"
    axe(phone)
    desk.goto(f"/exams/{exam.pk}/task/1/")
    expect(stock(desk, "5/16 in")).to_be_checked()
    # The phone has not seen what the desk saves now, and must not wipe it out.
    stock(desk, "3/8 in").check()
    expect(told(desk)).to_contain_text("Saved at")
    stock(phone, "1/4 in").check()
    expect(told(phone)).to_contain_text("saved this question in another window")
    assert saved(exam)["stock"] == "3/8 in"
    phone.get_by_role("link", name="Show my last saved answer").tap()
    expect(stock(phone, "3/8 in")).to_be_checked()


def test_an_answer_without_connection_is_kept_and_sent_later(phone, sign_in, user, exam, told):
    sign_in(phone, user)
    phone.goto(f"/exams/{exam.pk}/task/1/")
    phone.context.set_offline(True)
    stock(phone, "3/8 in").check()
    expect(told(phone)).to_contain_text("saved on this device")
    assert saved(exam) is None
    phone.context.set_offline(False)
    expect(told(phone)).to_contain_text("Saved at")
    assert saved(exam)["stock"] == "3/8 in"


def test_an_answer_kept_is_sent_when_the_page_is_opened_again(phone, sign_in, user, exam, told):
    sign_in(phone, user)
    phone.goto(f"/exams/{exam.pk}/task/1/")
    phone.context.set_offline(True)
    stock(phone, "1/4 in").check()
    expect(told(phone)).to_contain_text("saved on this device")
    phone.goto("about:blank")
    phone.context.set_offline(False)
    phone.goto(f"/exams/{exam.pk}/task/1/")
    expect(told(phone)).to_contain_text("Saved at")
    expect(stock(phone, "1/4 in")).to_be_checked()
    assert saved(exam)["stock"] == "1/4 in"


# Holds up whatever the page sends, as a slow save does, until `window.letGo()`.
HOLD = """() => {
  const key = document.querySelector("form[data-answer]").dataset.answer;
  const held = new Promise((resolve) => { window.letGo = resolve; });
  return new Promise((resolve) => {
    navigator.locks.request(`sending exam answer ${key}`, () => { resolve(); return held; });
  });
}"""
HOW_MANY_WAIT = """async () => (await navigator.locks.query()).pending.length"""


def until_waiting(page, many):
    """Wait until so many sends wait for their turn."""
    for _ in range(300):
        if page.evaluate(HOW_MANY_WAIT) >= many:
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"Fewer than {many} sends wait.")


def test_the_button_goes_on_though_the_save_on_a_change_took_it_along(phone, sign_in, user, exam):
    sign_in(phone, user)
    phone.goto(f"/exams/{exam.pk}/task/1/")
    phone.evaluate(HOLD)
    for name, value in right_answer(exams.task_of(exam.tasks.get(number=1))).items():
        for each in value if isinstance(value, list) else [value]:
            phone.locator(f'[name="{name}"][value="{each}"]').check()
    until_waiting(phone, 1)
    phone.get_by_role("button", name="Save and continue").tap()
    until_waiting(phone, 2)
    phone.evaluate("window.letGo()")
    expect(phone).to_have_url(re.compile(r"/task/2/"))


def test_from_begin_to_certificate(phone, sign_in, user, axe):
    make_requirements(PARTS)
    sign_in(phone, user)
    phone.goto("/exams/")
    axe(phone)
    phone.get_by_role("link", name="Take the exam").tap()
    expect(phone.get_by_text("2 questions,")).to_be_visible()
    assert not Exam.objects.exists()
    axe(phone)
    phone.get_by_role("button", name="Start the exam").tap()
    expect(phone).to_have_url(re.compile(r"/task/1/"))
    exam = Exam.objects.get()
    for task in exam.tasks.all():
        for name, value in right_answer(exams.task_of(task)).items():
            for each in value if isinstance(value, list) else [value]:
                phone.locator(f'[name="{name}"][value="{each}"]').check()
        phone.get_by_role("button", name="Save and continue").tap()
        expect(phone).not_to_have_url(re.compile(rf"/task/{task.number}/"))
    expect(phone.get_by_text("All 2 questions are answered.")).to_be_visible()
    phone.get_by_role("button", name="Turn in the exam").tap()
    expect(phone.get_by_text("Passed.", exact=True)).to_be_visible()
    axe(phone)
    assert Certificate.objects.get().exam == exam


def test_the_staffs_pages(open_page, sign_in, staff, exam, axe_in_both):
    exams.hand_in(exam)
    asked = terms.of_requirements(exam.requirements) | {"pass_percent": 90}
    change = changes.propose(
        exam.requirements, asked, Motion(staff, "Too many passed by chance.", uuid4())
    )
    for width in (360, 1280):
        page = open_page(viewport={"width": width, "height": 800})
        sign_in(page, staff)
        slug = exam.requirements.slug
        for path in (
            "requirements/",
            "new-requirements/",
            f"requirements/{slug}/",
            f"requirements/{slug}/changes/",
            f"changes/{change.pk}/",
            f"{exam.pk}/",
        ):
            assert page.goto(f"/exams/{path}").ok
            axe_in_both(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= width, path
