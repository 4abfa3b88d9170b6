"""The verdict made on the phone is the one that the rule module gives, on sheets at random."""

import random
from dataclasses import replace
from datetime import date

import pytest
from django.templatetags.static import static

from rigs.check import sheet, whole
from rigs.make import sample
from rigs.rules import rulebook
from tests.rigs.slips import (
    DAY,
    DAYS,
    beside,
    noted_slips,
    on_the_site,
    slips,
    some_place,
    trip_on_the_site,
    trip_slips,
)

pytestmark = pytest.mark.django_db(transaction=True)

SHEETS = 400  # of each rule set

ON_THE_PHONE = """async ([judging, reading, book, day, rules, sheets]) => {
  const { judge, tally } = await import(judging);
  const { readAll } = await import(reading);
  return sheets.map((typed) => {
    const told = readAll(typed, rules);
    const findings = judge(told.measures, book, day, rules);
    return {
      ...told,
      findings: findings.map(
        (f) => [f.key, f.mark, f.margin, f.words, f.source, f.places, f.missing],
      ),
      tally: tally(findings),
    };
  });
}"""


BESIDE = """async ([judging, reading, remarks, book, day, rules, sheets]) => {
  const { judge, tally } = await import(judging);
  const { workedOut } = await import(reading);
  const { counted, howWords, noted, remark } = await import(remarks);
  const judged = (measures) => judge(measures, book, day, rules);
  return sheets.map((sheet) => {
    const beside = noted(sheet, judged, rules);
    const findings = judged(beside.measures);
    return {
      remarks: findings.map((each) => remark(each, beside, rules)),
      workedOut: sheet.readings.map((each) => workedOut(each, sheet.typed, rules)),
      how: sheet.readings.map((each) => howWords(each, rules)),
      atOdds: beside.atOdds,
      counted: counted(sheet.readings),
      tally: tally(findings, beside.told),
    };
  });
}"""


WHOLE_ON_THE_PHONE = """async ([judging, counting, reading, gear, fishery, rules, sheets]) => {
  const { judgeWhole } = await import(judging);
  const { tally } = await import(counting);
  const { readAll } = await import(reading);
  return sheets.map(([typed, day, position]) => {
    const told = readAll(typed, rules);
    const findings = judgeWhole(told.measures, { gear, fishery }, { day, position }, rules);
    return {
      ...told,
      findings: findings.map((f) =>
        [f.key, f.mark, f.mark_text, f.words, f.source, f.places, f.missing, f.is_warning ?? false],
      ),
      tally: tally(findings),
    };
  });
}"""


IN_FORCE = """async ([judging, books, days]) => {
  const { inForce } = await import(judging);
  return days.map((day) => inForce(books, "no-sweep", day)?.version ?? null);
}"""


def test_the_phone_goes_by_the_version_of_the_day(desk):
    # Two versions of a rule set: the second supersedes the first from its first day.
    first = rulebook.load("no-sweep", "1")
    books = [
        replace(first, version="1", effective_to=date(2026, 6, 30)),
        replace(first, version="2", effective_from=date(2026, 6, 1)),
    ]
    days = ["2019-12-31", "2020-01-01", "2026-05-31", "2026-06-01", "2026-07-01"]
    desk.goto("/")
    told = desk.evaluate(
        IN_FORCE,
        [static("js/check_judge.js"), [sheet.for_the_phone(book) for book in books], days],
    )
    assert told == [None, "1", "1", "2", "2"]


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_the_phone_says_what_the_site_says(desk, name):
    book = rulebook.load(name)
    rng = random.Random(name)
    sheets = [
        slips(rng, sample.legal_rig(rng, book, rng.randint(1, 3)), book) for _ in range(SHEETS)
    ]
    desk.goto("/")
    told = desk.evaluate(
        ON_THE_PHONE,
        [
            static("js/check_judge.js"),
            static("js/check_units.js"),
            sheet.for_the_phone(book),
            DAY.isoformat(),
            sheet.reading_rules(),
            sheets,
        ],
    )
    right = [on_the_site(typed, book) for typed in sheets]
    for typed, phone, site in zip(sheets, told, right, strict=True):
        assert phone == site, typed
    # The sheets are such that they could show a difference.
    for key in {finding[0] for each in right for finding in each["findings"]}:
        marks = {f[1] for each in right for f in each["findings"] if f[0] == key}
        assert marks == {"outside", "inside", "not measured"}, key
    assert any(each["unread"] for each in right)


def test_the_phone_says_behind_a_finding_what_the_site_says(desk):
    book = rulebook.load("chain-sweep")
    rng = random.Random(12)
    sheets = [noted_slips(rng, sample.legal_rig(rng, book), book) for _ in range(15)]
    desk.goto("/")
    scripts = (static(f"js/check_{name}.js") for name in ("judge", "units", "remarks"))
    rules = sheet.reading_rules()
    told = desk.evaluate(
        BESIDE, [*scripts, sheet.for_the_phone(book), DAY.isoformat(), rules, sheets]
    )
    for each, phone in zip(sheets, told, strict=True):
        assert phone == beside(each, book), each


@pytest.mark.parametrize(("gear", "fishery"), [("chain-sweep", "whiting"), ("grate", "grate")])
def test_the_phone_says_of_a_trip_what_the_site_says(desk, gear, fishery):
    books = whole.books_of(rulebook.load(gear), rulebook.load(fishery))
    rng = random.Random(f"{fishery} in a browser")
    sheets = [(trip_slips(rng), rng.choice(DAYS), some_place(rng, books)) for _ in range(100)]
    desk.goto("/")
    told = desk.evaluate(
        WHOLE_ON_THE_PHONE,
        [
            *(static(f"js/check_{name}.js") for name in ("whole", "judge", "units")),
            *(sheet.for_the_phone(book) for book in books),
            sheet.reading_rules(),
            sheets,
        ],
    )
    for each, phone in zip(sheets, told, strict=True):
        typed, day, position = each
        assert phone == trip_on_the_site(typed, books, day, position), each
