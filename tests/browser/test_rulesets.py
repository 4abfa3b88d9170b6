"""A limit is changed, its error mended, its effect counted, and a second person approves it."""

import re

import pytest
from playwright.sync_api import expect

from rigs.words.units import FOOT
from tests.browser.looks import fits
from tests.moments import BEFORE
from tests.rulesets.conftest import make_draft
from training.people.models import Role, User
from training.rulesets.models import Version

pytestmark = pytest.mark.django_db(transaction=True)


def test_from_a_draft_to_an_approved_version(desk, phone, sign_in, axe, staff):
    second = User.objects.create_user(
        "perrin@example.com", name="Perrin Holt", role=Role.STAFF, whole_fleet=True, joined=BEFORE
    )
    sign_in(desk, staff)
    desk.goto("/")
    desk.locator(".nav-own summary").click()
    desk.locator(".nav-own").get_by_role("link", name="Rule sets").click()
    axe(desk)
    desk.get_by_role(
        "button", name="Draft a new version of Raised footrope without a sweep"
    ).click()
    desk.wait_for_url("**/edit/")
    axe(desk)

    card = desk.locator("details", has=desk.locator("#id_dropper_spacing-limit"))
    card.locator("summary").click()
    limit = desk.locator("#id_dropper_spacing-limit")
    limit.fill("7 pounds")
    desk.get_by_label("Why the rules are changed").fill("Tried out in a class.")
    desk.get_by_role("button", name="Save the draft").click()
    expect(desk.get_by_role("alert")).to_contain_text("Not saved yet")
    expect(card.locator(".invalid-feedback")).to_contain_text("Wrong unit")
    expect(limit).to_be_visible()
    expect(limit).to_have_value("7 pounds")
    axe(desk)

    limit.fill("7 ft")
    desk.locator("#id_dropper_spacing-metric").fill("2.1 m")
    desk.get_by_role("button", name="Save the draft").click()
    expect(desk.get_by_text("The draft is saved.")).to_be_visible()
    row = desk.get_by_role("row", name=re.compile("Allowed"))
    expect(row).to_contain_text("one every 8 ft")
    expect(row).to_contain_text("one every 7 ft")

    counted = desk.get_by_text("Counted on")
    desk.get_by_role("button", name="Count what it would change").click()
    again = desk.get_by_role("button", name="Continue counting")
    expect(counted.or_(again)).to_be_visible()
    while again.is_visible():
        with desk.expect_navigation():
            again.click()
        expect(counted.or_(again)).to_be_visible()
    axe(desk)
    desk.get_by_role("button", name="Submit for approval").click()
    expect(desk.get_by_text("The draft is submitted.")).to_be_visible()
    expect(desk.get_by_text("a second person has to approve it").last).to_be_visible()
    expect(desk.get_by_role("button", name=re.compile("^Approve"))).to_have_count(0)

    sign_in(phone, second)
    phone.goto(Version.objects.get().get_absolute_url())
    axe(phone)
    assert fits(phone)
    phone.get_by_role("button", name=re.compile("^Approve for")).tap()
    expect(phone.get_by_text("The version is approved")).to_be_visible()
    expect(phone.get_by_text("Approved by Perrin Holt")).to_be_visible()
    axe(phone)
    phone.goto("/rule-sets/")
    expect(phone.get_by_text("approved by Perrin Holt")).to_be_visible()
    assert fits(phone)
    approved = Version.objects.get()
    assert (approved.drafted_by, approved.approved_by) == (staff, second)


def test_the_editor_on_a_phone(phone, sign_in, axe, staff):
    sign_in(phone, staff)
    phone.goto("/rule-sets/")
    phone.get_by_role("button", name="Draft a new version of Raised footrope whiting fishery").tap()
    phone.wait_for_url("**/edit/")
    phone.locator("details.rule-card summary").last.tap()
    expect(phone.locator("details.rule-card").last).to_have_attribute("open", "")
    assert fits(phone)
    phone.get_by_label("What is measured").select_option(label="Sweep chain size")
    phone.get_by_role("button", name="Add this rule").tap()
    added = phone.locator("details", has=phone.locator("#id_sweep_stock-limit"))
    expect(added).to_have_attribute("open", "")
    assert fits(phone)
    axe(phone)


def test_the_cases_a_draft_turns(phone, desk, sign_in, axe, staff):
    draft = make_draft(staff, limits={"dropper_spacing": 7 * FOOT})
    for page in (desk, phone):
        sign_in(page, staff)
        page.goto(draft.get_absolute_url())
        heading = page.get_by_role("heading", name="Every size right at its limit")
        expect(heading).to_be_visible()
        row = page.get_by_role("row", name=re.compile("every 7 ft: 1 ft too wide")).first
        expect(row).to_contain_text("met")
        expect(row).to_contain_text("broken")
        more = page.locator("#cases ~ details").first
        more.locator("summary").click()
        expect(more.locator("li").first).to_be_visible()
        assert fits(page)
        axe(page)
