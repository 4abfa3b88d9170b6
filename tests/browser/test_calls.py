"""Ringing the most urgent person from the first page of staff, on a phone, and noting it."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from training.desk.calls.numbers import QUIET_DAYS
from training.desk.models import CallNote, PersonTally
from training.people.models import User

pytestmark = pytest.mark.django_db(transaction=True)

RING = re.compile("Call 508-555-0142")
NO_WIDER = "document.documentElement.scrollWidth <= document.documentElement.clientWidth"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_ringing_the_most_urgent_person(open_page, sign_in, axe, staff, user, scheme):
    User.objects.filter(pk=user.pk).update(phone="508-555-0142")
    PersonTally.objects.update_or_create(
        user=user,
        defaults={"last": timezone.now() - timedelta(days=QUIET_DAYS), "step": "read:x"},
    )
    page = open_page(
        viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True, color_scheme=scheme
    )
    sign_in(page, staff)
    # The first page of staff has the link that rings: one tap, and nothing to fill in.
    page.goto("/")
    page.evaluate(
        "addEventListener('click', (event) => {"
        " const link = event.target.closest('a');"
        " if (link.protocol === 'tel:') { event.preventDefault(); document.title = link.href } })"
    )
    ring = page.get_by_role("link", name=RING)
    ring.tap()
    assert page.title() == "tel:5085550142"
    assert page.evaluate(NO_WIDER)
    page.get_by_role("link", name="All calls").tap()
    expect(ring).to_be_in_viewport()
    axe(page)
    assert page.evaluate(NO_WIDER)

    page.locator("summary", has_text="Write down the call").tap()
    page.get_by_label("What was said").fill("At sea till Friday")
    axe(page)
    page.get_by_role("button", name="Save: we spoke").tap()
    expect(page.get_by_text(f"Saved: {user.name} was called.")).to_be_visible()
    expect(page.get_by_text("Nobody to call right now.")).to_be_visible()
    axe(page)
    assert CallNote.objects.get().note == "At sea till Friday"

    page.get_by_role("button", name="Undo this call").tap()
    expect(page.get_by_role("link", name=RING)).to_be_visible()
    page.get_by_role("link", name=user.name, exact=True).tap()
    expect(page.get_by_text("it does not count")).to_be_visible()
    axe(page)
    assert page.evaluate(NO_WIDER)
