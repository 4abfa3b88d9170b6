"""Check sheets in plain pages, without any script."""

import csv
import io
import uuid

import pytest
from django.urls import reverse

from rigs.check import printed
from rigs.check.steps import steps
from rigs.drawing.paper import Document
from rigs.rules import rulebook
from tests.checks.conftest import make_check, typed_rig
from tests.checks.test_sending import with_place
from tests.site import PASSWORD
from training.checks.models import CheckPhoto, CheckSheet
from training.checks.prints import filled
from training.people.models import Role, User

pytestmark = pytest.mark.django_db

START = {
    "vessel_name": "Dovekie",
    "harbor": "Eastlight",
    "day": "2026-11-24",
    "rulebook_name": "chain-sweep",
    "position": "",
}


def step_url(sheet, slug):
    return reverse("checks:check_step", args=[sheet.key, slug])


def test_a_whole_sheet_page_by_page(as_officer):
    told = START | {"key": str(uuid.uuid4())}
    for _ in range(2):
        response = as_officer.post(reverse("checks:check_new"), told)
    sheet = CheckSheet.objects.get()
    typed = typed_rig("chain-sweep")
    walk = steps(rulebook.load("chain-sweep", "1"))
    for step in walk:
        assert response.url == step_url(sheet, step.slug)
        assert as_officer.get(response.url).status_code == 200
        entries = {question.name: typed.get(question.name, "") for question in step.questions}
        response = as_officer.post(response.url, entries)
    assert response.url == step_url(sheet, "notes")
    photo_key = str(uuid.uuid4())
    for _ in range(2):
        notes = {"notes": "Rope wet.", "photo_key": photo_key, "photo": with_place()}
        response = as_officer.post(step_url(sheet, "notes"), notes)
    assert response.url == sheet.get_absolute_url()
    assert CheckPhoto.objects.count() == 1
    as_officer.post(reverse("checks:check_hand_in", args=[sheet.key]))
    sheet.refresh_from_db()
    assert sheet.finished
    assert sheet.passed is True
    assert sheet.notes == "Rope wet."
    page = as_officer.get(sheet.get_absolute_url()).content.decode()
    assert f"0 outside, {sheet.within} inside, 0 not measured" in page
    assert "version 1" in page
    assert "Before you rely on this" in page
    assert f'src="{reverse("checks:check_photo", args=[photo_key])}"' in page


def test_what_cannot_be_read_is_told_beside_the_field_and_kept(as_officer, officer):
    sheet = make_check(officer, typed={})
    entries = {"port_last": "6 ft", "port_gap": "8 furlongs", "port_wing": "20"}
    response = as_officer.post(step_url(sheet, "port_wing"), entries)
    page = response.content.decode()
    assert "not a unit known here" in " ".join(response.context["form"].errors["port_gap"])
    assert 'value="8 furlongs"' in page
    assert 'aria-invalid="true"' in page
    sheet.refresh_from_db()
    assert sheet.typed == {}


def test_links_count_by_the_size_of_their_chain(as_officer, officer):
    sheet = make_check(officer, typed={})
    url = step_url(sheet, "droppers")
    bad = as_officer.post(url, {"dropper_length": "34 links"})
    assert "Enter the size of the chain first" in bad.content.decode()
    as_officer.post(url, {"dropper_length": "34 links", "dropper_chain": "3/8"})
    sheet.refresh_from_db()
    assert sheet.typed == {"dropper_length": "34 links", "dropper_chain": "3/8"}
    assert "dropper_length" in sheet.measures


def test_an_answer_taken_back_is_not_measured_again(as_officer, officer):
    sheet = make_check(officer)
    as_officer.post(step_url(sheet, "center"), {"center_off": "", "bosom": "", "off_bottom": ""})
    sheet.refresh_from_db()
    assert not {"center_off", "bosom", "off_bottom"} & sheet.typed.keys()
    assert sheet.passed is None


def test_a_sheet_handed_in_is_fixed_but_can_be_corrected(as_officer, officer):
    sheet = make_check(officer, hands_in=True)
    assert as_officer.get(step_url(sheet, "center")).status_code == 404
    url = reverse("checks:check_correct", args=[sheet.key])
    told = sheet.typed | START | {"rulebook_name": "no-sweep", "notes": "", "sweep": "yes"}
    assert "required" in as_officer.post(url, told).content.decode()
    as_officer.post(url, told | {"reason": "The sweep lay under the net."})
    sheet.refresh_from_db()
    assert (sheet.vessel_name, sheet.outside, sheet.passed) == ("Dovekie", 1, False)
    assert sheet.finished
    page = as_officer.get(sheet.get_absolute_url()).content.decode()
    assert "The sweep lay under the net." in page
    assert sheet.revisions.get(number=1).content["vessel_name"] == "Sanderling"


def test_handing_in_twice_is_once(as_officer, check):
    url = reverse("checks:check_hand_in", args=[check.key])
    as_officer.post(url)
    check.refresh_from_db()
    done = check.finished
    as_officer.post(url)
    check.refresh_from_db()
    assert (check.finished, check.revisions.count()) == (done, 2)


def test_the_findings_speak_of_measures_and_not_of_law(as_officer, officer):
    sheet = make_check(officer, typed=typed_rig(sweep="yes", port_gap=""))
    page = as_officer.get(sheet.get_absolute_url()).content.decode()
    assert "1 outside" in page
    assert "1 not measured" in page
    assert sheet.verdict.finding("no_sweep").clause in page
    for word in ("illegal", "violation", "guilty", "Breaks the rule"):
        assert word not in page


def test_a_custom_is_told_apart_and_never_counted(as_officer, officer):
    """Droppers of 42 in without a sweep: common practice, no source, no clause."""
    sheet = make_check(officer, typed=typed_rig(dropper_length="30"))
    assert sheet.passed is True
    assert sheet.outside == 0
    response = as_officer.get(sheet.get_absolute_url())
    page = response.content.decode()
    assert "0 outside" in page
    rules, customs = page.split("<h2>By custom</h2>")
    assert "Not as is the custom" in customs
    assert "Not as is the custom" not in rules
    assert "50 CFR" not in customs.split('<div class="toolbar">')[0]
    assert [each.finding.key for each in response.context["customs"]] == ["dropper_length"]


def test_limits_written_from_memory_are_marked_and_it_is_said_once(as_officer, officer):
    page = as_officer.get(make_check(officer).get_absolute_url()).content.decode()
    assert page.count("Limits marked * were written from memory.") == 1
    # Float size: 50 CFR 648.80(a)(9)(ii)(A), from memory.
    assert "50 CFR 648.80(a)(9)(ii)(A) *" in page
    grate = make_check(officer, rulebook_name="grate", typed=typed_rig("grate"))
    # What may not be on the net: 50 CFR 648.80(g)(1), read.
    page = as_officer.get(grate.get_absolute_url()).content.decode()
    assert "50 CFR 648.80(g)(1)</p>" in page


def test_a_row_too_short_to_count_is_told_and_does_not_hold_up_the_sheet(as_officer, officer):
    typed = typed_rig("grate", mesh=", ".join(["2 1/4"] * 12))
    sheet = make_check(officer, rulebook_name="grate", typed=typed, hands_in=True)
    assert sheet.finished
    assert sheet.outside == 0
    assert sheet.passed is None
    page = as_officer.get(sheet.get_absolute_url()).content.decode()
    assert "12 of 20 readings, average so far 2 1/4 in." in page


def test_what_may_not_be_on_the_net_is_asked_for(as_officer, officer):
    """50 CFR 648.80(g)(1) and (2), read in the 2015 edition."""
    sheet = make_check(officer, rulebook_name="grate", typed=typed_rig("grate"))
    as_officer.post(step_url(sheet, "codend"), sheet.typed | {"top_clear": "no", "mesh_clear": ""})
    sheet.refresh_from_db()
    found = {key: sheet.verdict.finding(key) for key in ("mesh_top_clear", "mesh_not_blocked")}
    assert found["mesh_top_clear"].sheet_mark == "outside"
    assert found["mesh_top_clear"].clause == "50 CFR 648.80(g)(1)"
    assert found["mesh_not_blocked"].sheet_mark == "not measured"
    assert found["mesh_not_blocked"].clause == "50 CFR 648.80(g)(2)"


def test_an_unlikely_answer_is_taken_page_by_page_when_it_is_right(as_officer, officer):
    sheet = make_check(officer, typed={})
    told = {"center_off": "0", "bosom": "900 ft", "off_bottom": "yes"}
    asked = as_officer.post(step_url(sheet, "center"), told)
    assert "longer than any bosom this site has seen" in asked.content.decode()
    assert 'name="bosom_sure" value="900 ft">' in asked.content.decode()
    as_officer.post(step_url(sheet, "center"), told | {"bosom_sure": "900 ft"})
    sheet.refresh_from_db()
    assert sheet.typed["bosom"] == sheet.typed["bosom_sure"] == "900 ft"
    assert not sheet.unread
    # Another answer is no longer the one that was right.
    as_officer.post(step_url(sheet, "center"), told | {"bosom": "30 ft", "bosom_sure": "900 ft"})
    sheet.refresh_from_db()
    assert sheet.typed["bosom"] == "30 ft"
    assert "bosom_sure" not in sheet.typed


def test_what_could_not_be_read_is_told_when_its_step_is_opened(as_officer, officer):
    sheet = make_check(officer, typed=typed_rig(port_gap="8 furlongs"))
    page = as_officer.get(step_url(sheet, "port_wing")).content.decode()
    assert "not a unit known here" in page


def words_on_paper(monkeypatch, sheet):
    """Return what the print of ``sheet`` says."""
    said = []

    class Recorder(Document):
        def text(self, x, y, words, *args, **options):
            said.append(words)
            super().text(x, y, words, *args, **options)

    monkeypatch.setattr(printed, "Document", Recorder)
    printed.filled(filled(sheet))
    return " ".join(said).replace("\u00a0", " ")


def test_the_print_marks_what_is_from_memory_and_tells_customs_apart(monkeypatch, officer):
    typed = typed_rig(dropper_length="30", sweep="yes")
    sheet = make_check(officer, typed=typed)
    said = words_on_paper(monkeypatch, sheet)
    assert said.count("Limits marked * were written from memory.") == 1
    assert f"1 outside, {len(sheet.verdict.passed)} inside, 0 not measured" in said
    assert "Outside the clause: 1 No sweep (outside)" in said
    assert "648.80(a)(9)(ii)(A) *" in said
    customs = said.split("By custom: no clause asks for it")[1]
    assert customs.startswith(" Dropper length (not as is the custom)")
    assert "CFR" not in customs.split("All readings")[0]


def test_the_print_tells_of_a_row_too_short_to_count(monkeypatch, officer):
    typed = typed_rig("grate", mesh="2 1/2, 2 1/4")
    said = words_on_paper(monkeypatch, make_check(officer, rulebook_name="grate", typed=typed))
    assert "2 of 20 readings" in said


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_prints(as_officer, officer, name):
    blank = as_officer.get(reverse("checks:check_blank", args=[name]))
    assert blank.content.startswith(b"%PDF-")
    sheet = make_check(officer, rulebook_name=name, typed=typed_rig(name), notes="Wet. " * 40)
    filled = as_officer.get(reverse("checks:check_pdf", args=[sheet.key])).content
    assert filled.startswith(b"%PDF-")
    assert 1 <= filled.count(b"/Type /Page\n") <= 4


def test_no_blank_sheet_for_what_is_no_gear(as_officer):
    for name in ("whiting", "nothing"):
        assert as_officer.get(reverse("checks:check_blank", args=[name])).status_code == 404


class TestWhoSees:
    PAGES = ("check", "check_pdf")
    OWN = ("check_correct", "check_held")

    def test_an_officer_his_own(self, client, check):
        other = User.objects.create_user("o@example.com", PASSWORD, name="O", role=Role.OFFICER)
        client.force_login(other)
        for name in self.PAGES + self.OWN:
            assert client.get(reverse(f"checks:{name}", args=[check.key])).status_code == 404
        assert client.get(step_url(check, "center")).status_code == 404
        hand_in = reverse("checks:check_hand_in", args=[check.key])
        assert client.post(hand_in).status_code == 404
        assert check.vessel_name not in client.get(reverse("checks:checks")).content.decode()

    def test_staff_all_but_write_on_none(self, as_staff, check):
        for name in self.PAGES:
            assert as_staff.get(reverse(f"checks:{name}", args=[check.key])).status_code == 200
        for name in self.OWN:
            assert as_staff.get(reverse(f"checks:{name}", args=[check.key])).status_code == 404
        assert check.vessel_name in as_staff.get(reverse("checks:checks")).content.decode()

    def test_a_trainee_none(self, as_user, client, check):
        for address in (
            reverse("checks:checks"),
            reverse("checks:check_phone"),
            reverse("checks:check_new"),
            check.get_absolute_url(),
            reverse("checks:checks_csv"),
        ):
            assert as_user.get(address).status_code == 403
            assert client.get(address).status_code == 302

    def test_the_table_is_for_staff(self, as_staff, as_officer, officer):
        make_check(officer, vessel_name="=1+1", hands_in=True)
        assert as_officer.get(reverse("checks:checks_csv")).status_code == 403
        text = as_staff.get(reverse("checks:checks_csv")).getvalue().decode("utf-8-sig")
        row = next(csv.DictReader(io.StringIO(text)))
        assert row["Vessel"] == "'=1+1"
        assert row["Officer"] == officer.name
        assert row["Outside"] == "0"
