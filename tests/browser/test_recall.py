"""A set of readings on a phone, from what comes back on the home page to its summary."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from tests.browser.looks import fits
from training.recall import memory, sets
from training.recall.models import ReadingSet

pytestmark = pytest.mark.django_db(transaction=True)

RULES = [("no-sweep", "float_spacing"), ("no-sweep", "dropper_stock"), ("no-sweep", "no_sweep")]


@pytest.fixture
def missed(user):
    """A person who missed RULES three days ago, so that they come back today."""
    for rule in RULES:
        memory.note(user, *rule, False, timezone.now() - timedelta(days=3))
    return user


def looked_at(page, axe):
    axe(page)
    assert fits(page)


def say(page, right):
    """Tap the answer to the reading on ``page`` that is right, or the one that is not."""
    reading = ReadingSet.objects.get().readings.filter(answered=None).first()
    broken = sets.task_of(reading).broken
    page.get_by_role("button", name="Broken" if broken is right else "Met", exact=True).click()
    return reading


def test_a_set_from_home_to_its_summary(phone, sign_in, axe, missed):
    sign_in(phone, missed)
    phone.goto("/")
    phone.get_by_role("button", name="Start the readings").click()
    expect(phone.get_by_text("Reading 1 of 3")).to_be_visible()
    looked_at(phone, axe)

    say(phone, right=False)
    expect(phone.get_by_role("heading", name="Not right")).to_be_visible()
    expect(phone.get_by_role("link", name="Read about this rule")).to_be_visible()
    looked_at(phone, axe)

    # Back by the browser's button: what was answered is not asked again.
    phone.go_back()
    expect(phone.get_by_text("Reading 2 of 3")).to_be_visible()
    phone.goto("/")
    phone.get_by_role("link", name="Go on with the readings").click()
    expect(phone.get_by_text("Reading 2 of 3")).to_be_visible()
    for number in (2, 3):
        say(phone, right=True)
        expect(phone.get_by_text(f"Reading {number} of 3")).to_be_visible()
        expect(phone.get_by_role("heading", name=re.compile("Right$"))).to_be_visible()
        phone.get_by_role("link", name=re.compile("Next reading|See how it went")).click()
    expect(phone.get_by_role("heading", name="2 of 3 right")).to_be_visible()
    looked_at(phone, axe)
    assert ReadingSet.objects.get().finished

    phone.get_by_role("link", name="See all my rules").click()
    looked_at(phone, axe)


def test_an_answer_that_gets_no_reply_is_asked_again_and_answered_once(phone, sign_in, missed):
    sign_in(phone, missed)
    found = sets.open_set(missed, ReadingSet.Purpose.REVIEW, RULES)
    phone.goto(f"/practice/{found.pk}/")
    phone.route(re.compile(r"/practice/\d+/1/"), lambda route: route.abort())
    reading = say(phone, right=True)
    phone.unroute_all()
    phone.goto(f"/practice/{found.pk}/")
    expect(phone.get_by_text("Reading 1 of 3")).to_be_visible()
    say(phone, right=True)
    expect(phone.get_by_role("heading", name=re.compile("Right$"))).to_be_visible()
    assert missed.rule_memories.get(key=reading.focus).asked == 2


def test_a_set_is_answered_without_scripts(open_page, sign_in, missed):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    sign_in(page, missed)
    found = sets.open_set(missed, ReadingSet.Purpose.REVIEW, RULES[:1])
    page.goto(f"/practice/{found.pk}/")
    say(page, right=True)
    page.get_by_role("link", name="See how it went").click()
    expect(page.get_by_role("heading", name="1 of 1 right")).to_be_visible()
