"""
From the first page to a supervised certificate, and what comes back a month later.

One person at 360 pixels who never saw the site, without JavaScript, as on a phone with a poor
signal; the right answers are asked of the rule module, as somebody would know them by the lessons.
How many taps and fields the way takes, without the answers, is held to; ``-s`` prints it.
"""

import re
from datetime import timedelta

import pytest
from django.urls import resolve
from django.utils import timezone
from playwright.sync_api import expect

from tests.exercises.conftest import right_answer
from training.certification import exams
from training.certification.models import (
    Certificate,
    Exam,
    Requirements,
    RequirementsPart,
    Supervision,
)
from training.course.progress import progress_for
from training.demo.certification import CREW
from training.exercises import handing
from training.exercises.models import Assignment
from training.people.models import User
from training.recall import sets
from training.recall.models import ReadingSet, RuleMemory

pytestmark = pytest.mark.django_db(transaction=True)

MONTH = timedelta(days=31)
MOST_PAGES = 600
MOST_FOR_THE_COURSE = 60  # taps, from the first page on


class Walker:
    """
    Somebody with a phone: ``taps`` counts what is tapped, ``typed`` the fields filled in.

    What is tapped and typed to answer tasks is in ``answers`` instead.
    """

    def __init__(self, page):
        self.page = page
        self.taps = self.typed = self.answers = 0

    def tap(self, locator):
        self.taps += 1
        with self.page.expect_navigation():
            locator.tap()

    def fill(self, label, text):
        self.typed += 1
        self.page.get_by_label(label).fill(text)

    def answer(self, raw):
        """Put the ``raw`` answer of a task into the form on the page."""
        for name, value in raw.items():
            for each in value if isinstance(value, list) else [value]:
                self._put(name, each)

    def _put(self, name, value):
        fields = self.page.locator(f'[name="{name}"]')
        if not value or not fields.count():
            return
        kind = fields.first.evaluate("each => each.type")
        self.answers += 1
        if kind in ("radio", "checkbox"):
            named = "" if value is True else f'[value="{value}"]'
            self.page.locator(f'[name="{name}"]{named}').first.check()
        elif kind.startswith("select"):
            fields.first.select_option(value)
        else:
            fields.first.fill(str(value))

    @property
    def at(self):
        """The name of the page, and its arguments."""
        found = resolve(re.sub(r"^https?://[^/]+", "", self.page.url).split("?")[0].split("#")[0])
        return f"{found.app_name}:{found.url_name}", found.kwargs


def on(walker):
    """Do what the page asks and go on to the next."""
    page, (name, which) = walker.page, walker.at
    main = page.locator("main")
    if name == "lessons:detail":
        for label in ("I have read this", re.compile("Answer the reading")):
            button = main.get_by_role("button", name=label)
            if button.count():
                walker.tap(button)
                return
        walker.tap(main.locator(".next-step a.button").first)
    elif name == "recall:set":
        reading = ReadingSet.objects.get(pk=which["pk"]).readings.filter(answered=None).first()
        if reading is None:
            walker.tap(main.locator(".toolbar a.button").first)
        else:
            said = right_answer(sets.task_of(reading))["said"]
            walker.tap(main.locator(f'button[name="said"][value="{said}"]'))
            walker.taps, walker.answers = walker.taps - 1, walker.answers + 1
    elif name == "recall:answer":
        walker.tap(main.locator("a.reading-on"))
    elif name == "exercises:do":
        assignment = Assignment.objects.open().get(user__email=EMAIL, kind=which["slug"])
        walker.answer(right_answer(handing.task_of(assignment)))
        walker.tap(main.locator("form button[type=submit]").last)
    elif name == "exercises:marked":
        walker.tap(main.locator(".next-step a.button, .next-step button").first)
    else:
        pytest.fail(f"No way on from {page.url}")


EMAIL = "dunlin@tern.example"


def test_from_the_first_page_to_a_supervised_certificate(open_page, sign_in, staff, group, capsys):
    fields, parts = CREW
    requirements = Requirements.objects.create(**fields)
    RequirementsPart.objects.bulk_create(
        RequirementsPart(requirements=requirements, kind=kind, difficulty=level, count=count)
        for kind, level, count in parts
    )
    phone = open_page(
        viewport={"width": 360, "height": 740},
        has_touch=True,
        is_mobile=True,
        java_script_enabled=False,
    )
    walker = Walker(phone)

    # In.
    phone.goto("/")
    walker.tap(phone.get_by_role("link", name="Sign up").last)
    walker.fill("Group code", group.code)
    walker.fill("Name", "Dunlin")
    walker.fill("Email", EMAIL)
    walker.fill("Password", "sanderling over mud")
    walker.tap(phone.get_by_role("button", name="Sign up"))
    person = User.objects.get(email=EMAIL)
    told = progress_for(person).minutes_left
    signed_up = walker.taps

    # Through the course, one next step after the other.
    for _ in range(MOST_PAGES):
        if progress_for(person).complete:
            break
        if walker.at[0] == ":home":
            walker.tap(phone.locator(".next-step a.button").first)
        else:
            on(walker)
    assert progress_for(person).complete
    learnt = walker.taps

    # The exam, at a meeting.
    opened = Supervision.objects.create(
        requirements=requirements,
        by=staff,
        place="Net shed",
        starts=timezone.now() - timedelta(minutes=1),
        ends=timezone.now() + timedelta(hours=2),
    )
    walker.tap(phone.locator(".brand"))
    walker.tap(phone.locator(".next-step").get_by_role("link", name="Take the exam"))
    walker.fill(re.compile("Code of a supervised exam"), opened.code)
    walker.tap(phone.get_by_role("button", name="Start the exam"))
    exam = Exam.objects.get(user=person)
    begun = walker.taps
    for task in exam.tasks.all():
        walker.answer(right_answer(exams.task_of(task)))
        walker.tap(phone.get_by_role("button", name="Save and continue"))
    walker.tap(phone.get_by_role("button", name="Turn in the exam"))
    expect(phone.get_by_text("Passed.", exact=True)).to_be_visible()
    certified = walker.taps
    # Sign up, four fields; then a tap a page read, a reading or a task answered, and none astray.
    assert learnt <= MOST_FOR_THE_COURSE
    # Home, the exam, its code and its start; a tap a question, and turning it in.
    assert begun - learnt <= 3
    assert certified - begun == exam.tasks.count() + 1
    assert walker.typed == 5
    desk = open_page(viewport={"width": 1280, "height": 800})
    sign_in(desk, staff)
    desk.goto(f"/exams/supervised/{opened.pk}/")
    desk.get_by_label("I saw an identity paper").check()
    desk.get_by_role("button", name="Sign for this exam").click()
    expect(desk.get_by_role("status").filter(has_text="counts as supervised")).to_be_visible()
    phone.goto(f"/verify/{Certificate.objects.get().code}/")
    expect(phone.get_by_text("Taken under supervision on")).to_be_visible()

    # A month later.
    for memory in RuleMemory.objects.filter(user=person):
        memory.last_asked -= MONTH
        memory.last_right = memory.last_right and memory.last_right - MONTH
        memory.due = memory.due and memory.due - MONTH
        memory.save()
    phone.goto("/")
    walker.tap(phone.get_by_role("button", name="Start the readings"))
    review = ReadingSet.objects.get(user=person, purpose=ReadingSet.Purpose.REVIEW)
    asked = review.readings.count()
    assert asked
    while review.finished is None:
        on(walker)
        review.refresh_from_db()
    with capsys.disabled():
        print(
            f"\n  In: {signed_up} taps. The course: {learnt - signed_up} taps, "
            f"{told} minutes as the site tells. The exam: {certified - learnt} taps, "
            f"{walker.answers} answers besides, "
            f"{requirements.minutes} minutes at most. "
            f"The review: {walker.taps - certified} taps for {asked} readings. "
            f"{walker.typed} fields typed in all."
        )
