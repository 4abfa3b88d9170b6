"""What is noted without signal arrives once, in order, and never over what another device did."""

import time
from datetime import date, timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from tests.browser.sea.conftest import set_clock_ahead
from tests.browser.sea.deeds import NOTED, change_net, enter_tow, note_tow, save_tow
from tests.nets.conftest import make_net
from tests.waiting import wait_for
from training.inbox.models import Arrival
from training.nets.models import Net, Tow

LEAVE = "(next) => void setTimeout(() => window.location.assign(next))"
IS_READ = "() => !sessionStorage.unread"

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def net(user):
    return make_net(user)


def speeds():
    return [tow.typed["speed"] for tow in Tow.objects.order_by("created")]


def test_two_tabs_of_one_phone_send_each_tow_once(boat, user, net):
    phone = boat(user)
    phone.lose_signal()
    note_tow(phone, net, speed="2.6 kn")
    other = phone.page.context.new_page()
    enter_tow(other, net, speed="2.8 kn")
    save_tow(other)
    expect(other.get_by_text(NOTED)).to_be_visible()
    # Both tabs hear of the signal at the same moment.
    phone.find_signal()
    phone.wait_until_sent(user)
    assert speeds() == ["2.6 kn", "2.8 kn"]
    assert Arrival.objects.count() == 2


def test_two_phones_that_change_one_net_let_the_person_choose(boat, user, net):
    one, other = boat(user), boat(user)
    one.lose_signal()
    other.lose_signal()
    change_net(one.page, net, headrope="61 ft")
    expect(one.page.get_by_text(NOTED)).to_be_visible()
    change_net(other.page, net, headrope="64 ft")
    expect(other.page.get_by_text(NOTED)).to_be_visible()
    one.find_signal()
    one.wait_until_sent(user)
    other.find_signal()
    other.wait_until_sent(user)
    # The first stays, and nothing of the second is lost.
    net.refresh_from_db()
    assert net.typed["headrope"] == "61 ft"
    beside = Arrival.objects.get(outcome="beside")
    # The page that waited for it goes on by itself to where one chooses.
    other.page.wait_for_url(f"**/arrived/{beside.pk}/")
    expect(other.page.locator("main")).to_contain_text("61 ft")
    expect(other.page.locator("main")).to_contain_text("64 ft")
    other.page.get_by_role("button", name="Use what is from the phone").tap()
    other.page.wait_for_url(f"**/nets/{net.pk}/**")
    net.refresh_from_db()
    assert net.typed["headrope"] == "64 ft"
    assert Net.objects.count() == 1


def test_what_arrives_while_another_page_is_on_its_way_is_told_there(
    make_phone, sign_in, user, net
):
    phone = make_phone()
    sign_in(phone.page, user)
    enter_tow(phone.page, net)
    phone.lose_signal()
    save_tow(phone.page)
    expect(phone.page.get_by_text(NOTED)).to_be_visible()
    # The site makes the next page before the tow arrives, and the phone shows it after that.
    phone.line.lose_reply("GET", "/arrived/token/")
    phone.line.hold_reply("GET", f"/nets/{net.pk}/shine/")
    phone.find_signal()
    phone.page.evaluate(LEAVE, f"/nets/{net.pk}/shine/")
    wait_for(Arrival.objects.exists)
    time.sleep(1)  # so that the page that goes has heard of it; it may as well not have
    phone.line.let_go()
    phone.page.wait_for_url(f"**/nets/{net.pk}/shine/")
    no_tow = phone.page.get_by_role("heading", name="Add the first tow")
    expect(no_tow).to_be_visible()
    expect(phone.page.get_by_text("Sent, and saved on the site")).to_be_visible()
    # It is told until it could be read, and no longer.
    phone.page.wait_for_function(IS_READ)
    phone.page.reload()
    expect(no_tow).to_have_count(0)
    expect(phone.page.get_by_text("Sent, and saved on the site")).to_have_count(0)


def test_a_tow_whose_reply_was_lost_twice_arrives_once(boat, user, net):
    phone = boat(user)
    phone.lose_signal()
    note_tow(phone, net)
    phone.line.lose_reply("POST", f"/nets/{net.pk}/shine/new/", times=2)
    phone.find_signal()
    phone.wait_until_sent(user)
    assert phone.line.count("POST", f"/nets/{net.pk}/shine/new/") == 3
    assert Tow.objects.count() == Arrival.objects.count() == 1


def test_a_site_that_answers_with_errors_for_a_day(boat, user, net):
    phone = boat(user)
    phone.line.fail(503)
    # The phone has signal by its own lights; what it shows and what it notes is its own.
    note_tow(phone, net, speed="2.6 kn")
    note_tow(phone, net, speed="2.8 kn")
    phone.page.goto(f"/nets/{net.pk}/")
    expect(phone.page.get_by_text("From this phone")).to_be_visible()
    assert phone.waiting(user) == 2
    assert not Tow.objects.exists()
    phone.line.restore()
    phone.page.goto("/sea/")
    phone.wait_until_sent(user)
    assert speeds() == ["2.6 kn", "2.8 kn"]


def test_a_site_that_hangs_is_not_waited_for(boat, user, net):
    phone = boat(user)
    phone.line.hang()
    phone.page.goto(f"/nets/{net.pk}/")
    expect(phone.page.get_by_role("heading", level=1)).to_have_text(net.name)
    expect(phone.page.get_by_text("From this phone")).to_be_visible()


def test_a_clock_that_is_wrong_is_told_and_nothing_is_moved(boat, user, net):
    phone = boat(user)
    set_clock_ahead(phone.page.context, timedelta(days=1))
    phone.lose_signal()
    note_tow(phone, net, day="2026-05-05")
    phone.find_signal()
    phone.wait_until_sent(user)
    arrival = Arrival.objects.get()
    assert arrival.arrived <= timezone.now() < arrival.noted
    assert Tow.objects.get().day == date(2026, 5, 5)
    phone.page.goto("/arrived/")
    expect(phone.page.locator("main")).to_contain_text(
        "This phone's clock was 1 day ahead when it sent this. Check the day."
    )
