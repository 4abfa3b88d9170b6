"""The table of missed rules and the list of calls, on a phone and on a desk."""

import random

import pytest
from playwright.sync_api import expect

from training.deck.suppression import SMALLEST
from training.exercises import handing, kinds
from training.exercises.hands import answer, people
from training.people.models import Group, Membership, User

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def crews(db):
    """Enough people for a fair figure, in more groups than a phone is wide."""
    rng = random.Random(4)
    groups = [
        Group.objects.create(name=f"{name} crews", harbor=name)
        for name in ("Kettle Harbor", "Marrow Point", "Gannet Cove", "Eastlight")
    ]
    for number in range(SMALLEST * len(groups) - 2):
        person = User.objects.create_user(f"h{number}@example.com", None, name=f"Hand {number}")
        Membership.objects.create(group=groups[number % len(groups)], user=person)
        assignment = handing.open_assignment(person, kinds.get("judge-rig"))
        # Beginners all, so that some rule is missed whatever the tasks are.
        mind = people.of_skill(number, rng.random() / 5)
        given = answer("judge-rig", handing.task_of(assignment), mind, rng)
        handing.hand_in(assignment, given)
    return groups


def no_wider_than_the_screen(page):
    assert (
        page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        <= 0
    )


@pytest.mark.parametrize("width", [360, 1280])
def test_rules_missed(open_page, sign_in, axe_in_both, staff, crews, width):
    page = open_page(viewport={"width": width, "height": 800})
    sign_in(page, staff)
    page.goto("/desk/rules/")
    axe_in_both(page)
    no_wider_than_the_screen(page)
    page.get_by_role("link", name="Show ranges").click()
    expect(page.get_by_text("about 95 times in 100")).to_be_visible()
    axe_in_both(page)
    page.locator(".heat td a").first.click()
    expect(page.locator("h1")).not_to_have_text("Rules missed")
    axe_in_both(page)
    page.goto("/desk/way/")
    axe_in_both(page)
    no_wider_than_the_screen(page)
