"""The verdict made on the phone is the one that the rule module gives, on sheets at random."""

import random
from dataclasses import replace
from datetime import date

import pytest
from django.templatetags.static import static

from rigs import faults, rulebook, sample
from rigs.check import sheet, written
from rigs.check.entry import read
from rigs.check.steps import COUNT, FLAG, QUESTIONS
from rigs.units import INCH, feet_inches, inches

pytestmark = pytest.mark.django_db(transaction=True)

DAY = date(2026, 11, 25)
SHEETS = 400  # of each rule set

# Ways in which the same lengths are written on deck, and some that cannot be read.
ODD = [
    "3'6",
    "3' 6\"",
    "3′ 6 1/2″",
    "42½ in",
    "½",
    "5/16",
    " 7 ft 11 15/16 in ",
    "8",
    "8.0 ft",
    ".5 fm",
    "12 fm 3 ft",
    "1.07 m",
    "106.68 cm",
    "50.4 mm",
    "31 links",
    "31 LINKS of 5/16",
    "1 link of 3/8 in",
    "33 links of 7/16",
    "100",
    "200 bars",
    "75 meshes",
    "3 in 2 ft",
    "6 furlongs",
    "-3 ft",
    "1/0 in",
    "about 8 ft",
    "99999 ft",
    "8 ft 6 in 3",
    "8 6",
    "0",
]


def slips(rng, rig, book):
    """Return the entries about a rig with faults, gaps and oddities in it."""
    for _ in range(rng.randrange(3)):
        try:
            rig = faults.spoil(rig, rng.choice(faults.spoilable(book, rig)), rng, book)
        except faults.CannotSpoil:
            continue
    typed = written.typed(rig)
    for name in rng.sample(list(QUESTIONS), rng.randrange(len(QUESTIONS))):
        question = QUESTIONS[name]
        if rng.random() < 0.4:
            typed.pop(name, None)
        elif question.sort == FLAG:
            typed[name] = rng.choice(["yes", "no"])
        elif question.sort == COUNT:
            typed[name] = rng.choice(["49", "50", "99", "100", "199 bars", "200 bars", *ODD])
        elif rng.random() < 0.3:
            typed[name] = rng.choice(ODD)
        elif rng.random() < 0.5:
            # Near what was written, to either side of a limit by as little as a tape shows.
            near = read(typed)[0].get(name, 8 * INCH) + rng.choice([-1, 0, 1, 2]) * INCH / 16
            typed[name] = rng.choice([feet_inches, inches])(max(near, 0))
        else:
            typed[name] = f"{rng.uniform(0, 90):.3f} {rng.choice(['in', 'ft', 'fm', 'cm', 'mm'])}"
    return typed


def on_the_site(typed, book):
    measures, unread = read(typed)
    verdict = sheet.judged(measures, book, DAY)
    findings = [
        [f.key, sheet.MARKS[f.outcome], f.margin, list(f.places), sheet.words(f), f.clause]
        for f in verdict.findings
    ]
    return {
        "measures": measures,
        "unread": sorted(unread),
        "findings": findings,
        "tally": str(sheet.tally(verdict)),
    }


ON_THE_PHONE = """async ([judging, reading, book, day, rules, sheets]) => {
  const { judge, tally } = await import(judging);
  const { readAll } = await import(reading);
  return sheets.map((typed) => {
    const { measures, unread } = readAll(typed, rules);
    const findings = judge(measures, book, day, rules);
    return {
      measures,
      unread: Object.keys(unread).sort(),
      findings: findings.map((f) => [f.key, f.mark, f.margin, f.places, f.words, f.clause]),
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
    first = rulebook.load("no-sweep")
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
        assert marks == {"outside", "within", "not measured"}, key
    assert any(each["unread"] for each in right)
