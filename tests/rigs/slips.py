"""Sheets at random, slips and all, to compare what the site and a phone make of them."""

from datetime import date

from rigs.check import log, remarks, sheet, whole, written
from rigs.check.entry import read
from rigs.check.steps import QUESTIONS
from rigs.make import faults
from rigs.requirements import questions
from rigs.requirements.questions import (
    COUNT,
    FLAG,
    MEASURED,
    ROW,
    TELLERS,
    TOLD,
    TRIP,
    WHY_NOT,
)
from rigs.rules.outcomes import SHEET_MARKS
from rigs.words.trip import Position
from rigs.words.units import INCH, feet_inches, inches

DAY = date(2026, 11, 25)

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
    "33 links of 8 mm",
    "33 links of 9 mm",
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
    "8-1",
    "8-10 1/2",
    "2-1/2",
    "8-12",
    "1,200",
    "1,070 m",
    "2,8",
    "0,500 m",
    "８．５ ft",
    "٣ ft ٦ in",
    "8²",
    "8' - 1\"",
    "900 ft",
    "constructor",
    "7 ft 6 in, 8 ft, 2 ft 3 in",
    "42 3/8, 42, 41 1/2 in",
    "3 ft, 6 in",
    "8', 6",
    "8 ft; 6 in",
    "30, 31 links",
    "8, 7, furlongs",
    "3/8, 5/16",
    "7,8",
    ",",
]


NAMES_KEPT = [
    *("silver hake", "Whiting", "ling", "red hake", "butterfish", "squids", "scup", "porgies"),
    *("Atlantic  mackerel", "hake", "herring", "alewives", "cod", "monkfish", "spiny-dogfish"),
    *("golden trout", "lobsters", "none", "nothing", "fish and chips", ","),
]
WEIGHTS = [
    *("0", "400", "2,999 lb", "3000", "3,001", "3,500", "3500.4 lb", "3,501", "1588 kg", "1589 kg"),
    *("7,500", "7500.2", "3402 kg", "3,403 kg", "7,600 lb", "30,000", "13,608 kg", "30,001 lb"),
    *("900,000", "12 st", "8 oz", "3 kg 200 g", "½ lb"),
]
MESHES = ["2 1/2 in", "6.35 cm", "2 7/16", "3 in", "2 15/16 in", "3 1/2", "76.2 mm", "1/4 in", "oh"]
DAYS = ["2026-11-20", "2026-11-21", "2026-08-31", "2026-09-01", "2026-12-31", "2027-01-01"]
DAYS += ["2026-06-30", "2026-07-01", "2026-07-14", "2026-07-15", "2026-11-15", "2026-11-16"]
DAYS += ["2026-11-30", "2026-12-01", "2027-01-15", "2028-02-29"]
PLACES_TOLD = ["", " ", "42 14.05", "N42 14.05 N", "7030 4210", "42 77 N 70 10 W", "at sea"]
ASKED = ["9/1/2026", "11/20/2026", "2/29/2026", "6-30-26", "2026-07-14", "13/1/2026", "yesterday"]


def some_place(rng, books):
    """Return a position as typed: round about the corners and lines of an area, or anywhere."""
    waters = [r for b in books for r in b.requirements if r.measure.dimension == "area"]
    corners = rng.choice([area for each in waters for area in each.limit]).corners
    at = rng.randrange(len(corners))
    (__, north, east), (__, north2, east2) = corners[at], corners[(at + 1) % len(corners)]
    share, off = rng.choice([0.0, rng.random(), rng.random()]), rng.choice([0, 0.0005, 0.002, 0.1])
    where = Position(
        north + (north2 - north) * share + rng.uniform(-off, off),
        east + (east2 - east) * share + rng.uniform(-off, off),
    )
    return rng.choice(
        [
            str(where),
            f"{where.latitude:.6f}, {where.longitude:.6f}",
            f"{int(where.latitude)} {where.latitude % 1 * 60:.4f} N "
            f"{int(-where.longitude)} {-where.longitude % 1 * 60:.4f} W",
            *(rng.choice(PLACES_TOLD) for __ in range(rng.randrange(2))),
        ]
    )


def trip_slip(rng, question):
    """Return an entry about a trip or its netting, round about a limit or odd."""
    match question.sort:
        case questions.FLAG:
            return rng.choice(["yes", "no"])
        case questions.DAY:
            return rng.choice(ASKED + DAYS)
        case questions.NAMES:
            return rng.choice([", ", "; ", "\n", " and ", " & "]).join(
                rng.sample(NAMES_KEPT, rng.choice([1, 1, 2, 3]))
            )
        case questions.MASS:
            return rng.choice(WEIGHTS)
        case questions.COUNT:
            return rng.choice(["49", "100 bars", "100"])
    return rng.choice(MESHES)


def trip_slips(rng):
    """Return entries about a trip, round about its limits, with gaps and oddities in it."""
    typed = {}
    for name, question in QUESTIONS.items():
        if question.stop != TRIP and name not in ("mesh", "mesh_count", "vessel_length"):
            continue
        if rng.random() < 0.25:
            continue
        typed[name] = typed[question.sure] = trip_slip(rng, question)
    return typed


def trip_on_the_site(typed, books, day, position):
    """Return what the site makes of a trip on a sheet: what is read, found and said."""
    told = read(typed)
    found = whole.judged(told.measures, books, date.fromisoformat(day), position)
    return {
        **reading(typed),
        "findings": [
            [
                *(f.key, SHEET_MARKS[f.outcome], f.sheet_mark, f.sheet_sentence, f.source),
                *(list(f.places), list(f.missing_places), f in found.warnings),
            ]
            for f in found.findings
        ],
        "tally": str(found.tally()),
    }


def near(rng, question, lengths):
    """Return an entry near ``lengths``, to either side of a limit by as little as a tape shows."""
    lengths = lengths if isinstance(lengths, tuple) else (lengths,)
    if question.several and rng.random() < 0.6:
        lengths = [*lengths, *rng.choices(lengths, k=rng.randint(1, 3))]
    off = [max(each + rng.choice([-1, 0, 1, 2]) * INCH / 16, 0) for each in lengths]
    between = rng.choice([", ", "; ", "\n"]) if question.several else ", "
    return between.join(rng.choice([feet_inches, inches])(each) for each in off)


def slips(rng, rig, book):
    """Return the entries about a rig with faults, gaps and oddities in it."""
    for _ in range(rng.randrange(3)):
        try:
            rig = faults.spoil(rig, rng.choice(faults.spoilable(book, rig)), faults.Draw(rng, book))
        except faults.CannotMake:
            continue
    typed = written.typed(rig)
    for name in rng.sample(list(QUESTIONS), rng.randrange(len(QUESTIONS))):
        question = QUESTIONS[name]
        text = slip(rng, question, typed)
        if text is None:
            typed.pop(name, None)
        else:
            typed[name] = text
            if rng.random() < 0.5:
                typed[question.sure] = text
    return typed


def slip(rng, question, typed):
    """Return an entry in answer to ``question``, near what was ``typed`` or odd; None if none."""
    if rng.random() < 0.4:
        return None
    if question.stop == TRIP:
        return trip_slip(rng, question)
    if question.sort == FLAG:
        return rng.choice(["yes", "no"])
    if question.sort == COUNT:
        return rng.choice(["49", "50", "99", "100", "199 bars", "200 bars", *ODD])
    if question.sort == ROW and rng.random() < 0.6:
        sizes = [rng.randrange(28, 48) for _ in range(rng.choice([1, 2, 19, 20, 20, 20, 21]))]
        return rng.choice([", ", "; ", "\n"]).join(inches(size * INCH / 16) for size in sizes)
    if rng.random() < 0.3:
        return rng.choice(ODD)
    if rng.random() < 0.5:
        return near(rng, question, read(typed)[0].get(question.name, 8 * INCH))
    return f"{rng.uniform(0, 90):.3f} {rng.choice(['in', 'ft', 'fm', 'cm', 'mm'])}"


def readings(rng, typed):
    """Return a log that comes to the entries ``typed``, with what was struck and read twice."""
    found = []

    def add(name, text, struck=""):
        question = QUESTIONS[name]
        how = rng.choice(["", MEASURED, MEASURED, TOLD])
        tool = rng.choice(["", "laser", *question.tools, *TELLERS])
        entry = log.Logged(f"{len(found):x}", name, text, how, tool, "", struck, "")
        found.append(entry)

    for name in QUESTIONS:
        if rng.random() < 0.2:
            add(name, rng.choice(ODD), struck="2026-11-25T08:00:00-05:00")
        if name not in typed:
            continue
        if rng.random() < 0.15:
            other = slip(rng, QUESTIONS[name], typed)
            add(name, other or "")
        add(name, typed[name])
    return found


def reasons(rng):
    """Return why this and that was not measured."""
    words = [*WHY_NOT.values(), "fish on it", " "]
    few = rng.sample(words, 2)
    return {name: str(rng.choice(few)) for name in QUESTIONS if rng.random() < 0.7}


def reading(typed):
    """Return what the site reads off the entries ``typed``, as a phone's script puts it."""
    told = read(typed)
    return {
        "measures": {
            name: list(value) if isinstance(value, tuple) else value
            for name, value in told.measures.items()
        },
        "unread": told.unread,
        "soFar": told.so_far,
        "unlikely": list(told.unlikely),
    }


def beside(sheet_of, book):
    """Return what the site says behind the findings of a sheet, and of each reading of it."""
    typed, entries = sheet_of["typed"], [log.Logged(**each) for each in sheet_of["readings"]]

    def judge(answers):
        return sheet.judged(answers, book, DAY).findings

    noted = remarks.noted(typed, entries, sheet_of["reasons"], judge)
    verdict = sheet.judged(noted.read.measures, book, DAY)
    return {
        "remarks": [remarks.remark(each, noted) for each in verdict.findings],
        "workedOut": [log.worked_out(each, typed) for each in entries],
        "how": [log.how_words(each) for each in entries],
        "atOdds": noted.read.at_odds,
        "counted": log.counted(entries),
        "tally": str(sheet.tally(verdict, noted.told)),
    }


def noted_slips(rng, rig, book):
    """Return a sheet as a phone keeps it: entries with slips, their log, and reasons."""
    typed = slips(rng, rig, book)
    if rng.random() < 0.5:  # few answers, so that what was not measured has its say
        typed = {name: text for name, text in typed.items() if rng.random() < 0.6}
    return {
        "typed": typed,
        "readings": [each._asdict() for each in readings(rng, typed)],
        "reasons": reasons(rng),
    }


def on_the_site(typed, book):
    """Return what the site makes of a sheet: what is read, found and said."""
    told = read(typed)
    verdict = sheet.judged(told.measures, book, DAY)
    findings = [
        [
            *(f.key, SHEET_MARKS[f.outcome], f.margin, f.sheet_sentence, f.source),
            *(list(f.places), list(f.missing_places)),
        ]
        for f in verdict.findings
    ]
    return {
        **reading(typed),
        "findings": findings,
        "tally": str(sheet.tally(verdict)),
    }
