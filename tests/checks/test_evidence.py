"""A sheet as evidence: what its pages, its copy and its tables show of every reading."""

import csv
import io
import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from openpyxl import load_workbook

from rigs.check.steps import steps
from tests.checks.conftest import entry, make_check, typed_rig
from tests.checks.test_pages import START, step_url, words_on_paper
from tests.checks.test_parting import said
from tests.checks.test_sending import envelope, send
from training.checks import copy_views, keeping
from training.checks.models import CheckReading, CheckSheet, CheckThrown, CopyTry
from training.privacy.erasure import erase

pytestmark = pytest.mark.django_db

STROKES = [[[0, 0], [1000, 300]]]


def folded(finding):
    """Return whether a shown finding is within and each of its questions was read once."""
    rows = [reading for each in finding.asked for reading in each.readings]
    once = len(rows) == len(finding.asked) and not any(row.struck or row.late for row in rows)
    return bool(rows) and once and finding.finding.outcome == "pass"


def page_of(client, sheet):
    return client.get(sheet.get_absolute_url()).content.decode()


@pytest.fixture
def full(officer):
    """A sheet with a reading in links, one struck, one read twice and one that was said."""
    typed = typed_rig() | {"dropper_length": "30 links of 3/8"}
    names = [name for name in typed if not name.endswith("_sure")]
    log = [entry(name, typed[name]) for name in names if name != "bosom"]
    struck = {"struck": "2026-11-24T08:10:00-05:00", "why": "Tape was caught."}
    log += [entry("bosom", "11 ft", **struck), entry("bosom", typed["bosom"], how="told")]
    log[-1]["tool"] = "skipper"
    return make_check(
        officer,
        hands_in=True,
        typed=typed,
        readings=log + [entry("port_gap", typed["port_gap"])],
        head={"skipper": "A. Skipper", "wet": "wet", "net": "Net 1"},
        signatures=[
            {"role": "skipper", "name": "A.", "at": "", "strokes": STROKES, "refused": False}
        ],
    )


def test_the_page_shows_every_reading_with_its_times(as_officer, full):
    page = page_of(as_officer, full)
    assert "30 links of 3/8 = " in page
    assert "<s>11 ft</s>" in page
    assert "Struck at Nov 24, 2026, 8:10 a.m.: Tape was caught." in " ".join(
        page.replace("</strong>", "").split()
    ).replace("<strong>", "")
    assert "Said by the skipper" in page
    assert "second reading" in page
    assert "at the rail Nov 24, 2026, 7:30 a.m." in page
    assert "reached the site " in page
    assert "a.m.." not in page
    assert "not recorded" not in page
    assert 'd="M0 0 L1000 300"' in page
    assert "Held the tape" not in page  # it is empty
    for words in ("A. Skipper", "Net 1", "wet"):
        assert words in page
    # What is within and was read once is folded; what was struck or read twice never is.
    shown = as_officer.get(full.get_absolute_url()).context["findings"]
    assert [each.is_folded for each in shown] == [folded(each) for each in shown]
    assert len({each.is_folded for each in shown}) == 2
    assert "<s>" not in "".join(part.split("</details>")[0] for part in page.split("<details")[1:])


def test_a_sheet_from_before_says_that_times_were_not_recorded(as_officer, officer):
    page = page_of(as_officer, make_check(officer))
    assert "time at the rail not recorded" in page
    assert "at the rail Nov" not in page


def test_that_phone_and_site_parted_stays_on_the_page(as_officer, officer):
    sent = envelope(officer, typed=typed_rig(sweep="yes"), said=said((0, 14, 0)), hands_in=True)
    held = send(as_officer, sent).json()
    page = as_officer.get(held["address"]).content.decode()
    assert held["parted"].split(".")[0] in page
    assert "The phone went by version 1." in page


def test_a_correction_strikes_through_and_both_can_be_compared(as_officer, full, monkeypatch):
    url = reverse("checks:check_correct", args=[full.key])
    shown = as_officer.get(url).content.decode()
    assert "As it was turned in: 0 outside" in shown
    told = full.typed | START | {"rulebook_name": "no-sweep", "notes": "", "skipper": "B. Other"}
    told |= {"bosom": "13 ft", "reason": "Read the wrong mark."}
    assert as_officer.post(url, told).status_code == 302
    full = CheckSheet.objects.get(key=full.key)
    assert full.head["skipper"] == "B. Other"
    page = page_of(as_officer, full)
    assert "Corrected once since it was turned in." in page
    assert "Read the wrong mark." in page
    struck = full.readings.exclude(struck="").filter(name="bosom")
    assert {row.why for row in struck} == {"Tape was caught.", "Read the wrong mark."}
    # The time of the correction is no time at the rail, and what was said is not measured now.
    corrected = full.readings.get(name="bosom", text="13 ft")
    was = struck.get(why="Read the wrong mark.")
    assert (corrected.rail, corrected.how, corrected.tool) == ("", was.how, was.tool)
    address = reverse("checks:check_compare", args=[full.key])
    rows = as_officer.get(address).context["rows"]
    changed = {row.label: (row.before, row.after) for row in rows if row.changed}
    assert changed["Skipper"] == ("A. Skipper", "B. Other")
    assert changed["Vessel"] == ("Sanderling", "Dovekie")
    bosom = next(value for label, value in changed.items() if "osom" in label)
    assert "13 ft" in bosom[1]
    assert "13 ft" not in bosom[0]
    first = full.revisions.order_by("number").first().pk
    same = as_officer.get(address, {"before": first, "after": first}).context["changed"]
    assert same == []
    assert as_officer.get(address, {"before": "0"}).status_code == 404
    assert "Read the wrong mark." in words_on_paper(monkeypatch, full)


class TestHead:
    def test_is_changed_until_the_sheet_is_turned_in(self, as_officer, officer):
        sheet = make_check(officer)
        url = reverse("checks:check_head", args=[sheet.key])
        told = START | {"at_sea": "on", "harbor": "", "position": "42 14.05 N 70 08.8 W"}
        assert as_officer.post(url, told | {"position": ""}).status_code == 200
        page = as_officer.post(url, told | {"position": "42 14.05"}).content.decode()
        assert "Write it like 42 14.05 N 70 08.80 W." in page
        assert 'value="42 14.05"' in page
        as_officer.post(url, told | {"tape": "C. Tape"})
        sheet.refresh_from_db()
        assert (sheet.vessel_name, sheet.rulebook_name) == ("Dovekie", "chain-sweep")
        assert (sheet.at_sea, sheet.harbor, sheet.head) == (True, "", {"tape": "C. Tape"})
        assert sheet.typed == typed_rig()
        keeping.change(sheet, hands_in=True, notes="x")
        assert as_officer.get(url).status_code == 404

    def test_no_rules_are_chosen_beforehand(self, as_officer):
        page = as_officer.get(reverse("checks:check_new")).content.decode()
        assert '<option value="" selected>Choose the rules</option>' in page
        told = START | {"rulebook_name": "", "key": str(uuid.uuid4())}
        answer = as_officer.post(reverse("checks:check_new"), told).content.decode()
        assert "Choose the rules to check by." in answer
        assert not CheckSheet.objects.exists()

    def test_another_net_has_the_same_head_and_boarding(self, as_officer, full):
        url, key = reverse("checks:check_another_net", args=[full.key]), str(uuid.uuid4())
        for _ in range(2):
            as_officer.post(url, {"key": key})
        other = CheckSheet.objects.get(key=key)
        full.refresh_from_db()
        assert other.boarding == full.boarding != ""
        assert other.head == {"skipper": "A. Skipper", "wet": "wet"}
        assert (other.typed, other.signatures, other.readings.count()) == ({}, [], 0)
        for one, two in ((full, other), (other, full)):
            assert two.get_absolute_url() in page_of(as_officer, one)
        # A save of a phone that knows of no boarding leaves it.
        sheet = keeping.change(other, boarding="", notes="x")
        assert sheet.boarding == full.boarding


class TestSteps:
    def test_how_a_reading_was_found_and_a_second_one(self, as_officer, officer):
        sheet = make_check(officer, typed={})
        url = step_url(sheet, "center")
        told = {"center_off": "", "bosom": "16 ft", "bosom_how": "told", "bosom_tool": "skipper"}
        as_officer.post(url, told | {"center_off_why": "too dark"})
        sheet = CheckSheet.objects.get()
        row = sheet.readings.get()
        assert (row.text, row.how, row.tool) == ("16 ft", "told", "skipper")
        assert row.rail
        assert sheet.reasons == {"center_off": "too dark"}
        told = {"bosom": "16 ft", "bosom_how": "told", "bosom_tool": "skipper"}
        as_officer.post(url, told)
        assert CheckReading.objects.count() == 1  # nothing was changed
        as_officer.post(url, told | {"bosom_second": "16 ft 4 in"})
        as_officer.post(url, {"bosom": "17 ft"})
        sheet = CheckSheet.objects.get()
        found = [(each.text, bool(each.struck)) for each in sheet.log]
        assert found == [("16 ft", False), ("16 ft 4 in", True), ("17 ft", False)]
        bad = as_officer.post(url, {"bosom": "17 ft", "bosom_second": "9 furlongs"})
        assert "not a unit known here" in bad.content.decode()
        as_officer.post(url, {"bosom": ""})
        assert CheckSheet.objects.get().typed == {}
        assert CheckReading.objects.filter(struck="").count() == 0

    def test_turning_in_with_something_not_measured_asks_once(self, as_officer, officer):
        sheet = make_check(officer, typed=typed_rig(port_gap=""), reasons={"port_gap": "too dark"})
        url = reverse("checks:check_hand_in", args=[sheet.key])
        page = as_officer.post(url).content.decode()
        assert "One rule could not be checked to the end" in page
        assert "too dark" in page
        sheet.refresh_from_db()
        assert sheet.finished is None
        as_officer.post(url, {"anyway": "yes"})
        sheet.refresh_from_db()
        assert sheet.finished

    def test_the_walk_goes_by_all_rule_sets(self, officer):
        sheet = make_check(officer, rulebook_name="no-sweep", fishery_name="whiting")
        assert [book.name for book in sheet.books] == ["no-sweep", "whiting"]
        assert steps(sheet.books)


class TestCopy:
    def test_opens_by_its_code_without_an_account(self, client, full):
        full = CheckSheet.objects.get(key=full.key)
        asked = client.get(reverse("checks:copy"), {"code": full.code.lower()})
        response = client.get(asked.url)
        page = response.content.decode()
        assert "<s>11 ft</s>" in page
        assert "It was not corrected since it was turned in." in page
        assert "noindex" in response["X-Robots-Tag"]
        for way in ("check_correct", "check_compare", "check_hand_in"):
            assert reverse(f"checks:{way}", args=[full.key]) not in page
        pdf = client.get(reverse("checks:copy_pdf", args=[full.code]))
        assert pdf.content.startswith(b"%PDF-")

    def test_says_when_the_sheet_was_corrected(self, client, full):
        keeping.change(full, reason="Read the wrong mark.", notes="x")
        code = CheckSheet.objects.get(key=full.key).code
        page = client.get(reverse("checks:copy_code", args=[code])).content.decode()
        # Its limits have marks, so it says what a mark means.
        assert page.count("Limits marked * were written from memory.") == 1
        assert "Corrected once" in page
        assert "Read the wrong mark." in page
        assert "It was not corrected" not in page

    def test_is_only_of_sheets_that_were_turned_in(self, client, officer):
        sheet = make_check(officer, code="ABCDEFGHJKMN")
        assert sheet.code
        response = client.get(reverse("checks:copy_code", args=[sheet.code]))
        assert response.status_code == 404
        assert sheet.vessel_name not in response.content.decode()

    def test_guessing_is_held_off(self, client, full, monkeypatch):
        monkeypatch.setattr(copy_views, "MOST_TRIES", 3)
        wrong = reverse("checks:copy_code", args=["ZZZZZZZZZZZZ"])
        right = reverse("checks:copy_code", args=[CheckSheet.objects.get().code])
        assert [client.get(wrong).status_code for _ in range(4)] == [404, 404, 404, 429]
        assert client.get(right).status_code == 429
        assert client.get(right, REMOTE_ADDR="10.1.1.1").status_code == 200
        CopyTry.objects.update(at=timezone.now() - timedelta(minutes=61))
        assert client.get(right).status_code == 200
        assert not CopyTry.objects.exists()
        assert "127.0.0.1" not in str(list(CopyTry.objects.values()))


def test_the_tables_hold_every_reading_with_true_numbers_and_the_sites_time(as_staff, full):
    text = as_staff.get(reverse("checks:readings_csv")).getvalue().decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert len(rows) == full.readings.count()
    bosom = [row for row in rows if row["Question's name"] == "bosom"]
    assert [(row["As typed"], row["Counts"]) for row in bosom] == [
        ("11 ft", "no"),
        (full.typed["bosom"], "yes"),
    ]
    assert bosom[0]["Time at the rail"] == "2026-11-24 07:30"
    assert bosom[0]["Struck at"] == "2026-11-24 08:10"
    assert float(bosom[0]["Value (m, or a count; yes or no)"]) == pytest.approx(11 * 0.3048)
    book = load_workbook(io.BytesIO(as_staff.get(reverse("checks:readings_xlsx")).content))
    header, *cells = book.active.iter_rows(values_only=True)
    at = header.index("Value (m, or a count; yes or no)")
    assert any(isinstance(row[at], float) for row in cells)
    sheets = load_workbook(io.BytesIO(as_staff.get(reverse("checks:checks_xlsx")).content))
    header, row = sheets.active.iter_rows(values_only=True)
    assert row[header.index("Outside")] == full.outside
    assert row[header.index("Net")] == "Net 1"


def test_the_tables_are_for_staff(as_officer, client, full):
    for name in ("readings_csv", "readings_xlsx", "checks_xlsx"):
        assert as_officer.get(reverse(f"checks:{name}")).status_code == 403


def test_what_was_thrown_away_is_listed_for_its_officer_and_staff(as_officer, as_staff, officer):
    content = {"vessel_name": "Eider", "typed": {"bosom": "16 ft"}}
    keeping.throw_away(officer, uuid.uuid4(), "Wrong vessel.", "", content)
    for person in (as_officer, as_staff):
        assert (
            "1 sheet that was thrown away" in person.get(reverse("checks:checks")).content.decode()
        )
        page = person.get(reverse("checks:thrown_away")).content.decode()
        for words in ("Eider", "Wrong vessel.", "16 ft"):
            assert words in page


def test_of_an_officer_who_is_erased_the_findings_stay_and_the_name_goes(officer):
    signature = {"role": "officer", "name": officer.name, "at": "", "strokes": STROKES}
    signatures = [signature | {"refused": False}]
    head = {"tape": officer.name, "skipper": "A. Skipper"}
    sheet = make_check(officer, hands_in=True, head=head, signatures=signatures)
    name, typed = officer.name, sheet.typed
    keeping.throw_away(officer, uuid.uuid4(), "Wrong.", "", {"head": head})
    erase(officer)
    sheet = CheckSheet.objects.get()
    assert sheet.typed == typed
    assert sheet.readings.count() == len([n for n in typed if not n.endswith("_sure")])
    assert sheet.head == {"skipper": "A. Skipper"}
    everything = [sheet.head, sheet.signatures, *(save.content for save in sheet.revisions.all())]
    everything += [thrown.content for thrown in CheckThrown.objects.all()]
    assert len(everything) == 4
    assert name not in str(everything)
    assert str(STROKES) not in str(everything)
