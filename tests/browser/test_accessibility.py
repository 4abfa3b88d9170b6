"""
Every page of the site under axe-core, on a phone and on a desk, light and dark.

Pages are found by walking the links from each person's home, so that a new page is
looked at as soon as something leads to it.
"""

import random
import re
import uuid
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.people.codes import give_phone
from training.accounts import asking
from training.exercises import handing, kinds
from training.exercises.hands import answer, people
from training.lessons.loader import all_lessons
from training.people.factors import resetting
from training.people.models import Role
from training.work.models import Job

pytestmark = pytest.mark.django_db(transaction=True)

# Ways out of the site's own pages: files to download and Django's admin.
NOT_PAGES = re.compile(r"^/admin/|\.(csv|pdf|png|json|ics|xlsx|zip)$")
# Of many pages of one shape, such as trainees' records, so many are enough.
OF_A_SHAPE = 2
# Lessons share a shape but not their drawings: all of them are looked at.
ALL_OF = re.compile(r"^/lessons/")


def shape(path):
    """Return ``path`` without what tells one record from another."""
    return re.sub(r"/[0-9a-f]{8}-[0-9a-f-]{27}(?=/|$)|/\d+(?=/|$)", "/n", path)


def walk(page, axe, start="/"):
    """Look at every page that links lead to from ``start``; return their paths."""
    seen, queue, shapes = set(), [start], {}
    while queue:
        path = queue.pop(0)
        kind = shape(path)
        if path in seen or (shapes.get(kind, 0) >= OF_A_SHAPE and not ALL_OF.match(path)):
            continue
        seen.add(path)
        shapes[kind] = shapes.get(kind, 0) + 1
        response = page.goto(path)
        assert response.status == 200, f"{path} answered {response.status}"
        axe(page)
        overflow = page.evaluate(
            "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        assert overflow <= 0, f"{path} is {overflow} pixels wider than the screen"
        for link in page.eval_on_selector_all("a[href]", "all => all.map(a => a.href)"):
            parts = urlsplit(link)
            if parts.netloc == urlsplit(page.url).netloc and not NOT_PAGES.search(parts.path):
                queue.append(parts.path)
    return seen


@pytest.fixture
def records(user):
    """A trainee with something to show: a task of each kind handed in, badly, and one open."""
    for kind in kinds.KINDS.values():
        assignment = handing.open_assignment(user, kind)
        mind, rng = people.of_skill(1, 0.2), random.Random(kind.slug)
        given = answer(kind.slug, handing.task_of(assignment), mind, rng)
        handing.hand_in(assignment, given)
        handing.open_assignment(user, kind)
    return user


def test_pages_of_a_visitor(phone, axe, db):
    seen = walk(phone, axe)
    assert "/account/sign-up/" in seen
    assert len([path for path in seen if path.startswith("/lessons/")]) > len(all_lessons())


def test_pages_of_a_trainee(open_page, sign_in, axe, records):
    page = open_page(
        viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True, color_scheme="dark"
    )
    sign_in(page, records)
    seen = walk(page, axe)
    for kind in kinds.KINDS.values():
        page.goto(f"/exercises/{kind.slug}/")
        axe(page)
        attempt = records.assignments.filter(kind=kind.slug, is_open=False).get().attempt
        page.goto(f"/exercises/marked/{attempt.pk}/")
        axe(page)
    assert "/account/" in seen


def test_pages_of_an_officer(phone, sign_in, axe, officer):
    sign_in(phone, officer)
    assert walk(phone, axe)


def test_pages_of_staff(desk, sign_in, axe_in_both, staff, records):
    sign_in(desk, staff)
    seen = walk(desk, axe_in_both)
    assert f"/desk/trainees/{records.pk}/" in seen


def test_staff_pages_on_a_phone(phone, sign_in, axe, staff, records):
    sign_in(phone, staff)
    assert "/desk/trainees/" in walk(phone, axe)


def colors(page):
    """Return the colors of everything on ``page``, in its order."""
    return page.evaluate(
        """() => [...document.querySelectorAll("*")].map(each => {
            const style = getComputedStyle(each)
            return [each.tagName, style.color, style.backgroundColor, style.borderTopColor,
                style.fill, style.stroke].join(" ")
        })"""
    )


@pytest.mark.parametrize("path", ["/", "/lessons/parts-of-the-rig/", "/try/"])
def test_a_page_that_turns_dark_is_as_one_opened_in_the_dark(desk, path):
    assert desk.goto(path).ok
    light = colors(desk)
    desk.emulate_media(color_scheme="dark")
    turned = colors(desk)
    assert desk.reload().ok
    assert turned == colors(desk) != light


def wanted(email):
    """Return what an account request asks for: somebody new for the staff."""
    return {
        **{"name": "Tamsin Oakshaw", "email": email, "role": Role.STAFF, "is_active": True},
        **{"whole_fleet": True, "harbors": [], "group": None},
    }


@pytest.fixture
def waits(staff, second, officer):
    """What waits for two: lost phones and accounts, of each as asker and as second person."""
    for person, by in ((officer, second), (second, staff)):
        give_phone(person)
        resetting.ask(person, by)
    asking.ask(None, wanted("a@example.com"), staff, uuid.uuid4())
    asking.ask(None, wanted("b@example.com"), second, uuid.uuid4())


@pytest.fixture
def jobs(staff):
    """A piece of long work in each of its states."""
    made = {"kind": "letter", "owner": staff, "about": {"letter": 0}, "total": 9, "done": 4}
    return [Job.objects.create(key=uuid.uuid4(), state=each, **made) for each in Job.State]


def test_what_takes_two_and_what_takes_long(open_page, sign_in, axe, staff, waits, jobs):
    page = open_page(
        viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True, color_scheme="dark"
    )
    sign_in(page, staff)
    for path in (
        "/accounts/asked/",
        "/account/lost-phones/",
        "/work/",
        "/well/",
        "/account/phone/",
    ):
        page.goto(path)
        axe(page)
        assert fits(page), path
    for job in jobs:
        page.goto(job.get_absolute_url())
        axe(page)
        assert fits(page), job.state
    page.goto("/account/phone/set-up/")
    page.locator("[name=code]").fill("12")
    page.get_by_role("button", name="Turn sign-in codes on").tap()
    expect(page.get_by_text("That is not the code of this picture")).to_be_visible()
    # The field names its error to who does not see it.
    described = page.locator("[name=code]").get_attribute("aria-describedby").split()
    assert "not the code" in "".join(page.locator(f"#{each}").inner_text() for each in described)
    axe(page)
    assert fits(page)
    for path in ("/account/email/", "/nowhere/"):
        page.goto(path)
        axe(page)
        assert fits(page), path
