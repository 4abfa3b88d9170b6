"""A session planned on a phone with its poster, shown to a room, and those who come to it."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import expect

from tests.browser.looks import fits
from training.people.models import Session

pytestmark = pytest.mark.django_db(transaction=True)


def meet(group, hours):
    starts = timezone.now() + timedelta(hours=hours)
    return Session.objects.create(
        group=group, title="Shed day", starts=starts, ends=starts + timedelta(hours=2)
    )


def test_from_today_to_a_session_with_its_poster(phone, axe, sign_in, staff, group):
    """Three taps and no field where the group met before; four fields for the first of all."""
    meet(group, -24 * 7)
    sign_in(phone, staff)
    phone.goto(reverse("home"))
    taps = 0
    for link in ("Plan a session", f"With {group.name}"):
        phone.get_by_role("link", name=link).tap()
        taps += 1
    expect(phone.get_by_role("heading", name=f"Plan a session with {group.name}")).to_be_visible()
    axe(phone)
    assert fits(phone)
    phone.get_by_role("button", name="Save the session").tap()
    taps += 1
    poster = phone.get_by_role("img", name="Poster: Shed day")
    expect(poster).to_be_visible()
    assert poster.evaluate("each => each.decode().then(() => each.naturalWidth)") == 850
    assert taps == 3
    assert Session.objects.count() == 2
    assert fits(phone)
    axe(phone)


def test_a_room_sees_the_code_and_the_staff_see_who_came(
    phone, desk, axe, sign_in, staff, user, officer, group
):
    session = meet(group, -0.1)
    sign_in(desk, staff)
    desk.goto(reverse("desk:session", args=[session.pk]))
    expect(desk.get_by_text("Nobody is on the list yet")).to_be_visible()
    axe(desk)

    # On their own phone: the picture holds this address.
    sign_in(phone, user)
    phone.goto(reverse("people:here", query={"code": session.code}))
    axe(phone)
    phone.get_by_role("button", name="I am here").tap()
    expect(phone.get_by_text("You are at “Shed day”.")).to_be_visible()
    expect(desk.locator(".rows li").first).to_contain_text(user.name)

    # And by their name, with the keyboard, without leaving the place.
    name = desk.get_by_role("button", name=user.name)
    desk.reload()
    expect(name).to_have_attribute("aria-pressed", "true")
    name.press("Enter")
    expect(name).to_have_attribute("aria-pressed", "false")
    expect(name).to_be_focused()
    name.press("Enter")
    expect(name).to_have_attribute("aria-pressed", "true")
    desk.context.set_offline(True)
    name.press("Enter")
    expect(desk.get_by_text("Not saved: no connection.")).to_be_visible()
    desk.context.set_offline(False)
    assert session.attendances.get().user == user

    desk.get_by_role("link", name="Show the code on a big screen").click()
    expect(desk.get_by_text(session.code)).to_be_visible()
    assert desk.locator("nav").count() == 0
    assert desk.locator(".link-picture").bounding_box()["height"] > 500
    for page in (desk, phone):
        page.emulate_media(color_scheme="dark")
        axe(page)
    assert fits(desk)
