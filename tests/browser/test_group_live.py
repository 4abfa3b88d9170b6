"""A group signs up at the quay: one picture, one form, and the staff's screen fills."""

import pytest
from playwright.sync_api import expect

from tests.site import PASSWORD
from training.people.models import Membership

pytestmark = pytest.mark.django_db(transaction=True)


def test_staff_see_a_newcomer_without_touching_the_page(phone, desk, sign_in, staff, group, axe):
    sign_in(desk, staff)
    desk.goto(f"/desk/groups/{group.pk}/live/")
    expect(desk.get_by_text("Nobody yet.")).to_be_visible()
    axe(desk)

    # What the picture holds is the link on the group's page; the code is filled in.
    phone.goto(f"/account/sign-up/?code={group.code}")
    expect(phone.get_by_label("Group code")).to_have_value(group.code)
    phone.get_by_label("Your name").fill("Avocet Reyes")
    phone.get_by_label("Email").fill("avocet@example.com")
    phone.locator("#id_password").fill(PASSWORD)
    phone.get_by_role("button", name="Sign up").tap()
    expect(phone.locator(".next-step")).to_have_count(1)

    expect(desk.locator(".live-people li").first).to_contain_text("Avocet Reyes")
    expect(desk.locator(".live-count")).to_contain_text("1 joined today")
    axe(desk)
    assert Membership.objects.get().group == group


def test_a_lost_connection_is_told_and_got_over(desk, sign_in, staff, group):
    sign_in(desk, staff)
    desk.goto(f"/desk/groups/{group.pk}/live/")
    trouble = desk.get_by_text("No connection.")
    expect(trouble).to_be_hidden()
    desk.context.set_offline(True)
    expect(trouble).to_be_visible()
    desk.context.set_offline(False)
    expect(trouble).to_be_hidden()


def test_ones_own_data_on_a_phone(phone, sign_in, axe, user):
    sign_in(phone, user)
    phone.goto("/account/data/")
    axe(phone)
    phone.locator("input[name=catches][value=sums]").check()
    phone.get_by_role("button", name="Save my choices").tap()
    expect(phone.get_by_text("Your choices are in force")).to_be_visible()
    expect(phone.locator("input[name=catches][value=sums]")).to_be_checked()
    with phone.expect_download() as waiting:
        phone.get_by_role("link", name="Download my data").tap()
    assert waiting.value.path().read_bytes().startswith(b"PK")
    phone.get_by_role("link", name="See what is deleted").tap()
    # The script that puts this button there moves the field.
    expect(phone.get_by_role("button", name="Show the password")).to_be_visible()
    phone.get_by_label("Your password").fill("wrong")
    phone.get_by_role("button", name="Delete my account").tap()
    expect(phone.get_by_text("Wrong password. Nothing was deleted.")).to_be_visible()
    axe(phone)
    phone.get_by_label("Your password").fill(PASSWORD)
    phone.get_by_label("I know that this cannot be undone").check()
    phone.get_by_role("button", name="Delete my account").tap()
    expect(phone.get_by_text("Your account is deleted.")).to_be_visible()
    user.refresh_from_db()
    assert not user.is_active
