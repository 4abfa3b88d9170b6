"""A phone in other hands, or without its sign-in: nobody sees another's, and nothing is lost."""

import re

import pytest
from django.contrib.sessions.models import Session as StoredSession
from playwright.sync_api import expect

from tests.browser.sea.deeds import NOT_REACHED, note_tow, sign_in_by_form
from tests.nets.conftest import make_net
from tests.site import PASSWORD
from training.inbox.models import Arrival
from training.nets.models import Tow
from training.people.models import User
from training.privacy.erasure import erase

pytestmark = pytest.mark.django_db(transaction=True)

NEW = "a plover in the lee"


@pytest.fixture
def net(user):
    return make_net(user)


@pytest.fixture
def other(db):
    return User.objects.create_user("other@example.com", PASSWORD, name="Tove Other")


def opens_nothing(page, net):
    """Look whether a page of somebody else's stays shut without signal."""
    page.goto(f"/nets/{net.pk}/")
    expect(page.get_by_role("heading", name=NOT_REACHED)).to_be_visible()
    expect(page.get_by_text(net.name)).to_have_count(0)


def sign_out(page):
    page.get_by_text("Menu", exact=True).tap()
    page.get_by_role("button", name="Sign out").locator("visible=true").tap()


def test_a_sign_in_that_ended_meanwhile_loses_nothing(boat, user, net):
    phone = boat(user)
    phone.lose_signal()
    note_tow(phone, net)
    StoredSession.objects.all().delete()
    phone.find_signal()
    phone.page.goto("/")
    assert phone.waiting(user) == 1
    assert not Tow.objects.exists()
    sign_in_by_form(phone.page, user, PASSWORD)
    phone.wait_until_sent(user)
    assert Tow.objects.get().net.owner == user


def test_a_password_changed_elsewhere_loses_nothing(boat, user, net):
    phone = boat(user)
    phone.lose_signal()
    note_tow(phone, net)
    user.set_password(NEW)
    user.save()
    phone.find_signal()
    phone.page.goto(f"/nets/{net.pk}/")
    expect(phone.page).to_have_url(re.compile("/sign-in/"))
    assert phone.waiting(user) == 1
    sign_in_by_form(phone.page, user, NEW)
    phone.wait_until_sent(user)
    assert Tow.objects.count() == 1


def test_signed_out_at_sea_the_phone_shows_nothing_more_of_it(boat, user, net):
    phone = boat(user)
    phone.lose_signal()
    note_tow(phone, net)
    sign_out(phone.page)
    phone.page.get_by_role("button", name="Sign out, keep it here").tap()
    expect(phone.page.get_by_text("Signed out on this phone")).to_be_visible()
    opens_nothing(phone.page, net)
    # The site hears of it before all else.
    phone.find_signal_again()
    expect(phone.page.locator("[name=password]")).to_be_visible()
    assert not StoredSession.objects.exists()
    assert not Tow.objects.exists()
    sign_in_by_form(phone.page, user, PASSWORD)
    phone.wait_until_sent(user)
    assert Tow.objects.count() == 1


def test_somebody_else_on_the_phone_sees_and_sends_nothing(boat, sign_in, user, other, net):
    phone = boat(user)
    phone.lose_signal()
    note_tow(phone, net)
    phone.page.context.clear_cookies()
    sign_in(phone.page, other)
    phone.find_signal()
    phone.page.goto("/sea/")
    expect(phone.page.locator("html")).to_have_attribute("data-person", str(other.pk))
    expect(phone.page.get_by_text(net.name)).to_have_count(0)
    phone.lose_signal()
    assert phone.waiting(user) == 1
    opens_nothing(phone.page, net)
    phone.page.context.clear_cookies()
    sign_in(phone.page, user)
    phone.find_signal_again()
    expect(phone.page.get_by_role("heading", level=1)).to_have_text(net.name)
    phone.wait_until_sent(user)
    assert Tow.objects.count() == 1
    assert Arrival.objects.get().person == user


def test_an_account_that_was_deleted_meanwhile(boat, user, net):
    phone = boat(user)
    phone.lose_signal()
    note_tow(phone, net)
    erase(user)
    phone.find_signal()
    phone.page.goto("/")
    expect(phone.page.get_by_role("link", name="Sign in").first).to_be_attached()
    # Its pages go at once; what it wrote waits, out of sight.
    phone.page.evaluate(
        """async (name) => {
          while (await caches.has(name)) await new Promise((go) => setTimeout(go, 50));
        }""",
        f"pages {user.pk}",
    )
    assert phone.waiting(user) == 1
    assert not Arrival.objects.exists()
    phone.page.reload()
    notice = phone.page.locator("[data-gone]")
    expect(notice).to_contain_text("1 form filled in without signal")
    notice.get_by_role("button", name="Remove it from this phone").tap()
    expect(notice).to_have_count(0)
    assert phone.waiting(user) == 0
    phone.lose_signal()
    opens_nothing(phone.page, net)
