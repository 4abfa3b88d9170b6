"""What is noted without signal: changed and thrown away on the phone, and chosen between two."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.nets.conftest import SWEEP_NET, make_net
from training.inbox.models import Arrival
from training.nets.models import Net

pytestmark = pytest.mark.django_db(transaction=True)

WAITS = "Saved on this phone. It is sent when there is signal."


def change(page, headrope, button="Save and see the plan"):
    page.locator("[name=headrope]").fill(headrope)
    page.get_by_role("button", name=button).click()


def test_two_devices_change_one_net_and_its_owner_chooses(phone, open_page, sign_in, axe, user):
    net = make_net(user)
    desk = open_page(viewport={"width": 1280, "height": 800})
    for page in (phone, desk):
        sign_in(page, user)
        page.goto(f"/nets/{net.pk}/edit/")
    phone.context.set_offline(True)
    change(phone, "52 ft")
    expect(phone.get_by_text(WAITS)).to_be_visible()
    change(desk, "51 ft")
    desk.wait_for_url(f"**/nets/{net.pk}/")
    # Changed once more, it is still one that waits.
    change(phone, "53 ft")
    phone.context.set_offline(False)
    phone.wait_for_url("**/arrived/*/")
    expect(phone.get_by_role("heading", name="Net: Gray net", level=1)).to_be_visible()
    assert fits(phone)
    axe(phone)
    differing = phone.get_by_role("row").filter(has_text="differs")
    expect(differing).to_have_count(1)
    expect(differing).to_contain_text("51 ft")
    expect(differing).to_contain_text("53 ft")
    assert Net.objects.get().typed["headrope"] == "51 ft"
    phone.get_by_role("button", name="Use what is from the phone").click()
    phone.wait_for_url(f"**/nets/{net.pk}/")
    assert Net.objects.get().typed["headrope"] == "53 ft"
    phone.goto("/arrived/")
    expect(phone.get_by_text("you are done with this")).to_be_visible()
    assert fits(phone)
    axe(phone)


def test_what_waits_can_be_changed_or_thrown_away_and_is_its_writers_alone(
    phone, sign_in, axe, user, officer
):
    sign_in(phone, user)
    phone.goto("/nets/")
    phone.goto("/nets/new/")
    phone.route("**/arrived/token/", lambda route: route.abort())
    for name in ("bosom", "port_wing", "headrope"):
        phone.locator(f"[name={name}]").fill(SWEEP_NET[name])
    phone.locator("[name=has_sweep]").select_option("yes")
    phone.context.set_offline(True)
    for name in ("Gray net", "Green net"):
        phone.locator("[name=name]").fill(name)
        phone.get_by_role("button", name="Save and see the plan").click()
        expect(phone.get_by_text(WAITS)).to_be_visible()
        for field in ("bosom", "port_wing", "headrope"):
            phone.locator(f"[name={field}]").fill(SWEEP_NET[field])
        phone.locator("[name=has_sweep]").select_option("yes")
    phone.context.set_offline(False)
    phone.goto("/nets/")
    waiting = phone.locator("[data-waiting]")
    expect(waiting.get_by_role("listitem")).to_have_count(2)
    assert fits(phone)
    axe(phone)
    green = waiting.get_by_role("listitem").filter(has_text="Green net")
    green.get_by_role("button", name="Throw away").click()
    green.get_by_role("button", name="Throw it away").click()
    expect(waiting.get_by_role("listitem")).to_have_count(1)
    # Somebody else on the phone neither sees nor sends it.
    phone.context.clear_cookies()
    sign_in(phone, officer)
    phone.unroute("**/arrived/token/")
    phone.goto("/nets/")
    expect(phone.get_by_role("heading", name="My nets")).to_be_visible()
    expect(waiting).to_be_hidden()
    assert not Net.objects.exists()
    phone.context.clear_cookies()
    phone.route("**/arrived/token/", lambda route: route.abort())
    sign_in(phone, user)
    phone.goto("/nets/")
    waiting.get_by_role("link", name="Change").click()
    expect(
        phone.get_by_text("and not sent yet. Save it again after you change it.")
    ).to_be_visible()
    phone.unroute("**/arrived/token/")
    change(phone, "51 ft")
    phone.wait_for_url(re.compile(r"/nets/\d+/$"))
    net = Net.objects.get()
    assert (net.name, net.owner, net.typed["headrope"]) == ("Gray net", user, "51 ft")
    assert Arrival.objects.get().outcome == "taken"
