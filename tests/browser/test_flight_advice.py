"""What would put one's own net right, on a phone."""

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.nets.conftest import make_net, make_tow
from tests.nets.test_flight_advice import LOW

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("few_cases")]

LONG = 90_000  # milliseconds: each change is flown, and twenty nets, on a loaded machine


@pytest.fixture
def low_net(user):
    net = make_net(user, dropper_length="42", dropper_spacing="8 ft")
    make_tow(net, **LOW)
    return net


def test_changes_come_by_themselves_and_then_how_sure_each_is(
    phone, sign_in, axe_in_both, user, low_net
):
    sign_in(phone, user)
    phone.goto(f"/nets/{low_net.pk}/flight/advice/")
    expect(phone.get_by_role("link", name="Work it out")).to_be_hidden()
    expect(phone.get_by_role("heading", name="It flies too low")).to_be_visible(timeout=LONG)
    offers = phone.locator("[data-advice-sure]")
    expect(offers.first).to_contain_text("nets that may be yours", timeout=LONG)
    expect(offers.last).to_contain_text("nets that may be yours", timeout=LONG)
    expect(phone.locator("[data-advice-working]")).to_be_hidden()
    for part in phone.locator("main details").all():
        part.locator("summary").first.click()
    assert fits(phone)
    axe_in_both(phone)


def test_a_site_that_does_not_answer_is_said(phone, sign_in, user, low_net):
    sign_in(phone, user)
    phone.route("**/flight/advice/figure/", lambda route: route.abort())
    phone.goto(f"/nets/{low_net.pk}/flight/advice/")
    expect(phone.get_by_text("The site did not answer.")).to_be_visible(timeout=LONG)
