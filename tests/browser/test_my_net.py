"""One's own net on a phone: enter, plan, print, tow, tune."""

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.nets.conftest import SWEEP_NET, TOW, make_net, make_tow
from training.nets.models import Net, Tow

pytestmark = pytest.mark.django_db(transaction=True)

SELECTS = {
    "goal",
    "has_sweep",
    "sweep_chain",
    "droppers",
    "dropper_chain",
    "dropper_count",
    "dropper_bare",
    "legs_extended",
    "wire_bare",
    "speed_over",
}


def fill_net(page, entries):
    """Open every part of the form and fill it in."""
    for part in page.locator("main details").all():
        if part.get_attribute("open") is None:
            part.locator("summary").click()
    for name, text in entries.items():
        field = page.locator(f"[name={name}]")
        if name in SELECTS:
            field.select_option(text)
        else:
            field.fill(text)


def test_the_whole_path_on_a_phone(phone, sign_in, axe, user):
    sign_in(phone, user)
    phone.goto("/nets/")
    axe(phone)
    phone.get_by_role("link", name="Enter your net").click()

    # Three lengths start the drawing, without a button.
    for name in ("name", "bosom", "port_wing", "headrope"):
        phone.locator(f"[name={name}]").fill(SWEEP_NET[name])
    expect(phone.locator("[data-drawing] svg")).to_be_visible()
    expect(phone.get_by_role("button", name="Update the drawing")).to_be_hidden()

    # What cannot be read is said beside the field and kept.
    phone.locator("[name=headrope]").fill("50 furlongs")
    phone.get_by_role("button", name="Save and see the plan").click()
    expect(phone.get_by_text("not a unit known here")).to_be_visible()
    expect(phone.locator("[name=headrope]")).to_have_value("50 furlongs")
    axe(phone)

    fill_net(phone, SWEEP_NET)
    phone.get_by_role("button", name="Save and see the plan").click()
    expect(phone.get_by_role("heading", name="Gray net", level=1)).to_be_visible()
    expect(phone.get_by_text("it meets every rule checked here")).to_be_visible()
    expect(phone.get_by_text("Hang 7 droppers")).to_be_visible()
    assert fits(phone)
    axe(phone)

    with phone.expect_download() as waiting:
        phone.get_by_role("link", name="Rigging sheet to print").click()
    assert waiting.value.suggested_filename == "gray-net.pdf"
    assert waiting.value.path().read_bytes().startswith(b"%PDF-")

    phone.get_by_role("link", name="Shine log").click()
    phone.get_by_role("link", name="Add a tow").click()
    fill_net(phone, TOW)
    axe(phone)
    phone.get_by_role("button", name="Save the tow").click()
    expect(phone.locator("#tow-heights-title")).to_have_count(1)
    expect(phone.get_by_text("the port side flew")).to_be_visible()
    expect(phone.get_by_role("heading", name="What to do, first things first")).to_be_visible()
    assert fits(phone)
    axe(phone)

    net = Net.objects.get(owner=user)
    assert net.typed["headrope"] == SWEEP_NET["headrope"]
    assert Tow.objects.get(net=net).typed["speed"] == TOW["speed"]


def test_an_impatient_thumb_makes_one_net(phone, sign_in, user):
    sign_in(phone, user)
    phone.goto("/nets/new/")
    for name in ("name", "bosom", "port_wing", "headrope"):
        phone.locator(f"[name={name}]").fill(SWEEP_NET[name])
    phone.locator("[name=has_sweep]").select_option("yes")
    phone.get_by_role("button", name="Save and see the plan").dblclick()
    expect(phone.get_by_role("heading", name="Gray net", level=1)).to_be_visible()
    assert Net.objects.count() == 1


def test_without_scripts_the_button_draws(open_page, sign_in, user):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    sign_in(page, user)
    page.goto("/nets/new/")
    for name in ("name", "bosom", "port_wing", "headrope"):
        page.locator(f"[name={name}]").fill(SWEEP_NET[name])
    page.get_by_role("button", name="Update the drawing").click()
    expect(page.locator("[data-drawing] svg")).to_be_visible()
    assert not Net.objects.exists()


def test_deleting_and_putting_back(phone, sign_in, user):
    net = make_net(user)
    make_tow(net)
    sign_in(phone, user)
    phone.goto(net.get_absolute_url())
    phone.get_by_role("button", name="Delete").click()
    phone.get_by_role("button", name="Restore Gray net").click()
    expect(phone.get_by_role("heading", name="Gray net", level=1)).to_be_visible()


def test_every_page_is_open_to_all(desk, sign_in, axe_in_both, user):
    net = make_net(user, headrope="30 ft")
    tow = make_tow(net)
    sign_in(desk, user)
    for address in (
        "/nets/",
        f"/nets/{net.pk}/",
        f"/nets/{net.pk}/edit/",
        f"/nets/{net.pk}/rename/",
        f"/nets/{net.pk}/shine/",
        f"/nets/tows/{tow.pk}/",
    ):
        desk.goto(address)
        axe_in_both(desk)
