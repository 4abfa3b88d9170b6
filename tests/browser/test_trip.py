"""Asking where and when, on a phone at the rail."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.nets.conftest import make_net

pytestmark = pytest.mark.django_db(transaction=True)

ASK = "See what the rules say"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_slip_is_mended_and_the_answer_shown_on_a_phone(open_page, sign_in, axe, officer, scheme):
    page = open_page(
        viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True, color_scheme=scheme
    )
    sign_in(page, officer)
    page.goto("/")
    page.get_by_text("Menu", exact=True).tap()
    page.get_by_role("link", name="Can I fish here?").tap()
    expect(page.get_by_role("heading", level=1)).to_contain_text("May this vessel fish here")
    axe(page)

    page.get_by_label("Fishery", exact=True).select_option("whiting")
    page.get_by_label("Day").fill("2026-11-25")
    page.get_by_label("Position").fill("42 61 N 70 08.8 W")
    page.get_by_role("button", name=ASK).tap()
    expect(page.get_by_text("61 minutes in", exact=False)).to_be_visible()
    expect(page.get_by_label("Position")).to_have_value("42 61 N 70 08.8 W")
    axe(page)

    page.get_by_label("Position").fill("42 05 N 70 25 W")
    page.get_by_role("button", name=ASK).tap()
    # The west of the area is shut from November 21 on.
    expect(page.get_by_text("1 rule is broken.")).to_be_visible()
    expect(page.locator("svg.drawing")).to_be_visible()
    expect(page.get_by_text("50 CFR 648.80(a)(15)").first).to_be_visible()
    expect(page.get_by_label("Position")).to_have_value("42 05 N 70 25 W")
    assert fits(page)
    axe(page)

    with page.expect_download() as waiting:
        page.get_by_role("button", name=re.compile("^Chart as a picture")).tap()
    assert waiting.value.suggested_filename == "whiting-chart.png"
    assert waiting.value.path().read_bytes().startswith(b"\x89PNG")


def test_all_fisheries_at_once_with_a_net_of_ones_own(open_page, sign_in, axe, user):
    net = make_net(user)
    page = open_page(viewport={"width": 1280, "height": 800})
    sign_in(page, user)
    page.goto("/trip/")
    page.get_by_label("Day").fill("2026-10-01")
    page.get_by_label("Position").fill("42.0, -69.75")
    page.locator("summary", has_text="Vessel and gear").click()
    page.get_by_label("Net", exact=True).select_option(str(net.pk))
    page.get_by_role("button", name=ASK).click()
    expect(page.locator("svg.drawing")).to_have_count(4)
    expect(page.get_by_role("heading", level=2).first).to_have_text(
        "Raised footrope whiting fishery"
    )
    assert fits(page)
    axe(page)
    page.locator(".trip-summary").get_by_role("link", name="Grate").click()
    expect(page.locator("#answer-grate")).to_be_in_viewport()


def test_the_phones_own_position_is_filled_in(open_page, sign_in, user):
    page = open_page(
        viewport={"width": 360, "height": 740},
        has_touch=True,
        is_mobile=True,
        permissions=["geolocation"],
        geolocation={"latitude": 42.0, "longitude": -69.75, "accuracy": 12},
    )
    sign_in(page, user)
    page.goto("/trip/")
    page.get_by_role("button", name="Use my position").tap()
    expect(page.get_by_label("Position")).to_have_value("42 00.000 N 69 45.000 W")
    expect(page.get_by_text("accurate to about 40 ft")).to_be_visible()
    page.get_by_role("button", name=ASK).tap()
    expect(page.get_by_role("heading", name="Raised footrope whiting fishery")).to_be_visible()


def test_a_phone_that_may_not_tell_says_so(open_page, sign_in, user):
    page = open_page(viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True)
    sign_in(page, user)
    page.goto("/trip/")
    page.get_by_role("button", name="Use my position").tap()
    expect(page.get_by_text("Location is turned off for this page")).to_be_visible()


def test_without_scripts_it_is_typed(open_page, sign_in, user):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    sign_in(page, user)
    page.goto("/trip/")
    expect(page.get_by_role("button", name="Use my position")).to_be_hidden()
    page.get_by_label("Day").fill("2026-10-01")
    page.get_by_label("Position").fill("42 00 N 69 45 W")
    page.get_by_role("button", name=ASK).click()
    expect(page.locator("svg.drawing")).to_have_count(4)


def test_where_the_site_does_not_answer_the_page_tells_what_it_has(open_page, sign_in, axe, user):
    page = open_page(viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True)
    sign_in(page, user)
    page.goto("/trip/")
    today = page.get_by_label("Day").input_value()
    page.context.set_offline(True)
    page.get_by_label("Fishery", exact=True).select_option("whiting")
    page.get_by_label("Position").fill("42 05 N 70 25 W")
    page.get_by_role("button", name=ASK).tap()
    told = page.locator("[data-trip-told]")
    expect(told).to_contain_text("Letter, mesh, gear and catch are not checked here")
    expect(told).to_contain_text(
        re.compile(r"The position lies (in|out)side the eastern part \((not )?open that day\)")
    )
    expect(page.get_by_label("Position")).to_have_value("42 05 N 70 25 W")
    assert fits(page)
    axe(page)
    page.get_by_label("Day").fill("2001-01-01")
    page.get_by_role("button", name=ASK).tap()
    expect(told).to_contain_text("For another day it needs signal.")

    page.context.set_offline(False)
    page.get_by_label("Day").fill(today)
    page.get_by_role("button", name=ASK).tap()
    expect(page.get_by_text("What the rules say for")).to_be_visible()
