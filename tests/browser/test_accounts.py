"""Signing up, in and out, and how the frame of the site fits a small screen."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.site import PASSWORD
from training.people.models import User

OPEN_PAGES = ["home", "people:sign_up", "people:sign_in", "people:reset"]
OWN_PAGES = ["people:account", "people:password"]


def small_targets(page):
    """Return what on ``page`` is lower than a finger needs: 44 pixels."""
    return page.evaluate(
        """() => [...document.querySelectorAll("button, summary, input, select, nav a, a.button")]
            .filter(e => e.checkVisibility() && e.type !== "hidden")
            .map(e => (e.type === "checkbox" && e.closest(".form-check")) || e)  // and its words
            .filter(e => e.getBoundingClientRect().height < 44)
            .map(e => e.outerHTML)"""
    )


@pytest.mark.parametrize("name", OPEN_PAGES)
def test_open_pages_fit_a_phone_and_shut_nobody_out(phone, axe_in_both, name):
    phone.goto(reverse(name))
    axe_in_both(phone)
    assert fits(phone)
    assert small_targets(phone) == []


@pytest.mark.parametrize("name", OWN_PAGES)
def test_own_pages_fit_a_phone_and_shut_nobody_out(phone, axe_in_both, sign_in, staff, name):
    sign_in(phone, staff)
    phone.goto(reverse(name))
    phone.get_by_text("Menu", exact=True).tap()
    expect(phone.locator(".nav-narrow")).to_have_attribute("open", "")
    axe_in_both(phone)
    assert fits(phone)
    assert small_targets(phone) == []


def test_sign_up_on_a_phone_shows_the_mistake_beside_its_field(phone, axe, group):
    phone.goto(reverse("people:sign_up") + "?code=tern-43")
    phone.get_by_label("Your name").fill("Avocet Reyes")
    phone.get_by_label("Email").fill("avocet@example.com")
    phone.locator("#id_password").fill(PASSWORD)
    phone.get_by_role("button", name="Sign up").tap()

    code = phone.get_by_label("Group code")
    expect(phone.locator("#div_id_code")).to_contain_text("No group has this code")
    expect(code).to_have_attribute("aria-invalid", "true")
    expect(phone.get_by_label("Your name")).to_have_value("Avocet Reyes")
    axe(phone)

    code.fill("tern 42")
    phone.get_by_role("button", name="Sign up").tap()
    expect(phone).to_have_url("/")
    assert User.objects.get(email="avocet@example.com").memberships.get().group == group


def test_the_typed_password_can_be_seen(phone):
    phone.goto(reverse("people:sign_in"))
    password = phone.locator("#id_password")
    password.fill("sand")
    phone.get_by_role("button", name="Show the password").tap()
    expect(password).to_have_attribute("type", "text")
    phone.get_by_role("button", name="Hide the password").tap()
    expect(password).to_have_attribute("type", "password")
    expect(password).to_have_value("sand")


def test_signing_in_and_out_from_the_menu_without_scripts(open_page, user):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    page.goto(reverse("people:sign_in"))
    page.get_by_label("Email").fill(user.email.upper())
    page.locator("#id_password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page).to_have_url("/")
    page.get_by_text("Menu", exact=True).click()
    page.get_by_role("button", name="Sign out").click()
    # The menu of the page that comes, not of the one that goes, which had no such link.
    menu = page.get_by_role("navigation", name="Site")
    sign_in = menu.get_by_role("link", name="Sign in", exact=True, include_hidden=True)
    expect(sign_in).not_to_have_count(0)
    page.get_by_text("Menu", exact=True).click()
    expect(menu.get_by_role("link", name="Sign in", exact=True)).to_be_visible()


def test_the_keyboard_skips_to_the_page(desk):
    desk.goto(reverse("people:sign_in"))
    desk.keyboard.press("Tab")
    expect(desk.locator(".skip-link")).to_be_focused()
    desk.keyboard.press("Enter")
    expect(desk.locator("#content")).to_be_focused()


@pytest.mark.parametrize("name", ["index", "people_user_changelist", "people_group_changelist"])
def test_the_admin_works_under_the_content_policy(desk, sign_in, staff, name):
    staff.is_superuser = True
    staff.save()
    sign_in(desk, staff)
    desk.goto(reverse(f"admin:{name}"))
    expect(desk.locator("#content h1")).to_be_visible()


@pytest.mark.parametrize("width", [360, 1280])
def test_shared_error_pages_shut_nobody_out(open_page, axe, width):
    page = open_page(viewport={"width": width, "height": 740})
    page.goto("/no/such/page/")
    axe(page)
    assert fits(page)
