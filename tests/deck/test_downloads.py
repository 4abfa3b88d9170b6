"""What stands in the tables that staff download: numbers, days and text as such."""

import csv
import io
import re
from datetime import UTC, date, datetime

import pytest
from django.urls import URLPattern, get_resolver, reverse
from django.utils import timezone
from openpyxl import load_workbook

from tests.calibration.round_factory import judge_all, make_round
from tests.certification.certificate_factory import make_exam
from tests.checks.conftest import entry, make_check
from tests.desk.test_sums import practice_on
from tests.evidence.tows_factory import make_pair
from tests.register.events_factory import happen, make_vessel
from tests.register.test_deriving import hand_in_sheet
from training.certification import certificates
from training.deck.downloads import table
from training.deck.spreadsheet import PercentCell
from training.desk.after_passing import WORDS
from training.people.models import Group, Membership, User
from training.people.sharing import Level, What, choose
from training.recall.models import AskedAgain
from training.register.models import Crew
from training.register.stages import Stage

pytestmark = pytest.mark.django_db

EVIL = "=HYPERLINK(1)"
NUMBER = re.compile(r"[-+]?\d+(\.\d+)?%?")
DAY = re.compile(r"\d{4}-\d\d-\d\d.*")
# Numbers by look alone: nobody adds them up.
TEXTS = {"version", "Its version", "registration number"}


def names():
    """Yield the name of each address of a table as XLSX, and what it takes."""

    def walk(patterns, space=""):
        for each in patterns:
            if isinstance(each, URLPattern):
                if each.name and each.name.endswith("_xlsx"):
                    yield f"{space}{each.name}", set(each.pattern.converters)
            else:
                inner = f"{space}{each.namespace}:" if each.namespace else space
                yield from walk(each.url_patterns, inner)

    return dict(walk(get_resolver().url_patterns))


@pytest.fixture
def addresses(user, officer):
    """A fleet of one of each sort, with names that a spreadsheet would run."""
    User.objects.filter(pk=user.pk).update(name=EVIL)
    group = Group.objects.create(name=EVIL, harbor="Kettle Harbor")
    Membership.objects.create(group=group, user=user)
    practice_on(user)
    certificates.issue(make_exam(user, handed_in=timezone.now()))
    vessel = make_vessel(EVIL, registration="0041", owner="@owner", captain="-3")
    Crew.objects.create(vessel=vessel, user=user)
    happen(vessel, Stage.TOLD, "2020-03-01")
    happen(make_vessel("-Teal"), Stage.TOLD, "2020-03-01")
    hand_in_sheet(officer, EVIL)
    said = [entry("dropper_length", "42 in")]
    make_check(officer, True, typed={"dropper_length": "42 in"}, readings=said)
    choose(user, What.CATCHES, Level.STAFF)
    make_pair(user, hake=(400.0, 410.0))
    asked = {"rulebook_name": "no-sweep", "key": "dropper_spacing", "days": 40, "right": True}
    AskedAgain.objects.create(user=user, asked=timezone.now(), **asked)
    round_ = make_round([officer], count=8)
    judge_all(round_.turns.get(), lambda rig: ("passes", []))
    taken = {
        "calibration:judgements_xlsx": [{"pk": round_.pk}],
        "calibration:summary_xlsx": [{"pk": round_.pk}],
        "desk:attempts_xlsx": [{"pk": user.pk}],
        "desk:calls_for_xlsx": [{"reason": "only-told"}],
        "register:uptake_xlsx": [
            {"key": f"uptake-{each}"} for each in ("stock", "flow", "by-harbor", "by-size")
        ],
        "register:waiting_xlsx": [{"key": "conversion"}, {"key": "compared"}],
    }
    # Nobody of the crew had passed before the sheet was turned in.
    asked_for = {"desk:remembered_sheets_xlsx": f"?after={len(WORDS) - 1}"}
    return {
        name: [
            reverse(name, kwargs=each) + asked_for.get(name, "") for each in taken.get(name, [{}])
        ]
        for name in names()
        # Too few pairs and exams: there is nothing in these two tables. What was refused of a
        # register goes out as it was typed, numbers as texts.
        if name
        not in {
            "evidence:evidence_xlsx",
            "certificates:measure_xlsx",
            "register:import_mend_xlsx",
        }
    }


def test_each_is_offered_in_both_ways():
    assert len(names()) >= 10
    for name in names():
        assert reverse_exists(name.removesuffix("xlsx") + "csv", names()[name])


def reverse_exists(name, takes):
    samples = {"pk": 1, "key": "00000000-0000-4000-8000-000000000000", "slug": "x", "reason": "x"}
    return bool(reverse(name, kwargs={each: samples[each] for each in takes}))


def rows_of(client, address):
    book = load_workbook(io.BytesIO(client.get(address).getvalue()))
    return list(book.active.iter_rows())


def test_every_table_holds_numbers_and_days_as_such(as_staff, addresses):
    for address in (each for some in addresses.values() for each in some):
        header, *rows = rows_of(as_staff, address)
        assert rows, address
        for row in rows:
            for heading, cell in zip(header, row, strict=True):
                where = f"{address}, {heading.value}: {cell.value!r}"
                assert cell.data_type != "f", where
                if isinstance(cell.value, str) and heading.value not in TEXTS:
                    assert not NUMBER.fullmatch(cell.value), where
                    assert not DAY.fullmatch(cell.value), where
                if isinstance(cell.value, (date, datetime)):
                    assert "yyyy-mm-dd" in cell.number_format, where


def test_both_ways_tell_the_same(as_staff, addresses):
    for address in (each for some in addresses.values() for each in some):
        text = as_staff.get(address.replace(".xlsx", ".csv")).getvalue().decode("utf-8-sig")
        lines = list(csv.reader(io.StringIO(text)))
        book = rows_of(as_staff, address)
        assert [len(line) for line in lines] == [len(row) for row in book]
        for line, row in zip(lines, book, strict=True):
            for told, cell in zip(line, row, strict=True):
                if isinstance(cell.value, str):
                    assert told == cell.value
                elif isinstance(cell.value, datetime) and cell.number_format.endswith("hh:mm"):
                    assert told == f"{cell.value:%Y-%m-%d %H:%M}"


@pytest.fixture
def cells(settings):
    settings.TIME_ZONE = "America/New_York"
    # 3:30 at night in universal time is the evening before, in the site's.
    moment = datetime(2026, 7, 1, 3, 30, 40, tzinfo=UTC)
    row = (moment, date(2026, 7, 1), PercentCell(0.4235), True, None, 0.5, "0041", "+1 555", "7")
    return ["a"] * len(row), [row]


def test_as_xlsx(cells):
    book = load_workbook(io.BytesIO(table("xlsx", "x", *cells).getvalue()))
    moment, day, share, flag, nothing, half, permit, phone, seven = list(book.active)[1]
    assert moment.value == datetime(2026, 6, 30, 23, 30)
    assert day.value.date() == date(2026, 7, 1)
    assert (share.value, share.number_format) == (0.4235, "0.0%")
    assert [each.value for each in (flag, nothing, half)] == ["yes", None, 0.5]
    assert [each.value for each in (permit, phone, seven)] == ["0041", "'+1 555", "7"]


def test_as_csv(cells):
    text = table("csv", "x", *cells).getvalue().decode("utf-8-sig")
    assert text.splitlines()[1] == "2026-06-30 23:30,2026-07-01,42.4%,yes,,0.5,0041,'+1 555,7"
