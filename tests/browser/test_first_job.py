"""A newcomer learns, tries, is marked; a member of staff sees the record. All by touch."""

import re

import pytest
from playwright.sync_api import expect

from rigs.words.units import INCH
from tests.browser.rope import hang_exactly
from training.exercises import handing
from training.exercises.models import Assignment, Attempt
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead

pytestmark = pytest.mark.django_db(transaction=True)


def test_from_sign_up_to_the_record(phone, desk, sign_in, staff, group, axe):
    phone.goto("/")
    phone.get_by_role("link", name="Sign up").first.tap()
    phone.get_by_label("Name").fill("Avocet Brand")
    phone.get_by_label("Email").fill("avocet@example.com")
    phone.get_by_role("textbox", name="Password").fill("mudflat at low water")
    phone.get_by_label("Group code").fill("tern 42")
    axe(phone)
    phone.get_by_role("button", name="Sign up").tap()

    # Home shows one clear next step, and it is the first lesson.
    first = all_lessons()[0]
    expect(phone.locator(".next-step")).to_have_count(1)
    phone.locator(".next-step a.button").tap()
    expect(phone.get_by_role("heading", level=1)).to_have_text(first.title)
    phone.get_by_role("button", name="I have read this").tap()
    expect(phone.get_by_role("button", name="I have read this")).to_have_count(0)
    assert LessonRead.objects.filter(user__email="avocet@example.com", slug=first.slug).exists()

    phone.goto("/exercises/space-droppers/")
    assignment = Assignment.objects.get(user__email="avocet@example.com")
    fewest = handing.task_of(assignment).fewest
    for position in fewest:
        hang_exactly(phone, round(position / INCH))
    phone.get_by_role("button", name="Turn in my answer").tap()
    expect(phone).to_have_url(re.compile(r"/exercises/.*\d+/"))
    attempt = Attempt.objects.get(assignment=assignment)
    assert attempt.passed
    assert attempt.marks == attempt.out_of
    expect(phone.locator("main")).to_contain_text(f"{attempt.marks} of {attempt.out_of}")
    expect(phone.locator("main")).to_contain_text("50 CFR 648.80(a)(9)(ii)(D)")
    axe(phone)
    width = phone.evaluate("document.documentElement.scrollWidth")
    assert width <= 360

    sign_in(desk, staff)
    desk.goto("/desk/trainees/")
    desk.get_by_role("link", name="Avocet Brand").click()
    # The person's page says how many; one tap on, each stands with its points.
    axe(desk)
    desk.get_by_role("link", name="1 turned in, 1 passed").click()
    expect(desk.locator("main")).to_contain_text("Space the droppers")
    expect(desk.locator("main")).to_contain_text(f"{attempt.marks} of {attempt.out_of}")
    axe(desk)
