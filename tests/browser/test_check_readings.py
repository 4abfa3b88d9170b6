"""Gaps one by one, two readings and what was said: on the phone, and the same on the site."""

import pytest
from playwright.sync_api import expect

from rigs.check import remarks, whole
from tests.checks.conftest import make_check
from training.checks.models import CheckSheet

pytestmark = pytest.mark.django_db(transaction=True)


def site_remark(sheet, key):
    """Return what the site says behind the finding ``key``."""

    def judge(answers):
        return whole.judged(answers, (sheet.rulebook,), sheet.day).findings

    noted = remarks.noted(sheet.typed, sheet.log, sheet.reasons, judge)
    found = next(each for each in judge(noted.read.measures) if each.key == key)
    return found.places, remarks.remark(found, noted)


def test_gaps_one_by_one_say_which_and_two_readings_that_part(phone, sign_in, officer):
    sheet = make_check(officer, typed={})
    sign_in(phone, officer)
    phone.goto(f"/checks/phone/#{sheet.key}/port_wing")
    last, gap, wing = (
        phone.locator(f"[data-question={name}]") for name in ("port_last", "port_gap", "port_wing")
    )
    last.get_by_role("textbox").fill("2 ft")
    field = gap.get_by_role("textbox")
    field.fill("8 ft")
    gap.get_by_role("button", name="Next", exact=True).tap()
    field.press_sequentially("8 ft 1 in, 8 ft")
    expect(gap).to_contain_text("3 readings, largest 8 ft 1 in, 24 ft 1 in in all")
    # Feet and inches with a comma may be one length or two: it asks.
    field.fill("8 ft, 6 in")
    expect(gap).to_contain_text("may be one length or two")
    field.fill("8 ft, 8 ft 1 in, 8 ft")
    # What the tape says of the whole wing is asked about where the gaps do not come to it.
    wing.get_by_role("textbox").fill("30 ft")
    expect(wing).to_contain_text("Gaps come to 26 ft 1 in")
    wing.get_by_role("textbox").fill("26 ft")
    expect(wing).not_to_contain_text("Gaps come to")
    gap.locator("[data-by]").select_option(label="said by the skipper")
    phone.get_by_role("button", name="Done with this step").tap()
    finding = phone.locator("[data-findings] .finding", has_text="Droppers along the wings")
    expect(finding).to_contain_text("Where: port wing, gap 2 of 3 from the wing end.")
    expect(finding).to_contain_text("Said, not measured: “Gaps on this wing")
    gap.get_by_role("button", name="Second reading").tap()
    field.fill("8 ft, 8 ft, 8 ft")
    expect(finding).to_be_hidden()
    phone.get_by_role("button", name="Done with this step").tap()
    expect(finding).to_contain_text("fall on different sides of the limit: 8 ft, 8 ft 1 in, 8 ft;")
    expect(phone.locator("[data-saved]")).to_have_text("Saved on this phone and sent.")
    places, said = site_remark(CheckSheet.objects.get(), "dropper_spacing")
    assert not places
    expect(finding.locator(".finding-remark")).to_have_text(said)
    # The first of the two was a slip: struck out it counts no more, and stays to be read.
    gap.get_by_role("button", name="Strike it out").tap()
    expect(gap.locator("[data-log] s")).to_have_text("8 ft, 8 ft 1 in, 8 ft")
    phone.get_by_role("button", name="Done with this step").tap()
    expect(finding).not_to_contain_text("fall on different sides")
    expect(phone.locator("[data-saved]")).to_have_text("Saved on this phone and sent.")
    first, second = (each for each in CheckSheet.objects.get().log if each.name == "port_gap")
    assert first.struck
    assert not second.struck
