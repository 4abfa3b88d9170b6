"""A visitor's first minute on a phone: who passes under, a task graded, a net planned."""

import re

import pytest
from django.core.cache import cache
from playwright.sync_api import expect

from tests.browser.counting import Hand
from tests.browser.looks import fits
from tests.exercises.conftest import right_answer
from training.exercises import handing
from training.exercises.models import Attempt
from training.nets.models import Net
from training.trying import tasks

pytestmark = pytest.mark.django_db(transaction=True)

WORDS = "[data-passing-words]"


@pytest.fixture(autouse=True)
def no_limits_reached():
    cache.clear()


def drag(page, found, down):
    """Put a finger on ``found`` and move it ``down`` by so many pixels."""
    box = found.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    touch = page.context.new_cdp_session(page)
    for kind, at in [("touchStart", y), *(("touchMove", y + down * n / 8) for n in range(1, 9))]:
        points = [{"x": x, "y": at}]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def test_the_footrope_follows_a_finger_and_the_keys(phone, axe):
    phone.goto("/")
    grip = phone.locator("[data-passing-grip]")
    expect(grip).to_be_visible()
    axe(phone)
    assert fits(phone)
    letter = phone.locator(".passing svg text").first.bounding_box()
    assert letter["height"] >= 12
    phone.locator(".passing-picture").scroll_into_view_if_needed()
    before = phone.evaluate("scrollY")

    drag(phone, grip, 150)
    expect(phone.locator(WORDS)).to_contain_text("The footrope is on the bottom.")
    expect(phone.locator(WORDS)).to_contain_text("Under it: nothing.")
    assert phone.evaluate("scrollY") == before
    drag(phone, grip, -230)
    expect(phone.locator(WORDS)).to_contain_text("The footrope is 36 in off the bottom.")

    dial = phone.get_by_role("slider")
    dial.press("Home")
    for __ in range(3):
        dial.press("ArrowRight")
    expect(phone.locator(WORDS)).to_contain_text("The footrope is 3 in off the bottom.")
    expect(phone.locator(WORDS)).to_contain_text("Under it: 2 flatfish.")
    # The two that pass are drawn under the footrope, and whoever goes in is above it.
    tops = phone.locator(".passing svg").evaluate(
        """svg => Object.fromEntries(["net]circle", "life-0", "life-1", "life-2", "life-3"].map(
            (part) => {
                const [name, tag] = part.split("]");
                const found = svg.querySelector(`${tag ?? ""}[data-part=${name}]`);
                return [name, found.getBoundingClientRect().top];
            }))"""
    )
    rope = tops.pop("net")
    assert [name for name, top in tops.items() if top > rope] == ["life-0", "life-3"]
    assert dial.get_attribute("aria-valuetext").startswith("The footrope is 3 in off")


def test_to_the_first_graded_answer_and_along_at_sign_up(phone, group, axe):
    hand = Hand(phone)
    phone.goto("/")
    hand.tap(phone.locator("main").get_by_role("link", name="Try a task"))
    expect(phone.get_by_role("heading", level=1)).to_have_text("Met or broken?")
    axe(phone)
    named = phone.locator("input[name=task]").get_attribute("value")
    said = right_answer(handing.task_of(tasks.named(named)))["said"]
    hand.choose(phone.get_by_text(said.capitalize(), exact=True))
    hand.tap(phone.get_by_role("button", name="Turn in my answer"))
    expect(phone.locator(".score")).to_have_text("1 of 1 point")
    assert (hand.taps, hand.fields) == (3, 1)
    axe(phone)
    assert fits(phone)

    phone.get_by_role("link", name="Sign up").tap()
    expect(phone.locator("main")).to_contain_text("This comes along to your record: 1 task.")
    phone.get_by_label("Your name").fill("Avocet Brand")
    phone.get_by_label("Email").fill("avocet@example.com")
    phone.get_by_role("textbox", name="Password").fill("mudflat at low water")
    phone.get_by_label("Group code").fill("tern 42")
    phone.get_by_role("button", name="Sign up").tap()
    expect(phone.locator("main")).to_contain_text("Now on your record: 1 task.")
    attempt = Attempt.objects.get()
    assert (attempt.assignment.user.email, attempt.marks) == ("avocet@example.com", 1)


def test_to_ones_own_plan(phone, axe):
    hand = Hand(phone)
    phone.goto("/")
    hand.tap(phone.locator("main").get_by_role("link", name="Plan my own net"))
    expect(phone.get_by_role("heading", level=1)).to_have_text("Plan my own net")
    axe(phone)
    hand.type(phone.locator("#id_port_wing"), "30 ft")
    hand.type(phone.get_by_label("Bosom"), "20 ft")
    hand.type(phone.get_by_label("Headrope"), "70 ft")
    hand.pick(phone.get_by_label("Is there a sweep on it now?"), "No")
    hand.tap(phone.get_by_role("button", name="See the plan", exact=True))
    expect(phone).to_have_url(re.compile("/try/net/plan/$"))  # the script has forgotten its draft
    expect(phone.get_by_role("heading", name="Where the droppers go")).to_be_visible()
    assert (hand.taps, hand.fields) == (7, 4)
    axe(phone)
    assert fits(phone)
    assert not Net.objects.exists()
