"""The way round the site: one row on a desk, one menu on a phone, by finger and by keyboard."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from tests.browser.looks import fits

TOUCH = 44  # pixels


@pytest.mark.parametrize("who", ["user", "officer", "staff"])
def test_the_navigation_is_one_row_on_a_desk(request, desk, sign_in, who):
    sign_in(desk, request.getfixturevalue(who))
    desk.goto(reverse("home"))
    height = desk.locator(".site-header").bounding_box()["height"]
    assert height < 2 * TOUCH, "a second row of words"
    tops = desk.locator(".nav-wide > li").evaluate_all("all => all.map(e => e.offsetTop)")
    assert max(tops) - min(tops) < TOUCH / 2


def test_a_word_opens_to_its_pages_and_the_next_closes_it(desk, axe, sign_in, staff):
    sign_in(desk, staff)
    desk.goto(reverse("home"))
    row = desk.locator(".nav-wide")
    people, vessels = row.get_by_text("People", exact=True), row.get_by_text("Vessels", exact=True)
    people.click()
    expect(row.get_by_role("link", name="Groups")).to_be_visible()
    axe(desk)
    vessels.click()
    expect(row.get_by_role("link", name="Groups")).to_be_hidden()
    row.get_by_role("link", name="All vessels").click()
    expect(desk).to_have_url(reverse("register:vessels"))


def test_the_keyboard_opens_a_word_and_escape_closes_it(desk, sign_in, staff):
    sign_in(desk, staff)
    desk.goto(reverse("home"))
    summary = desk.locator(".nav-wide summary", has_text="Figures")
    summary.press("Enter")
    link = desk.locator(".nav-wide").get_by_role("link", name="Uptake")
    expect(link).to_be_visible()
    link.focus()
    desk.keyboard.press("Escape")
    expect(link).to_be_hidden()
    expect(summary).to_be_focused()


def test_staff_find_a_person_from_the_row(desk, sign_in, staff, user):
    sign_in(desk, staff)
    desk.goto(reverse("home"))
    desk.locator(".nav-wide").get_by_role("searchbox").fill(user.name[:5].lower())
    desk.keyboard.press("Enter")
    expect(desk.get_by_role("heading", level=1)).to_contain_text(user.name)


def test_the_phone_has_it_all_under_one_button(phone, axe, sign_in, staff):
    sign_in(phone, staff)
    phone.goto(reverse("desk:groups"))
    phone.get_by_text("Menu", exact=True).tap()
    menu = phone.locator(".nav-menu")
    expect(menu.get_by_role("link", name="Groups")).to_have_attribute("aria-current", "true")
    expect(menu.get_by_role("link", name="Rule sets")).to_be_visible()
    axe(phone)
    assert fits(phone)
    menu.get_by_role("link", name="Sessions").tap()
    expect(phone).to_have_url(reverse("desk:sessions"))
