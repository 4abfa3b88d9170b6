"""The first page of a trainee and what it leads to: read by anybody, at twice the size of text."""

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.certification.candidates import make_requirements
from tests.lessons.test_progress import right_about
from training.exercises.models import Assignment

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_home_practice_and_the_way_to_an_exam(open_page, sign_in, user, axe, scheme):
    requirements = make_requirements()
    right_about(user, "off_bottom", "dropper_spacing", right=False)
    phone = open_page(
        viewport={"width": 360, "height": 740},
        has_touch=True,
        is_mobile=True,
        color_scheme=scheme,
    )
    sign_in(phone, user)
    for path in ("/", "/exercises/", f"/exams/begin/{requirements.slug}/"):
        assert phone.goto(path).ok
        axe(phone)
        assert fits(phone), path
        phone.evaluate("document.documentElement.style.fontSize = '200%'")
        assert fits(phone), path
    if scheme == "light":
        # Two taps from the first page, with the question before the exam between them.
        phone.goto("/")
        phone.get_by_role("link", name=f"See the exam: {requirements.title}").tap()
        expect(phone.get_by_role("button", name="Start the exam")).to_be_visible()
        phone.goto("/exercises/")
        row = phone.get_by_role("listitem").filter(has_text="Pick the chain")
        row.get_by_role("button", name="Level 2").tap()
        expect(phone.get_by_role("heading", level=1)).to_have_text("Pick the chain")
        assert Assignment.objects.get().difficulty == 2
