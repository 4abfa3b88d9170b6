"""A check sheet at the rail: no signal, lost replies, impatient thumbs, a shared phone."""

import re
from datetime import timedelta
from io import BytesIO

import pytest
from django.contrib.sessions.models import Session as StoredSession
from django.utils import timezone
from PIL import Image
from playwright.sync_api import expect

from rigs.check.steps import QUESTIONS, steps
from rigs.rules import rulebook
from tests.browser.looks import fits
from tests.checks.conftest import make_check, typed_rig
from tests.people.codes import code_of, give_phone
from tests.register.events_factory import make_vessel
from tests.site import PASSWORD
from training.checks.models import CheckPhoto, CheckRevision, CheckSheet
from training.people.models import Role, User

pytestmark = pytest.mark.django_db(transaction=True)

PHONE = "/checks/phone/"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


def ready(page):
    """Open the page and wait until it would open without a connection."""
    page.goto(PHONE)
    expect(page.get_by_role("heading", name="Start a check")).to_be_visible()
    page.evaluate(
        """async (address) => {
          const pause = () => new Promise((go) => setTimeout(go, 50));
          while (!(await caches.match(address))) await pause();
        }""",
        PHONE,
    )


def start(page, vessel="Sanderling"):
    head(page, vessel)
    page.get_by_role("button", name="Start the check").tap()
    expect(page.locator("[data-where]")).to_contain_text("Step 1 of")


def head(page, vessel="Sanderling", harbor="Kettle Harbor"):
    """Fill in what a sheet cannot be started without."""
    form = page.locator("[data-start]")
    form.get_by_label("Which rules?").select_option("no-sweep")
    form.get_by_label("Check which fishery too?").select_option("none")
    form.locator("[name=vessel_name]").fill(vessel)
    form.get_by_label("In port").check()
    form.locator("[name=harbor]").fill(harbor)


def saved(page):
    return page.locator("[data-saved]")


def fill_all(page, typed):
    """Answer every question, step by step."""
    for step in steps(rulebook.load("no-sweep", "1")):
        shown = page.locator(f"[data-step={step.slug}]")
        expect(shown).to_be_visible()
        for question in step.questions:
            if question.name not in typed:
                continue
            asked = shown.locator(f"[data-question={question.name}]")
            if question.sort == "flag":
                label = "Yes" if typed[question.name] == "yes" else "No"
                asked.get_by_label(label, exact=True).check()
            else:
                asked.get_by_role("textbox").fill(typed[question.name])
            expect(saved(page)).to_contain_text("Saved on this phone")
        page.get_by_role("button", name="Save and continue").tap()
    expect(page.get_by_role("heading", name="Notes, then turn it in")).to_be_visible()

    return rulebook.load("no-sweep", "1")


def test_filled_without_signal_it_arrives_once_when_there_is_some(phone, sign_in, officer):
    sign_in(phone, officer)
    ready(phone)
    phone.context.set_offline(True)
    phone.reload()
    start(phone)
    asked = {
        question.name
        for step in steps(rulebook.load("no-sweep", "1"))
        for question in step.questions
    }
    told = typed_rig(sweep="yes")
    typed = {name: text for name, text in told.items() if name in asked}
    fill_all(phone, typed)
    expect(phone.locator("[data-tally]")).to_have_text("1 outside, 17 inside, 0 not measured")
    phone.get_by_label("Notes (optional)").fill("Wind north-east.")
    expect(saved(phone)).to_contain_text("Not sent yet")
    # The page comes up again without a connection, with all that was written.
    phone.reload()
    expect(phone.locator("[data-tally]")).to_have_text("1 outside, 17 inside, 0 not measured")
    expect(phone.get_by_label("Notes (optional)")).to_have_value("Wind north-east.")
    phone.get_by_role("button", name="Turn in the sheet").dblclick()
    expect(saved(phone)).to_contain_text("Turned in. Not sent yet.")
    assert not CheckSheet.objects.exists()
    phone.context.set_offline(False)
    expect(saved(phone)).to_have_text("Turned in. The site has it.")
    sheet = CheckSheet.objects.get()
    assert sheet.officer == officer
    assert sheet.typed == typed
    assert sheet.notes == "Wind north-east."
    assert sheet.finished
    assert (sheet.outside, sheet.passed) == (1, False)
    assert CheckRevision.objects.count() == 1


def test_a_lost_reply_makes_no_second_sheet(phone, sign_in, officer):
    sign_in(phone, officer)
    ready(phone)
    lost = []

    def lose(route):
        # The site takes it in, and its answer never comes back; twice over.
        if len(lost) < 2:
            lost.append(route.fetch().status)
            route.abort()
        else:
            route.continue_()

    phone.route("**/checks/send/", lose)
    start(phone)
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    assert lost == [200, 200]
    assert CheckSheet.objects.count() == CheckRevision.objects.count() == 1


def test_an_impatient_thumb_starts_one_sheet(phone, sign_in, officer):
    make_vessel("Dunlin", "Eastlight", registration="ML 4410")
    sign_in(phone, officer)
    ready(phone)
    head(phone, "Dunlin", "Eastlight")
    # What can be read on the hull of a known vessel need not be typed.
    expect(phone.locator("[data-start] [name=vessel_number]")).to_have_value("ML 4410")
    phone.get_by_role("button", name="Start the check").dblclick()
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    # It is not another vessel's.
    phone.locator("[data-mend-head]").tap()
    about = phone.locator("[data-step=head]")
    about.locator("[name=vessel_name]").fill("Sandpiper")
    expect(about.locator("[name=vessel_number]")).to_have_value("")
    phone.get_by_role("link", name="All on this phone").tap()
    expect(phone.locator("[data-list] li")).to_have_count(1)
    assert CheckSheet.objects.count() == 1


def picture(color):
    """Return a photo as a camera hands it over."""
    data = BytesIO()
    Image.new("RGB", (2400, 1200), color).save(data, "JPEG")
    return {"name": "IMG.jpg", "mimeType": "image/jpeg", "buffer": data.getvalue()}


def test_a_photo_goes_with_the_sheet(phone, sign_in, officer, tmp_path):
    sign_in(phone, officer)
    ready(phone)
    phone.context.set_offline(True)
    start(phone)
    phone.locator("#photo").set_input_files(picture("teal"))
    expect(phone.get_by_role("img", name="Photo 1")).to_be_visible()
    expect(saved(phone)).to_contain_text("Not sent yet")
    phone.context.set_offline(False)
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    photo = CheckPhoto.objects.get()
    assert Image.open(photo.image.open()).size == (1600, 800)
    assert photo.sheet.shown_photos == [photo]
    # One that the site refuses is told where it stands, is not sent over and over, and comes off.
    asked = []

    def refuse(route):
        asked.append(route.request.url)
        route.fulfill(status=422, json={"problem": "That is not a picture."})

    phone.route("**/photos/", refuse)
    phone.locator("#photo").set_input_files(picture("navy"))
    second = phone.locator("[data-thumbs] li", has=phone.get_by_role("img", name="Photo 2"))
    expect(second).to_contain_text("Not sent. That is not a picture.")
    phone.get_by_role("button", name="Save and continue").tap()
    expect(phone.locator("[data-where]")).to_contain_text("Step 2 of")
    phone.evaluate("window.dispatchEvent(new Event('online'))")
    expect(second).to_contain_text("Not sent. That is not a picture.")
    with phone.expect_request("**/photos/"):
        second.get_by_role("button", name="Send Photo 2 again").tap()
    expect(second).to_contain_text("Not sent.")
    assert len(asked) == 2
    second.get_by_role("button", name="Take off Photo 2").tap()
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    # The other is given a line, and taken off after that.
    first = phone.locator("[data-thumbs] li")
    first.get_by_role("combobox").select_option(index=1)
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    sheet = CheckSheet.objects.get()
    assert sheet.photo_lines[str(photo.key)] in QUESTIONS
    first.get_by_role("button", name="Take off Photo 1").tap()
    expect(first).to_have_count(0)
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    sheet.refresh_from_db()
    assert not sheet.shown_photos


def test_signed_out_the_sheet_stays_until_its_writer_is_back(phone, sign_in, officer, live_server):
    sign_in(phone, officer)
    ready(phone)
    phone.context.clear_cookies()
    start(phone)
    expect(phone.get_by_text("You are signed out")).to_be_visible()
    expect(saved(phone)).to_contain_text("Not sent yet")
    assert not CheckSheet.objects.exists()
    # Somebody else on the same phone neither sees it nor sends it.
    other = User.objects.create_user("o@example.com", PASSWORD, name="Other", role=Role.OFFICER)
    sign_in(phone, other)
    phone.goto("/checks/")
    expect(phone.get_by_text("not sent yet")).to_be_hidden()
    phone.goto(PHONE)
    expect(phone.get_by_role("heading", name="Start a check")).to_be_visible()
    expect(phone.locator("[data-kept]")).to_be_hidden()
    assert not CheckSheet.objects.exists()
    phone.context.clear_cookies()
    sign_in(phone, officer)
    phone.goto("/checks/")
    expect(phone.get_by_text("1 sheet on this phone is not sent yet.")).to_be_visible()
    phone.get_by_role("link", name="Show").tap()
    expect(phone.get_by_text("All sheets are sent.")).to_be_visible()
    assert CheckSheet.objects.get().officer == officer


def test_a_sign_in_that_ran_out_at_sea_loses_no_sheet(phone, sign_in, officer):
    key, _ = give_phone(officer)
    sign_in(phone, User.objects.get(pk=officer.pk))
    ready(phone)
    StoredSession.objects.update(expire_date=timezone.now() - timedelta(minutes=1))
    start(phone)
    expect(phone.get_by_text("You are signed out")).to_be_visible()
    assert not CheckSheet.objects.exists()
    phone.get_by_role("link", name="Sign in to send").tap()
    phone.locator("[name=username]").fill(officer.email)
    phone.locator("[name=password]").fill(PASSWORD)
    phone.locator("main").get_by_role("button", name="Sign in").tap()
    phone.locator("[name=proof]").fill(code_of(key))
    phone.locator("main").get_by_role("button", name="Sign in").tap()
    expect(phone.get_by_text("All sheets are sent.")).to_be_visible()
    assert CheckSheet.objects.get().officer == officer


def test_a_page_left_open_sends_nothing_under_another_name(phone, sign_in, officer, staff):
    sign_in(phone, officer)
    ready(phone)
    phone.context.clear_cookies()
    sign_in(phone, staff)
    phone.evaluate("fetch('/checks/phone/').then(() => true)")
    # The page is answered by the phone; the site's answer behind it brings the cookie.
    phone.evaluate(
        """async () => {
          const pause = () => new Promise((go) => setTimeout(go, 50));
          while (!document.cookie.includes("csrftoken")) await pause();
        }"""
    )
    start(phone)
    expect(saved(phone)).to_contain_text("written under another account")
    assert not CheckSheet.objects.exists()


def test_signing_out_leaves_the_page_to_nobody(phone, sign_in, officer):
    sign_in(phone, officer)
    ready(phone)
    start(phone)
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    phone.goto("/checks/")
    phone.get_by_text("Menu", exact=True).tap()
    phone.get_by_role("button", name="Sign out").locator("visible=true").tap()
    expect(phone.get_by_text("Sign in").first).to_be_attached()
    expect(phone).to_have_url(re.compile(r"//[^/]+/$"))
    assert phone.evaluate(f"caches.match('{PHONE}').then(Boolean)") is False


def test_a_sheet_begun_elsewhere_is_carried_on_here(phone, sign_in, officer):
    sheet = make_check(officer, typed={"bosom": "16 ft"})
    sign_in(phone, officer)
    phone.goto(f"{PHONE}#{sheet.key}/center")
    field = phone.get_by_label("Bosom, corner to corner", exact=True)
    expect(field).to_have_value("16 ft")
    field.fill("18 ft")
    phone.get_by_role("button", name="Save and continue").tap()
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    sheet.refresh_from_db()
    assert sheet.typed["bosom"] == "18 ft"
    assert sheet.revisions.count() == 2


def test_keys_write_what_a_keypad_lacks(phone, sign_in, officer):
    sheet = make_check(officer, typed={})
    sign_in(phone, officer)
    phone.goto(f"{PHONE}#{sheet.key}/port_wing")
    gap = phone.locator("[data-question=port_gap]")
    field = gap.get_by_role("textbox")
    field.fill("7")
    for key in ("ft", "1/2", "in"):
        gap.get_by_role("button", name=key, exact=True).tap()
    expect(field).to_have_value("7 ft 1/2 in ")
    expect(saved(phone)).to_contain_text("Saved on this phone")
    finding = phone.locator("[data-findings] .finding", has_text="Droppers along the wings")
    done = phone.get_by_role("button", name="Done with this step")
    # No limit and no finding before the step is done with.
    expect(phone.locator(".finding:visible")).to_have_count(0)
    done.tap()
    expect(finding).to_contain_text("So far the widest gap along the wings is 7 ft 1/2 in")
    field.fill("8 furlongs")
    expect(gap.get_by_text("not a unit known here")).to_be_visible()
    expect(field).to_have_attribute("aria-invalid", "true")
    gap.get_by_role("button", name="Not measured").tap()
    expect(field).to_have_value("")
    expect(finding).to_be_hidden()
    done.tap()
    expect(finding).to_contain_text("Not measured; the clause says")
    # One tap wipes nothing: what was there is struck out and can be put back.
    expect(gap.locator("[data-log] s").last).to_have_text("8 furlongs")
    gap.get_by_role("button", name="Put it back").first.tap()
    expect(field).to_have_value("7 ft 1/2 in")
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    entries = [entry for entry in CheckSheet.objects.get().log if entry.name == "port_gap"]
    assert [(entry.text, bool(entry.struck)) for entry in entries] == [
        ("7 ft 1/2 in", True),
        ("8 furlongs", True),
        ("7 ft 1/2 in", False),
    ]


def test_an_unlikely_answer_is_asked_about_and_taken_when_it_is_right(phone, sign_in, officer):
    sheet = make_check(officer, typed={})
    sign_in(phone, officer)
    phone.goto(f"{PHONE}#{sheet.key}/center")
    bosom = phone.locator("[data-question=bosom]")
    sure = bosom.get_by_label("I checked: this is right.")
    field = bosom.get_by_role("textbox")
    field.fill("16 ft")
    expect(sure).to_be_hidden()
    field.fill("900 ft")
    expect(bosom.get_by_text("longer than any bosom this site has seen")).to_be_visible()
    sure.check()
    expect(bosom.get_by_text("longer than any bosom")).to_be_hidden()
    expect(field).to_have_attribute("aria-invalid", "false")
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    sheet.refresh_from_db()
    assert sheet.typed == {"bosom": "900 ft", "bosom_sure": "900 ft"}
    # Another answer is asked about anew.
    field.fill("800 ft")
    expect(sure).not_to_be_checked()
    expect(bosom.get_by_text("longer than any bosom")).to_be_visible()


def test_a_row_of_meshes_is_typed_with_keys_and_told_as_it_grows(phone, sign_in, officer):
    sheet = make_check(officer, typed={}, rulebook_name="grate")
    sign_in(phone, officer)
    phone.goto(f"{PHONE}#{sheet.key}/codend")
    mesh = phone.locator("[data-question=mesh]")
    field = mesh.get_by_role("textbox")
    field.fill("2")
    for key in ("1/2", "Next"):
        mesh.get_by_role("button", name=key, exact=True).tap()
    field.press_sequentially("2")
    mesh.get_by_role("button", name="3/8", exact=True).tap()
    expect(mesh.get_by_text("2 of 20 readings, average so far 2 7/16 in.")).to_be_visible()
    field.fill(", ".join(["2 3/8"] * 20))
    expect(mesh.get_by_text("of 20 readings")).to_be_hidden()
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    sheet.refresh_from_db()
    assert sheet.outside == 1


@pytest.mark.parametrize("width", [360, 1280])
def test_every_page_is_open_to_all(open_page, sign_in, axe_in_both, officer, width):
    page = open_page(viewport={"width": width, "height": 740})
    sign_in(page, officer)
    typed = typed_rig(sweep="yes", port_gap="8 furlongs", bosom="")
    sheet = make_check(officer, typed=typed, fishery_name="whiting")
    done = make_check(officer, hands_in=True)
    for path in (
        "/checks/",
        "/checks/new/",
        sheet.get_absolute_url(),
        f"{sheet.get_absolute_url()}step/port_wing/",
        f"{sheet.get_absolute_url()}step/notes/",
        f"{done.get_absolute_url()}correct/",
        f"{done.get_absolute_url()}compare/",
        PHONE,
    ):
        assert page.goto(path).ok
        axe_in_both(page)
        assert fits(page), path
    for step in ("port_wing", "port_gauge", "droppers", "trip", "head", "notes"):
        page.goto(f"{PHONE}#{sheet.key}/{step}")
        expect(page.locator(f"[data-step={step}]")).to_be_visible()
        if step == "head":
            page.locator("[data-step=head] summary").click()
        axe_in_both(page)
        assert fits(page), step


def test_by_keyboard_alone(desk, sign_in, officer):
    sheet = make_check(officer, typed={})
    sign_in(desk, officer)
    desk.goto(f"{PHONE}#{sheet.key}/center")
    field = desk.get_by_label("From the center to the nearest dropper", exact=True)
    expect(field).to_be_visible()
    field.focus()
    desk.keyboard.type("0")
    desk.keyboard.press("Enter")
    expect(desk.locator("[data-step=starboard_corner] h1")).to_be_focused()
    desk.keyboard.press("Tab")
    desk.keyboard.type("3 in")
    # First the reading: what it comes to waits until the step is done.
    expect(saved(desk)).to_contain_text("Saved on this phone")
    expect(desk.locator("[data-tally]")).to_contain_text("0 outside, 1 inside")
    desk.get_by_role("button", name="Done with this step").press("Enter")
    expect(desk.locator("[data-tally]")).to_contain_text("1 outside, 1 inside")


def test_without_scripts_there_is_another_way(open_page, sign_in, officer):
    page = open_page(viewport={"width": 360, "height": 740}, java_script_enabled=False)
    sign_in(page, officer)
    page.goto(PHONE)
    page.get_by_role("link", name="Fill in the sheet page by page").click()
    page.get_by_label("Which rules?").select_option("no-sweep")
    page.locator("[name=vessel_name]").fill("Petrel")
    page.get_by_label("Harbor", exact=True).fill("Marrow Point")
    page.get_by_role("button", name="Start the check").click()
    page.wait_for_url("**/step/port_wire/")
    page.get_by_label("Yes", exact=True).first.check()
    page.get_by_role("button", name="Save and continue").click()
    page.wait_for_url("**/step/port_gauge/")
    assert CheckSheet.objects.get().typed == {"port_wire_bare": "yes"}
