"""The check sheet's scripts say what the site says: tried by Node.js."""

import json
import random
import shutil
import subprocess
from datetime import date
from pathlib import Path

import pytest

from rigs.check import sheet, whole
from rigs.check.steps import QUESTIONS, judged_by, steps
from rigs.make import sample
from rigs.rules import rulebook
from tests.rigs.slips import (
    DAY,
    DAYS,
    beside,
    noted_slips,
    on_the_site,
    reading,
    slips,
    some_place,
    trip_on_the_site,
    trip_slips,
)

SCRIPTS = Path(__file__).parents[2] / "training" / "static" / "js"

# What people write, and bits of it in any order.
BITS = [
    *("1", "2", "8", "0", "12", "42", "200", "1,200", "2,8", ".5", "5.", "00", "9" * 20),
    *("/", " ", "-", ",", ";", "\n", "'", '"', "ft", "in", "fm", "mm", "cm", "m", "yd", "yards"),
    *("½", "⅜", "٨", "８", "²", "①", "”", "′", "，", "．", "−", "–", "\u00a0", "\x85", "\ufeff"),
    *("links", "link of", "LinKs", "of", "bars", "bar", "meshes", "yes", "No", "ſ", "constructor"),
]

READ = """
import { readAll } from "./check_units.js";
export const run = ({ rules, sheets }) => sheets.map((typed) => readAll(typed, rules));
"""

JUDGE = """
import { judge, tally } from "./check_judge.js";
import { readAll } from "./check_units.js";
export function run({ rules, book, day, sheets }) {
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
}
"""

BESIDE = """
import { judge, tally } from "./check_judge.js";
import { counted, howWords, noted, remark } from "./check_remarks.js";
import { workedOut } from "./check_units.js";
export function run({ rules, book, day, sheets }) {
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
}
"""

JUDGE_WHOLE = """
import { tally } from "./check_judge.js";
import { readAll } from "./check_units.js";
import { judgeWhole, stepsOf } from "./check_whole.js";
export function run({ rules, gear, fishery, sheets }) {
  const books = { gear, fishery };
  const judged = sheets.map(([typed, day, position]) => {
    const told = readAll(typed, rules);
    const findings = judgeWhole(told.measures, books, { day, position }, rules);
    return {
      ...told,
      findings: findings.map((f) =>
        [f.key, f.mark, f.mark_text, f.words, f.source, f.places, f.missing, f.is_warning ?? false],
      ),
      tally: tally(findings),
    };
  });
  return { judged, steps: stepsOf(books, rules) };
}
"""

MAIN = """
import { readFileSync } from "node:fs";
import { run } from "./task.js";
console.log(JSON.stringify(run(JSON.parse(readFileSync(0, "utf8")))));
"""


@pytest.fixture
def run(tmp_path):
    """A function that runs ``script`` beside the site's own, with ``given`` as its data."""
    assert shutil.which("node"), "These tests need Node.js: see the README."

    def ran(script, **given):
        for each in SCRIPTS.glob("*.js"):
            shutil.copy(each, tmp_path)
        (tmp_path / "package.json").write_text('{"type": "module"}')
        (tmp_path / "task.js").write_text(script)
        (tmp_path / "main.js").write_text(MAIN)
        told = subprocess.run(
            ["node", tmp_path / "main.js"],
            input=json.dumps(given),
            capture_output=True,
            text=True,
        )
        assert not told.returncode, told.stderr
        return json.loads(told.stdout)

    return ran


def scribbles(rng):
    """Return entries that nobody would write, and some that are said to be right."""
    typed = {}
    for name in rng.sample(list(QUESTIONS), 8):
        typed[name] = "".join(rng.choices(BITS, k=rng.randint(1, 7)))
        if rng.random() < 0.3:
            typed[QUESTIONS[name].sure] = typed[name]
    return typed


def test_a_script_reads_what_the_site_reads(run):
    rng = random.Random(648)
    sheets = [scribbles(rng) for _ in range(4000)]
    told = run(READ, rules=sheet.reading_rules(), sheets=sheets)
    for typed, script in zip(sheets, told, strict=True):
        assert script == reading(typed), typed


def what_the_phone_has(book):
    """Return what comes with the page to read and judge a sheet by ``book``."""
    rules, told = sheet.reading_rules(), sheet.for_the_phone(book)
    return {"rules": rules, "book": told, "day": DAY.isoformat()}


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_a_script_finds_what_the_site_finds(run, name):
    book = rulebook.load(name)
    rng = random.Random(name)
    sheets = [slips(rng, sample.legal_rig(rng, book, rng.randint(1, 3)), book) for _ in range(500)]
    told = run(JUDGE, **what_the_phone_has(book), sheets=sheets)
    for typed, script in zip(sheets, told, strict=True):
        assert script == on_the_site(typed, book), typed


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_a_script_says_behind_a_finding_what_the_site_says(run, name):
    book = rulebook.load(name)
    rng = random.Random(name)
    rigs = (sample.legal_rig(rng, book, rng.randint(1, 3)) for _ in range(25))
    sheets = [noted_slips(rng, rig, book) for rig in rigs]
    told = run(BESIDE, **what_the_phone_has(book), sheets=sheets)
    for each, script in zip(sheets, told, strict=True):
        assert script == beside(each, book), each
    said = " ".join(words for each in told for words in each["remarks"])
    for words in ("Said, not", "Why not", "different sides", "Answers to", "Measure both"):
        assert words in said


PAIRS = [(gear, book.name) for book in whole.every_fishery() for gear in sheet.goes_with(book)]


@pytest.mark.parametrize(("gear", "fishery"), PAIRS)
def test_a_script_finds_of_a_trip_what_the_site_finds(run, gear, fishery):
    books = whole.books_of(rulebook.load(gear), rulebook.load(fishery))
    rng = random.Random(f"{gear} {fishery}")
    days = [day for day in DAYS if all(b.holds_on(date.fromisoformat(day)) for b in books)]
    sheets = [(trip_slips(rng), rng.choice(days), some_place(rng, books)) for _ in range(200)]
    told = run(
        JUDGE_WHOLE,
        rules=sheet.reading_rules(),
        gear=sheet.for_the_phone(books[0]),
        fishery=sheet.for_the_phone(books[1]),
        sheets=sheets,
    )
    right = [trip_on_the_site(typed, books, day, position) for typed, day, position in sheets]
    for each, script, site in zip(sheets, told["judged"], right, strict=True):
        for one, other in zip(script["findings"], site["findings"], strict=True):
            assert one == other, each
        assert script == site, each
    assert [(s["slug"], s["questions"], s["judges"]) for s in told["steps"]] == [
        (step.slug, [q.name for q in step.questions], list(judged_by(step, books)))
        for step in steps(books)
    ]
    # The sheets are such that they could show a difference.
    seen = [finding for each in right for finding in each["findings"]]
    for key in {each.key for each in books[1].requirements if each.of_trip}:
        marks = {finding[1] for finding in seen if finding[0] == key}
        assert marks >= {"inside", "outside"}, key
    assert {f[2] for f in seen if f[0] == "area"} >= {"inside", "outside", "cannot tell"}
