"""A net's card for sea: asked for with signal, read without."""

import pytest
from playwright.sync_api import expect

from rigs.tuning import card
from tests.browser.looks import fits
from tests.nets.conftest import make_net
from training.work import queue
from training.work.models import Job

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("few_cases")]


def test_a_card_is_worked_out_while_one_waits_and_read_at_sea(
    boat, make_phone, sign_in, user, axe, monkeypatch
):
    monkeypatch.setattr(card, "CHANGES", card.CHANGES[:1])
    net = make_net(user)
    phone = make_phone()
    page = phone.page
    sign_in(page, user)
    page.goto(f"/nets/{net.pk}/")
    page.get_by_role("link", name="A card of changes to take to sea").tap()
    expect(page.get_by_text("None yet.")).to_be_visible()
    axe(page)
    page.get_by_role("button", name="Work it out").tap()
    expect(page.get_by_text("0 of 1 changes are done")).to_be_visible()
    axe(page)
    queue.run(Job.objects.get(kind="flight-card").pk)
    # The page looks again by itself.
    expect(page.get_by_text("for the net as planned")).to_be_visible()
    axe(page)
    assert fits(page)

    at_sea = boat(user)
    at_sea.lose_signal()
    at_sea.page.goto(f"/nets/{net.pk}/")
    at_sea.page.get_by_role("link", name="A card of changes to take to sea").tap()
    expect(at_sea.page.get_by_role("heading", name="Add 2 floats")).to_be_visible()
    expect(at_sea.page.get_by_role("row", name="Center")).to_contain_text("up")
    at_sea.page.get_by_role("button", name="Work it out again").tap()
    expect(at_sea.page.get_by_role("alert")).to_contain_text("This needs signal.")
