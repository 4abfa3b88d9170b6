"""Check sheets in plain pages, without any script."""

import csv
import io
import uuid

import pytest
from django.urls import reverse

from rigs import rulebook
from rigs.check.steps import steps
from rigs.models import CheckPhoto, CheckSheet
from tests.conftest import PASSWORD
from training.accounts.models import Role, User

from .conftest import make_check, typed_rig
from .test_sending import with_place

pytestmark = pytest.mark.django_db

START = {
    "vessel_name": "Dovekie",
    "harbour": "Eastlight",
    "day": "2026-11-24",
    "rulebook_name": "chain-sweep",
    "position": "",
}


def step_url(sheet, slug):
    return reverse("rigs:check_step", args=[sheet.key, slug])


def test_a_whole_sheet_page_by_page(as_officer):
    told = START | {"key": str(uuid.uuid4())}
    for _ in range(2):
        response = as_officer.post(reverse("rigs:check_new"), told)
    sheet = CheckSheet.objects.get()
    typed = typed_rig("chain-sweep")
    walk = steps(rulebook.load("chain-sweep"))
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
    as_officer.post(reverse("rigs:check_hand_in", args=[sheet.key]))
    sheet.refresh_from_db()
    assert sheet.finished
    assert sheet.passed is True
    assert sheet.notes == "Rope wet."
    page = as_officer.get(sheet.get_absolute_url()).content.decode()
    assert f"0 outside, {sheet.within} inside, 0 not measured" in page
    assert "version 1" in page
    assert "Before you rely on this" in page
    assert f'src="{reverse("rigs:check_photo", args=[photo_key])}"' in page


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
    as_officer.post(step_url(sheet, "centre"), {"centre_off": "", "bosom": "", "off_bottom": ""})
    sheet.refresh_from_db()
    assert not {"centre_off", "bosom", "off_bottom"} & sheet.typed.keys()
    assert sheet.passed is None


def test_a_sheet_handed_in_is_fixed_but_can_be_corrected(as_officer, officer):
    sheet = make_check(officer, hands_in=True)
    assert as_officer.get(step_url(sheet, "centre")).status_code == 404
    url = reverse("rigs:check_correct", args=[sheet.key])
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
    url = reverse("rigs:check_hand_in", args=[check.key])
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


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_prints(as_officer, officer, name):
    blank = as_officer.get(reverse("rigs:check_blank", args=[name]))
    assert blank.content.startswith(b"%PDF-")
    sheet = make_check(officer, rulebook_name=name, typed=typed_rig(name), notes="Wet. " * 40)
    filled = as_officer.get(reverse("rigs:check_pdf", args=[sheet.key])).content
    assert filled.startswith(b"%PDF-")
    assert filled.count(b"/Type /Page\n") == 1


def test_no_blank_sheet_for_what_is_no_gear(as_officer):
    for name in ("whiting", "nothing"):
        assert as_officer.get(reverse("rigs:check_blank", args=[name])).status_code == 404


class TestWhoSees:
    PAGES = ("check", "check_pdf")
    OWN = ("check_correct", "check_held")

    def test_an_officer_his_own(self, client, check):
        other = User.objects.create_user("o@example.com", PASSWORD, name="O", role=Role.OFFICER)
        client.force_login(other)
        for name in self.PAGES + self.OWN:
            assert client.get(reverse(f"rigs:{name}", args=[check.key])).status_code == 404
        assert client.get(step_url(check, "centre")).status_code == 404
        hand_in = reverse("rigs:check_hand_in", args=[check.key])
        assert client.post(hand_in).status_code == 404
        assert check.vessel_name not in client.get(reverse("rigs:checks")).content.decode()

    def test_staff_all_but_write_on_none(self, as_staff, check):
        for name in self.PAGES:
            assert as_staff.get(reverse(f"rigs:{name}", args=[check.key])).status_code == 200
        for name in self.OWN:
            assert as_staff.get(reverse(f"rigs:{name}", args=[check.key])).status_code == 404
        assert check.vessel_name in as_staff.get(reverse("rigs:checks")).content.decode()

    def test_a_trainee_none(self, as_user, client, check):
        for address in (
            reverse("rigs:checks"),
            reverse("rigs:check_phone"),
            reverse("rigs:check_new"),
            check.get_absolute_url(),
            reverse("fleet:checks_csv"),
        ):
            assert as_user.get(address).status_code == 403
            assert client.get(address).status_code == 302

    def test_the_table_is_for_staff(self, as_staff, as_officer, officer):
        make_check(officer, vessel_name="=1+1", hands_in=True)
        assert as_officer.get(reverse("fleet:checks_csv")).status_code == 403
        text = as_staff.get(reverse("fleet:checks_csv")).content.decode("utf-8-sig")
        row = next(csv.DictReader(io.StringIO(text)))
        assert row["Vessel"] == "'=1+1"
        assert row["Officer"] == officer.name
        assert row["Outside"] == "0"
