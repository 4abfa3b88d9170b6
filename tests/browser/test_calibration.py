"""A round judged in a browser: on a phone, stopped and gone on with, without and with script."""

from datetime import date

import pytest
from playwright.sync_api import expect

from tests.browser.looks import fits
from tests.calibration.round_factory import judge_all, make_officers, make_round, truth
from training.calibration import turns
from training.calibration.models import Call, Round
from training.demo import calibration

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def turn(officer):
    return make_round([officer, *make_officers(3)]).turns.get(officer=officer)


def number(page, place):
    return page.get_by_role("heading", name=f"Rig {place} of 20")


def test_judge_two_rigs_stop_and_go_on_from_another_device(
    phone, desk, sign_in, officer, turn, axe
):
    sign_in(phone, officer)
    phone.goto("/calibration/")
    axe(phone)
    phone.get_by_role("link", name="Begin").tap()
    expect(phone.get_by_text("20 rigs to judge")).to_be_visible()
    axe(phone)
    phone.get_by_role("link", name="Begin with rig 1").tap()
    expect(number(phone, 1)).to_be_visible()
    axe(phone)
    assert fits(phone)
    # A verdict that contradicts the ticks is told beside the field, with the ticks kept.
    phone.get_by_label("Yes, it meets every rule").check()
    phone.get_by_label("Float size").check()
    phone.get_by_role("button", name="Save and continue").tap()
    expect(phone.get_by_text("One broken rule is enough for a no.")).to_be_visible()
    expect(phone.get_by_label("Float size")).to_be_checked()
    phone.get_by_label("No, it breaks a rule").check()
    phone.get_by_role("button", name="Save and continue").tap()
    expect(number(phone, 2)).to_be_visible()
    phone.get_by_label("I cannot tell").check()
    phone.get_by_role("button", name="Save and continue").tap()
    expect(number(phone, 3)).to_be_visible()
    assert Call.objects.count() == 2

    sign_in(desk, officer)
    desk.goto("/calibration/")
    desk.get_by_role("link", name="Continue").click()
    expect(desk.get_by_text("18 of 20 rigs to go.")).to_be_visible()
    axe(desk)
    desk.get_by_role("link", name="Rig 1", exact=True).click()
    expect(desk.get_by_label("No, it breaks a rule")).to_be_checked()
    expect(desk.get_by_label("Float size")).to_be_checked()
    desk.get_by_role("link", name="All rigs").click()
    desk.get_by_role("link", name="Continue with rig 3").click()
    expect(number(desk, 3)).to_be_visible()


def test_without_a_connection_what_was_ticked_stays_on_the_phone(phone, sign_in, officer, turn):
    sign_in(phone, officer)
    path = f"/calibration/turn/{turn.pk}/rig/1/"
    phone.goto(path)
    phone.context.set_offline(True)
    phone.get_by_label("I cannot tell").check()
    phone.get_by_role("button", name="Save and continue").tap()
    waits = "Saved on this phone. It is sent when there is signal."
    expect(phone.get_by_text(waits)).to_be_visible()
    expect(phone.get_by_label("I cannot tell")).to_be_checked()
    assert not Call.objects.exists()
    phone.context.set_offline(False)
    # It is sent by itself, and the page goes on.
    expect(number(phone, 2)).to_be_visible()
    assert Call.objects.get().revision == 1
    phone.goto(path)
    expect(phone.get_by_label("I cannot tell")).to_be_checked()


def test_without_script_a_round_is_handed_in_and_practiced(open_page, sign_in, officer, turn):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    sign_in(page, officer)
    judge_all(turn, lambda rig: truth(rig, claim=["legs_equal"]), hand_in=False)
    last = turns.entries(turn)[-1]
    last.call.delete()
    page.goto(f"/calibration/turn/{turn.pk}/")
    page.get_by_role("link", name="Continue with rig 20").click()
    page.get_by_label("I cannot tell").check()
    page.get_by_role("button", name="Save and continue").click()
    page.get_by_role("button", name="Turn in the round").click()
    expect(page.get_by_role("heading", name="Where you differ from the rules")).to_be_visible()
    page.get_by_role("link", name="Practice", exact=True).click()
    page.get_by_label("No, it breaks at least one").check()
    page.get_by_role("button", name="Turn in").click()
    expect(page.get_by_text("This rig tests")).to_be_visible()
    page.get_by_role("link", name="Next rig").click()
    expect(page.get_by_role("button", name="Turn in")).to_be_visible()


@pytest.mark.parametrize("width", [360, 1280])
def test_every_page_holds_on_small_and_wide_screens(
    open_page, sign_in, officer, staff, axe_in_both, width
):
    calibration.load([officer, *make_officers(5)], date(2026, 11, 20))
    opened, done = Round.objects.all()
    mine, other = (each.turns.get(officer=officer) for each in (done, opened))
    rig = mine.practice.first()
    paths = {
        officer: [
            "",
            f"turn/{other.pk}/",
            f"turn/{other.pk}/rig/1/",
            f"turn/{other.pk}/rig/2/",
            f"turn/{mine.pk}/result/",
            f"turn/{mine.pk}/rig/1/",
            f"turn/{mine.pk}/practice/",
            f"practice/{rig.pk}/",
        ],
        staff: ["", "new/", f"{done.pk}/", f"{done.pk}/change/", f"{done.pk}/report/"],
    }
    for person, own in paths.items():
        page = open_page(viewport={"width": width, "height": 800})
        sign_in(page, person)
        for path in own:
            assert page.goto(f"/calibration/{path}").ok
            axe_in_both(page)
            assert fits(page), path
