"""The fleet's charts and paired tows in a browser: on a phone and on a desk, light and dark."""

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.evidence.tows_factory import make_fleet
from tests.register.test_uptake_pages import made_up_fleet
from training.evidence.models import PairedTows
from training.people.sharing import Level

pytestmark = pytest.mark.django_db(transaction=True)

PAGES = (
    "/register/uptake/",
    "/register/conversion/",
    "/evidence/",
    "/desk/report/",
    "/evidence/tows/",
)


@pytest.fixture
def fleet(db):
    made_up_fleet(5, 30)
    make_fleet(Level.STAFF, first=100)


def look_at_all(page, axe):
    for name in PAGES:
        page.goto(name)
        axe(page)
        assert fits(page), name


def test_charts_on_a_phone(phone, sign_in, axe, staff, fleet):
    sign_in(phone, staff)
    look_at_all(phone, axe)
    phone.goto("/register/uptake/")
    phone.get_by_label("Harbor", exact=True).select_option("Eastlight")
    phone.get_by_role("button", name="Show", exact=True).click()
    expect(phone.get_by_text("vessels of Eastlight")).to_be_visible()
    table = phone.get_by_role("region", name="Vessels at each stage", exact=True).locator("table")
    expect(table).to_be_hidden()
    phone.get_by_text("The same as a table: Vessels at each stage").click()
    expect(table).to_be_visible()


def test_charts_on_a_dark_desk(open_page, sign_in, axe, staff, fleet):
    page = open_page(viewport={"width": 1280, "height": 800}, color_scheme="dark")
    sign_in(page, staff)
    look_at_all(page, axe)
    page.goto("/desk/report/")
    with page.expect_download() as waiting:
        page.get_by_role("link", name="Download as PDF").click()
    assert waiting.value.path().read_bytes().startswith(b"%PDF-")


def test_a_pair_is_written_down_on_a_phone(phone, sign_in, axe, user):
    sign_in(phone, user)
    phone.goto("/evidence/tows/")
    phone.get_by_role("link", name="Add a pair of tows").click()
    phone.locator("[name=hake_with]").fill("nine stone")
    phone.locator("[name=hake_without]").fill("850 lb")
    axe(phone)
    assert fits(phone)
    phone.get_by_role("button", name="Save the pair").click()
    expect(phone.locator(".invalid-feedback")).to_be_visible()
    expect(phone.locator("[name=hake_with]")).to_have_value("nine stone")
    phone.locator("[name=hake_with]").fill("900")
    phone.get_by_role("button", name="Save the pair").dblclick()
    expect(phone.get_by_text("94%", exact=True)).to_be_visible()
    assert PairedTows.objects.count() == 1
    phone.get_by_role("button", name="Delete").click()
    phone.get_by_role("button", name="Restore").click()
    expect(phone.get_by_text("94%", exact=True)).to_be_visible()
    axe(phone)
