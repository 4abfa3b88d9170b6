"""Saves of a check sheet: each once, the newest shown, all of them kept."""

import random
import uuid

import pytest

from rigs.rules import rulebook
from tests.checks.conftest import DAY, content, make_check, typed_rig
from tests.site import PASSWORD
from training.checks import keeping
from training.checks.keeping import keep
from training.checks.models import CheckReading, CheckRevision, CheckSheet
from training.demo import checks
from training.people.models import Role, User

pytestmark = pytest.mark.django_db

KEY = uuid.UUID(int=7)
A, B = "a" * 36, "b" * 36


def test_the_same_save_sent_again_is_one(officer):
    for _ in range(3):
        sheet = keep(officer, KEY, A, 1, content())
    assert CheckSheet.objects.count() == CheckRevision.objects.count() == 1
    assert (sheet.revision, sheet.device) == (1, A)
    assert sheet.passed is True
    assert (sheet.outside, sheet.not_measured) == (0, 0)


def test_in_whatever_order_saves_arrive_the_newest_is_shown(officer):
    saves = [(A, 1), (A, 2), (B, 2), (A, 4), (B, 3)]
    for seed in range(6):
        order = random.Random(seed).sample(saves, len(saves))
        key = uuid.uuid4()
        for device, number in order:
            sheet = keep(officer, key, device, number, content(notes=f"{device[0]}{number}"))
        assert (sheet.notes, sheet.revision) == ("a4", 4)
        assert sheet.revisions.count() == len(saves)
        assert [save.number for save in sheet.revisions.all() if save.is_shown] == [4]


def test_of_two_saves_of_one_number_the_order_is_settled(officer):
    for order in ((A, B), (B, A)):
        key = uuid.uuid4()
        for device in order:
            sheet = keep(officer, key, device, 2, content(notes=device[0]))
        assert sheet.notes == "b"
        assert {save.content["notes"] for save in sheet.revisions.all()} == {"a", "b"}


def test_once_handed_in_only_a_correction_with_its_reason_is_shown(officer):
    sheet = keep(officer, KEY, A, 1, content(), hands_in=True)
    done = sheet.finished
    assert done
    sheet = keep(officer, KEY, B, 2, content(notes="late"))
    assert (sheet.notes, sheet.revision, sheet.finished) == ("", 1, done)
    assert sheet.revisions.filter(content__notes="late").exists()
    sheet = keep(officer, KEY, A, 3, content(notes="right"), reason="wrong wing")
    assert (sheet.notes, sheet.finished) == ("right", done)


def test_what_cannot_be_read_is_kept_but_not_handed_in(officer):
    typed = typed_rig(bosom="16 furlongs")
    sheet = keep(officer, KEY, A, 1, content(typed=typed), hands_in=True)
    assert sheet.finished is None
    assert sheet.typed["bosom"] == "16 furlongs"
    assert "bosom" not in sheet.measures
    assert set(sheet.unread) == {"bosom"}
    assert sheet.passed is None
    assert keep(officer, KEY, A, 2, content(), hands_in=True).finished


def test_nobody_writes_on_anothers_sheet(officer, check):
    other = User.objects.create_user("o@example.com", PASSWORD, name="Other", role=Role.OFFICER)
    with pytest.raises(keeping.NotTheirs):
        keep(other, check.key, A, 9, content(notes="mine"))
    check.refresh_from_db()
    assert check.notes == ""
    assert check.revisions.count() == 1


def test_a_sheet_goes_by_the_rules_of_its_day(officer):
    sheet = make_check(officer)
    assert sheet.rulebook == rulebook.in_force("no-sweep", sheet.day)
    early = rulebook.load("no-sweep", "1").effective_from.replace(year=2001)
    with pytest.raises(rulebook.RulebookError):
        make_check(officer, day=early)
    assert CheckSheet.objects.count() == 1


def test_a_change_that_changes_nothing_is_no_save(check):
    again = keeping.change(check, typed=check.typed)
    assert again.revisions.count() == 1
    assert keeping.change(check, notes="wet").revisions.count() == 2


def test_a_fault_is_outside(officer):
    sheet = make_check(officer, typed=typed_rig(sweep="yes"))
    assert (sheet.passed, sheet.outside) == (False, 1)
    assert str(sheet.tally).startswith("1 outside")


def test_the_demo_has_sheets_with_all_that_a_sheet_can_have(officer):
    vessels = [("Sanderling", "Kettle Harbor"), ("Dovekie", "Gannet Cove")]
    checks.load([officer], vessels, DAY, random.Random(3), each=2)
    sheets = list(CheckSheet.objects.all())
    done = [sheet for sheet in sheets if sheet.finished]
    assert (len(sheets), len(done)) == (4, 3)
    for sheet in done:
        assert sheet.finished.date() == DAY
        assert sheet.passed is sheet.verdict.legal
        assert sheet.head["skipper"]
        assert sheet.code
        # What a correction says was read at no rail.
        assert sheet.readings.filter(rail="").count() == sheet.corrections.count()
        assert sheet.typed == sheet.revisions.last().content["typed"]
    rows = CheckReading.objects.all()
    assert rows.filter(how="told").exists()
    assert rows.exclude(struck="").exists()
    assert sum(bool(sheet.fishery_name) for sheet in done) == 1
    assert sum(sheet.siblings.count() for sheet in sheets) >= 2
    assert sum(sheet.corrections.count() for sheet in sheets) == 1
    # Made again it is the same.
    before = sorted(rows.values_list("entry", "name", "text"))
    CheckSheet.objects.all().delete()
    checks.load([officer], vessels, DAY, random.Random(3), each=2)
    made = {entry: rest for entry, *rest in before}
    again = {e: [n, t] for e, n, t in CheckReading.objects.values_list("entry", "name", "text")}
    assert len(made.keys() & again.keys()) >= len(made) - 1  # one is made by the site's form
