"""A check sheet while phone and site are apart: refused, changed in between, without room."""

import re
import threading
from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from rigs.rules import rulebook
from tests.browser.looks import fits
from tests.browser.test_check import PHONE, head, media, ready, saved, start  # noqa: F401
from training.checks import phone_views
from training.checks.models import CheckRevision, CheckSheet, CheckThrown

pytestmark = pytest.mark.django_db(transaction=True)

# Chain that droppers may be by the first version and may not by the second.
CHAIN = "3/8 in"
FIRST_LIMIT = "limit: 3/8 in\n    metric: 0.95 cm"
SECOND_LIMIT = "limit: 5/16 in\n    metric: 0.79 cm"


@pytest.fixture
def publish():
    """A function that puts a second version of the no-sweep rules on the shelf, from today on."""
    sources = []

    def published():
        text = (rulebook.FOLDER / "no-sweep.yaml").read_text("utf-8")
        assert FIRST_LIMIT in text
        text = text.replace('version: "1"', 'version: "2"').replace(FIRST_LIMIT, SECOND_LIMIT)
        text = text.replace("from: 2020-01-01", f"from: {timezone.localdate()}")
        sources.append(lambda: (("second", text),))
        rulebook.add_source(sources[-1])

    yield published
    for source in sources:
        rulebook.remove_source(source)


def chain(page):
    """Go to where the chain of the droppers is asked for; return its field."""
    expect(page.locator("[data-vessel]")).to_be_visible()
    page.evaluate("location.hash = location.hash.split('/')[0] + '/droppers'")
    return page.locator("[data-question=dropper_chain]").get_by_role("textbox").first


def turn_in(page):
    """Turn in the sheet that is open, for all that was not measured."""
    page.evaluate("location.hash = location.hash.split('/')[0] + '/notes'")
    page.get_by_role("button", name="Turn in the sheet").tap()
    # Many are folded by step, each with its count.
    folds = page.locator("[data-ask-list] details:not([open])")
    counts = [int(text.rsplit("(")[-1].rstrip(")")) for text in folds.all_inner_texts()]
    expect(page.locator("[data-ask-title]")).to_contain_text(f"{sum(counts)} things")
    page.get_by_role("button", name="Turn it in like this").tap()


def test_a_phone_of_older_rules_says_where_the_site_finds_otherwise(
    phone, sign_in, axe, officer, publish
):
    sign_in(phone, officer)
    ready(phone)
    phone.context.set_offline(True)
    start(phone)
    chain(phone).fill(CHAIN)
    expect(saved(phone)).to_contain_text("Saved on this phone")
    turn_in(phone)
    expect(saved(phone)).to_have_text("Turned in. Not sent yet.")
    expect(phone.locator("[data-tally]")).to_contain_text("0 outside, 1 inside")
    publish()
    phone.context.set_offline(False)
    told = phone.locator("[data-parted]")
    expect(told).to_contain_text("1 outside")
    axe(phone)
    assert fits(phone)
    # It stays until it was seen: after the page was opened anew, and on the list.
    phone.reload()
    expect(told).to_contain_text("1 outside")
    phone.goto("/checks/")
    expect(phone.locator(".notice-bad", has_text="Sanderling")).to_contain_text("1 outside")
    phone.goto(PHONE)
    phone.locator("[data-list] a").tap()
    told.get_by_role("button", name="I have seen it").tap()
    expect(told).to_be_hidden()
    phone.reload()
    expect(saved(phone)).to_contain_text("Turned in. The site has it.")
    expect(told).to_be_hidden()
    save = CheckRevision.objects.get()
    assert save.said["rulebook_version"] == "1"
    assert save.said["tally"]["outside"] == 0
    assert save.parted
    assert (save.sheet.outside, save.sheet.rulebook_version) == (1, "2")


def test_on_a_weak_signal_the_kept_page_is_used_and_a_newer_one_offered(
    phone, sign_in, officer, publish, monkeypatch
):
    sign_in(phone, officer)
    ready(phone)
    answered, every = threading.Event(), phone_views.every_version

    def held():
        answered.wait()
        return every()

    monkeypatch.setattr(phone_views, "every_version", held)
    publish()
    try:
        phone.reload()
        # The site has said nothing yet, and the page is in use.
        start(phone)
        chain(phone).fill(CHAIN)
        expect(saved(phone)).to_contain_text("Saved on this phone")
        assert not answered.is_set()
    finally:
        answered.set()
    offer = phone.get_by_role("button", name="Load the newer page")
    expect(offer).to_be_visible()
    expect(chain(phone)).to_have_value(CHAIN)
    phone.get_by_role("button", name="Done with this step").tap()
    expect(phone.locator("[data-tally]")).to_contain_text("0 outside")
    offer.tap()
    expect(phone.locator("[data-tally]")).to_contain_text("1 outside")
    expect(offer).to_be_hidden()
    expect(chain(phone)).to_have_value(CHAIN)


def test_a_refused_sheet_is_mended_or_thrown_away_and_holds_up_no_other(
    phone, sign_in, axe, officer
):
    sign_in(phone, officer)
    ready(phone)
    failed = []

    def stumble(route):
        # Of the sheet of the Dunlin the site makes an error, once.
        if "Dunlin" in route.request.post_data and not failed:
            failed.append(route.request.post_data)
            route.fulfill(status=500)
        else:
            route.continue_()

    phone.route("**/checks/send/", stumble)
    phone.context.set_offline(True)
    for vessel, day in (("Sanderling", ""), ("Petrel", "2019-05-01"), ("Knot", "2019-05-01")):
        head(phone, vessel)
        if day:
            phone.locator("[data-start] [name=day]").fill(day)
        phone.get_by_role("button", name="Start the check").tap()
        expect(phone.locator("[data-vessel]")).to_have_text(vessel)
        phone.get_by_role("link", name="All on this phone").tap()
    start(phone, "Dunlin")
    phone.context.set_offline(False)
    # The one sheet that fails came first, the two that are refused next.
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    phone.get_by_role("link", name="All on this phone").tap()
    expect(phone.get_by_text("2 sheets not sent yet.")).to_be_visible()
    assert failed
    assert {sheet.vessel_name for sheet in CheckSheet.objects.all()} == {"Sanderling", "Dunlin"}
    # One is mended: what the site says stands where it is to be mended.
    phone.locator("[data-list] a", has_text="Petrel").tap()
    refused = phone.locator("[data-refused]")
    expect(refused).to_contain_text("have no version for May 1, 2019")
    axe(phone)
    assert fits(phone)
    refused.get_by_role("link", name="About the check").tap()
    day = phone.locator("[data-sheet] [name=day]")
    expect(phone.locator("#head_day_error")).to_contain_text("have no version for May 1, 2019")
    day.fill(str(timezone.localdate()))
    expect(refused).to_be_hidden()
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    # The other is thrown away, not without a reason.
    phone.get_by_role("link", name="All on this phone").tap()
    phone.locator("[data-list] a", has_text="Knot").tap()
    refused.get_by_text("Throw this sheet away").tap()
    refused.get_by_role("button", name="Throw the sheet away").tap()
    expect(refused.get_by_text("Say why you throw it away.")).to_be_visible()
    phone.get_by_label("Why is it thrown away?").fill("Begun on the wrong day.")
    phone.context.set_offline(True)
    refused.get_by_role("button", name="Throw the sheet away").tap()
    thrown = phone.locator("[data-list] li", has_text="Knot")
    expect(thrown).to_contain_text("thrown away, not sent yet")
    phone.context.set_offline(False)
    expect(thrown).to_have_count(0)
    kept = CheckThrown.objects.get()
    assert (kept.reason, kept.content["vessel_name"]) == ("Begun on the wrong day.", "Knot")
    assert CheckSheet.objects.count() == 3


def test_a_sheet_of_a_day_that_has_not_come_is_sent_when_it_has(
    phone, sign_in, officer, monkeypatch
):
    today = timezone.localdate()
    sign_in(phone, officer)
    # The phone's clock is a day ahead.
    phone.clock.set_fixed_time(timezone.now() + timedelta(days=1))
    ready(phone)
    phone.context.set_offline(True)
    start(phone)
    turn_in(phone)
    expect(saved(phone)).to_have_text("Turned in. Not sent yet.")
    phone.context.set_offline(False)
    refused = phone.locator("[data-refused]")
    expect(refused).to_contain_text("It is sent again by itself when that day has come.")
    assert not CheckSheet.objects.exists()
    monkeypatch.setattr(timezone, "localdate", lambda *_: today + timedelta(days=1))
    phone.evaluate("window.dispatchEvent(new Event('online'))")
    expect(saved(phone)).to_have_text("Turned in. The site has it.")
    expect(refused).to_be_hidden()
    assert CheckSheet.objects.get().finished


FULL = """() => {
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (...given) {
    const asked = put.apply(this, given);
    if (window.isFull) {
      this.transaction.abort();
      window.tries = (window.tries ?? 0) + 1;
    }
    return asked;
  };
}"""


def test_a_phone_without_room_says_so_at_the_field_and_goes_no_further(
    phone, sign_in, axe, officer
):
    sign_in(phone, officer)
    ready(phone)
    phone.evaluate(FULL)
    phone.evaluate("window.isFull = true")
    head(phone)
    phone.get_by_role("button", name="Start the check").tap()
    # Its words are there from the start: what tells is that they are seen.
    expect(phone.locator("[data-start-error]")).to_be_visible()
    expect(phone.locator("[data-start-error]")).to_contain_text("no room left")
    phone.evaluate("window.isFull = false")
    phone.get_by_role("button", name="Start the check").tap()
    field = chain(phone)
    expect(field).to_be_visible()
    phone.evaluate("window.isFull = true")
    # Each letter is a change of its own: none of them may be lost.
    field.press_sequentially(CHAIN)
    question = phone.locator("[data-question=dropper_chain]")
    told = question.get_by_text("Not saved: this phone has no room left.")
    expect(told).to_be_visible()
    expect(saved(phone)).to_contain_text("Not saved")
    axe(phone)
    # Neither on nor back to the list: what is on the screen is nowhere else.
    for way in (("button", "Save and continue"), ("link", "All on this phone")):
        before = phone.evaluate("window.tries")
        phone.get_by_role(way[0], name=way[1]).tap()
        # It is tried once more: until that has failed, the phone has to stay full.
        while phone.evaluate("window.tries") == before:
            phone.wait_for_timeout(50)
    expect(field).to_have_value(CHAIN)
    expect(told).to_be_visible()
    phone.evaluate("window.isFull = false")
    phone.get_by_role("button", name="Save and continue").tap()
    expect(phone.locator("[data-step=droppers]")).to_be_hidden()
    expect(saved(phone)).to_have_text("Saved on this phone and sent.")
    assert CheckSheet.objects.get().typed == {"dropper_chain": CHAIN}


def test_signing_out_with_something_unsent_asks_first(phone, sign_in, axe, officer):
    sign_in(phone, officer)
    ready(phone)
    phone.route("**/checks/send/", lambda route: route.abort())
    start(phone)
    expect(saved(phone)).to_contain_text("Not sent yet")
    phone.goto("/checks/")
    menu = phone.get_by_text("Menu", exact=True)
    out = phone.get_by_role("button", name="Sign out").locator("visible=true")
    menu.tap()
    out.tap()
    asked = phone.get_by_role("dialog", name="Not sent to the site yet")
    expect(asked).to_contain_text("Check sheet: Sanderling")
    axe(phone)
    assert fits(phone)
    asked.get_by_role("button", name="Stay signed in").tap()
    expect(asked).to_have_count(0)
    out.tap()
    asked.get_by_role("button", name="Sign out, keep it here").tap()
    expect(phone).to_have_url(re.compile(r"//[^/]+/$"))
    phone.unroute("**/checks/send/")
    sign_in(phone, officer)
    phone.goto(PHONE)
    expect(phone.get_by_text("All sheets are sent.")).to_be_visible()
    assert CheckSheet.objects.get().vessel_name == "Sanderling"


@pytest.fixture
def strokes(phone):
    """A function that draws on the glass over ``canvas``."""

    def drawn(canvas):
        canvas.scroll_into_view_if_needed()
        box = canvas.bounding_box()
        phone.mouse.move(box["x"] + 20, box["y"] + 30)
        phone.mouse.down()
        phone.mouse.move(box["x"] + 120, box["y"] + 50, steps=4)
        phone.mouse.up()

    return drawn


# The fields of a step that the bar below covers when they have the focus, come to from above.
UNDER_THE_BAR = """async () => {
  const bar = document.querySelector(".check-bar");
  document.documentElement.style.scrollBehavior = "auto";
  window.scrollTo(0, 0);
  const covered = [];
  const fields = document.querySelectorAll("[data-step=droppers] :is(input, button, select)");
  for (const field of fields) {
    if (!field.checkVisibility()) continue;
    field.focus();
    await new Promise(requestAnimationFrame);
    const [own, over] = [field, bar].map((each) => each.getBoundingClientRect());
    const isApart = own.bottom <= over.top + 1 || own.top >= over.bottom - 1;
    if (!isApart) covered.push(field.outerHTML);
  }
  return covered;
}"""


def test_a_whole_boarding_at_sea_without_signal(phone, sign_in, axe, officer, strokes):
    phone.context.grant_permissions(["geolocation"])
    phone.context.set_geolocation({"latitude": 42.234, "longitude": -70.147, "accuracy": 9})
    sign_in(phone, officer)
    ready(phone)
    phone.context.set_offline(True)
    form = phone.locator("[data-start]")
    # Nothing is chosen beforehand, and a harbor is not asked for at sea.
    phone.get_by_role("button", name="Start the check").tap()
    expect(form.get_by_text("Choose the rules.")).to_be_visible()
    expect(form.get_by_text("Choose in port or at sea.")).to_be_visible()
    axe(phone)
    form.get_by_label("Which rules?").select_option("no-sweep")
    form.get_by_label("Check which fishery too?").select_option("none")
    form.locator("[name=vessel_name]").fill("Sanderlin")
    form.get_by_label("At sea").check()
    expect(form.locator("[name=harbor]")).to_be_hidden()
    # What cannot be read is told at its field, with an example, and stays as it was typed.
    position = form.locator("[name=position]")
    position.fill("off the point")
    position.blur()
    told = form.locator("#start_position_error")
    expect(told).to_contain_text("Write it like 42 14.05 N 70 08.80 W.")
    phone.get_by_role("button", name="Start the check").tap()
    expect(position).to_be_focused()
    expect(position).to_have_value("off the point")
    expect(told).to_be_visible()
    form.get_by_role("button", name="Use the position of this phone").tap()
    expect(position).to_have_value("42 14.040 N 70 08.820 W")
    expect(told).to_be_hidden()
    phone.get_by_role("button", name="Start the check").tap()
    chain(phone)
    for size in ("100%", "200%"):
        phone.evaluate("size => { document.documentElement.style.fontSize = size; }", size)
        assert phone.evaluate(UNDER_THE_BAR) == []
        assert fits(phone)
    phone.evaluate("document.documentElement.style.fontSize = ''")
    # A second reading stands beside the first, and a change strikes through.
    field = chain(phone)
    question = phone.locator("[data-question=dropper_chain]")
    field.fill("3/8 in")
    field.blur()
    question.locator("[data-by]").select_option("measured calipers")
    question.get_by_role("button", name="Second reading").tap()
    field.fill("5/16 in")
    field.blur()
    expect(question.locator("[data-log] li")).to_contain_text(["3/8 in"])
    field.fill("1/4 in")
    field.blur()
    expect(question.locator("[data-log] s")).to_have_text("5/16 in")
    axe(phone)
    assert fits(phone)
    # The head is mended until the sheet is turned in.
    phone.get_by_text("See or change vessel, day and rules").tap()
    mended = phone.locator("[data-sheet]")
    mended.locator("[name=vessel_name]").fill("Sanderling")
    mended.get_by_text("Permit, people, times, the net (optional)").tap()
    mended.locator("[name=net]").fill("Net 1")
    mended.locator("[name=skipper]").fill("Perrin Holt")
    expect(phone.locator("[data-vessel]")).to_have_text("Sanderling, Net 1")
    axe(phone)
    assert fits(phone)
    phone.evaluate("location.hash = location.hash.split('/')[0] + '/notes'")
    for role in ("officer", "skipper", "witness"):
        phone.locator(f"[data-sign={role}] summary").tap()
    phone.locator("#sign-officer").fill("Piper Lund")
    strokes(phone.locator("[data-sign=skipper] canvas"))
    expect(phone.locator("[data-sign=skipper] [data-sign-told]")).to_contain_text("Signed at")
    phone.locator("[data-sign=witness]").get_by_label("Declined to sign").check()
    phone.get_by_role("button", name="Turn in the sheet").tap()
    asked = phone.locator("[data-ask]")
    expect(asked.get_by_role("heading")).to_contain_text("not measured")
    axe(phone)
    asked.get_by_role("button", name="Turn it in like this").tap()
    code = phone.locator("[data-code]")
    expect(code).to_be_visible()
    told = code.inner_text().replace(" ", "")
    assert fits(phone)
    # Another net of the same boarding has a sheet of its own.
    phone.get_by_role("button", name="Check another net on this vessel").tap()
    expect(phone.locator("[data-vessel]")).to_have_text("Sanderling, Net 2")
    phone.get_by_role("link", name="All on this phone").tap()
    phone.context.set_offline(False)
    expect(phone.get_by_text("All sheets are sent.")).to_be_visible()
    first, second = (CheckSheet.objects.get(head__net=f"Net {number}") for number in (1, 2))
    assert (first.vessel_name, first.harbor, first.at_sea) == ("Sanderling", "", True)
    assert first.position == second.position == "42 14.040 N 70 08.820 W"
    assert first.boarding == second.boarding != ""
    assert (first.code, second.code != first.code) == (told, True)
    assert [(entry.text, bool(entry.struck)) for entry in first.log] == [
        ("3/8 in", False),
        ("5/16 in", True),
        ("1/4 in", False),
    ]
    # An instrument once named is that of the next readings.
    assert {entry.tool for entry in first.log} == {"calipers"}
    signed = {each["role"]: each for each in first.signatures}
    assert signed["officer"]["name"] == "Piper Lund"
    assert signed["skipper"]["name"] == "Perrin Holt"
    assert len(signed["skipper"]["strokes"][0]) > 2
    assert signed["witness"]["refused"]
