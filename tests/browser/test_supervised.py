"""A supervised exam on a phone: from the code to a certificate that says so."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.certification.candidates import make_requirements
from tests.exercises.conftest import right_answer
from training.certification import exams
from training.certification.models import Certificate, Exam, Supervision

pytestmark = pytest.mark.django_db(transaction=True)

PARTS = (("pick-chain", 1, 1), ("judge-rig", 1, 1))


def test_from_the_code_to_the_signed_certificate(phone, desk, sign_in, user, staff, axe):
    make_requirements(PARTS, must_pass=[], minutes=10)
    sign_in(desk, staff)
    desk.goto("/exams/supervised/new/")
    axe(desk)
    # Tomorrow, and then moved to now: the hours asked for are those of one day.
    day = timezone.localdate() + timedelta(days=1)
    desk.get_by_role("combobox", name="Certificate").select_option(label="Raised footrope")
    desk.get_by_label("Where").fill("Net shed")
    desk.get_by_label("Day").fill(day.isoformat())
    desk.get_by_label("From").fill("18:00")
    desk.locator("[name=finishes]").fill("20:00")
    desk.get_by_role("button", name="Open the exam").click()
    expect(desk.get_by_text("Net shed")).to_be_visible()
    opened = Supervision.objects.get()
    opened.starts, opened.ends = timezone.now(), timezone.now() + timedelta(hours=1)
    opened.save()
    desk.reload()
    expect(desk.get_by_text("It works now.")).to_be_visible()
    axe(desk)

    sign_in(phone, user)
    phone.goto("/exams/")
    phone.get_by_role("link", name="Take the exam").tap()
    phone.get_by_label("Code of a supervised exam").fill(opened.code.lower())
    axe(phone)
    assert fits(phone)
    phone.get_by_role("button", name="Start the exam").tap()
    expect(phone).to_have_url(re.compile(r"/task/1/"))
    exam = Exam.objects.get()
    for task in exam.tasks.all():
        phone.goto(f"/exams/{exam.pk}/task/{task.number}/")
        for name, value in right_answer(exams.task_of(task)).items():
            for each in value if isinstance(value, list) else [value]:
                phone.locator(f'[name="{name}"][value="{each}"]').check()
        phone.get_by_role("button", name="Save and continue").tap()
        expect(phone).not_to_have_url(re.compile(rf"/task/{task.number}/"))
    phone.goto(f"/exams/{exam.pk}/review/")
    phone.get_by_role("button", name="Turn in the exam").tap()
    expect(phone.get_by_text("Passed.", exact=True)).to_be_visible()
    expect(phone.get_by_text("not signed yet")).to_be_visible()
    axe(phone)
    assert fits(phone)

    desk.reload()
    desk.get_by_label("I saw an identity paper").check()
    desk.get_by_role("button", name="Sign for this exam").click()
    expect(desk.get_by_role("status")).to_contain_text("counts as supervised")
    axe(desk)
    desk.set_viewport_size({"width": 360, "height": 740})
    assert fits(desk)

    phone.goto(f"/verify/{Certificate.objects.get().code}/")
    expect(phone.get_by_text("Taken under supervision on")).to_be_visible()
    axe(phone)
    assert fits(phone)
    phone.get_by_role("link", name="What it means and how it is made").tap()
    expect(phone.get_by_role("heading", name="Supervised or not")).to_be_visible()
    axe(phone)
    assert fits(phone)
