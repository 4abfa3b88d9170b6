"""A change to one's own net, seen in flight before anything is cut."""

import pytest
from playwright.sync_api import expect

from rigs.physics.flight import cases
from rigs.tuning import in_flight
from tests.browser.looks import fits
from tests.nets.conftest import make_net

pytestmark = pytest.mark.django_db(transaction=True)

LONG = 60_000  # milliseconds: flying twenty nets takes seconds, and more on a loaded machine


@pytest.fixture(autouse=True)
def few_cases(monkeypatch):
    """Draw few nets; the site runs in this process."""
    monkeypatch.setattr(cases, "COUNT", 4)
    in_flight.cases.cache_clear()
    yield
    in_flight.cases.cache_clear()


def opened(page, sign_in, user):
    """Open the flight of a net of ``user`` on ``page``, once there is its picture."""
    sign_in(page, user)
    page.goto(f"/nets/{make_net(user).pk}/flight/")
    expect(page.get_by_role("heading", name="The net as it is")).to_be_visible(timeout=LONG)
    return page


def test_what_is_typed_is_flown_at_once_and_how_sure_it_is_comes_later(
    phone, sign_in, axe_in_both, user
):
    page = opened(phone, sign_in, user)
    assert fits(page)
    expect(page.get_by_role("button", name="Show what it does")).to_be_hidden()
    page.get_by_label("Floats more").fill("4")
    expect(page.get_by_role("heading", name="The footrope goes up everywhere")).to_be_visible(
        timeout=LONG
    )
    assert page.url.endswith("/flight/"), "the page was left"
    expect(page.get_by_role("heading", name="How sure is that?")).to_be_visible(timeout=LONG)
    expect(page.get_by_text("4 nets that may be yours").first).to_be_attached()
    for part in page.locator("main details").all():
        part.locator("summary").first.click()
    assert fits(page)
    axe_in_both(page)


def test_what_cannot_be_read_is_said_beside_the_field_that_is_in_hand(phone, sign_in, user):
    page = opened(phone, sign_in, user)
    page.get_by_text("Chain, ropes, legs and sweep").click()
    field = page.get_by_label("Headrope longer by")
    field.fill("some")
    expect(page.get_by_text("not understood").first).to_be_visible(timeout=LONG)
    expect(field).to_be_focused()
    field.fill("4 in")
    expect(page.locator("[data-flight-changes]")).to_be_visible(timeout=LONG)
    expect(page.get_by_text("not understood")).to_have_count(0)


def test_without_scripts_the_button_shows_both(open_page, sign_in, user):
    page = open_page(java_script_enabled=False)
    page = opened(page, sign_in, user)
    page.get_by_label("Droppers more").fill("2")
    page.get_by_role("button", name="Show what it does").click(timeout=LONG)
    expect(page.locator("[data-flight-changes]")).to_be_visible(timeout=LONG)
    expect(page.get_by_role("heading", name="How sure is that?")).to_be_visible()
    expect(page.get_by_label("Droppers more")).to_have_value("2")
