"""Codes from a phone, as somebody with a small screen, a keyboard or no scripts meets them."""

import base64

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.people.codes import code_before, code_of, give_phone
from tests.site import PASSWORD
from training.people import factors
from training.people.models import User

pytestmark = pytest.mark.django_db(transaction=True)


def test_set_up_and_signed_in_again_by_keyboard_and_without_scripts(open_page, sign_in, staff):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    sign_in(page, staff)
    page.goto("/account/phone/set-up/")
    key = base64.b32decode(page.locator("main code").inner_text().replace(" ", "")).hex()
    page.locator("[name=code]").focus()
    # Not the code of now: the next sign-in needs one not used yet.
    page.keyboard.type(code_before(key))
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Your spare codes")).to_be_visible()
    assert page.locator("main li code").count() == 10
    page.context.clear_cookies()
    page.goto("/account/sign-in/?next=/letters/")
    page.locator("[name=username]").fill(staff.email)
    page.locator("[name=password]").fill(PASSWORD)
    page.keyboard.press("Enter")
    page.locator("[name=proof]").fill(code_of(key))
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Letters", exact=True)).to_be_visible()
    assert factors.has(staff)


def test_its_pages_can_be_read_and_used_by_all(phone, sign_in, staff, axe):
    key, spare = give_phone(staff)
    phone.goto("/account/sign-in/")
    phone.locator("[name=username]").fill(staff.email)
    phone.locator("[name=password]").fill(PASSWORD)
    phone.locator("main").get_by_role("button", name="Sign in").tap()
    phone.locator("[name=proof]").fill("123")
    phone.locator("main").get_by_role("button", name="Sign in").tap()
    expect(phone.get_by_text("That code is wrong")).to_be_visible()
    assert fits(phone)
    axe(phone)
    sign_in(phone, User.objects.get(pk=staff.pk))
    phone.goto("/account/prove/")
    assert fits(phone)
    axe(phone)
    phone.goto("/account/phone/")
    phone.get_by_role("button", name="Make new spare codes").tap()
    expect(phone.get_by_role("heading", name="Your spare codes")).to_be_visible()
    assert fits(phone)
    axe(phone)
