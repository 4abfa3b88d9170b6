"""The check sheet's scripts read as the site does, tried without a browser where node is there."""

import json
import random
import shutil
import subprocess
from pathlib import Path

import pytest

from rigs.check import sheet
from rigs.check.steps import QUESTIONS

from .slips import reading

SCRIPTS = Path(__file__).parents[2] / "training" / "static" / "js"

# What people write, and bits of it in any order.
BITS = [
    *("1", "2", "8", "0", "12", "42", "200", "1,200", "2,8", ".5", "5.", "00", "9" * 20),
    *("/", " ", "-", ",", ";", "\n", "'", '"', "ft", "in", "fm", "mm", "cm", "m", "yd", "yards"),
    *("½", "⅜", "٨", "８", "²", "①", "”", "′", "，", "．", "−", "–", "\u00a0", "\x85", "\ufeff"),
    *("links", "link of", "LinKs", "of", "bars", "bar", "meshes", "yes", "No", "ſ", "constructor"),
]

RUN = """
import { readFileSync } from "node:fs";
import { readAll } from "./check_units.js";
const { rules, sheets } = JSON.parse(readFileSync(0, "utf8"));
console.log(JSON.stringify(sheets.map((typed) => readAll(typed, rules))));
"""


def scribbles(rng):
    """Return entries that nobody would write, and some that are said to be right."""
    typed = {}
    for name in rng.sample(list(QUESTIONS), 8):
        typed[name] = "".join(rng.choices(BITS, k=rng.randint(1, 7)))
        if rng.random() < 0.3:
            typed[QUESTIONS[name].sure] = typed[name]
    return typed


@pytest.mark.skipif(not shutil.which("node"), reason="node is not there; a browser compares too")
def test_a_script_reads_what_the_site_reads(tmp_path):
    for script in SCRIPTS.glob("*.js"):
        shutil.copy(script, tmp_path)
    (tmp_path / "package.json").write_text('{"type": "module"}')
    (tmp_path / "run.js").write_text(RUN)
    rng = random.Random(648)
    sheets = [scribbles(rng) for _ in range(4000)]
    told = subprocess.run(
        ["node", tmp_path / "run.js"],
        input=json.dumps({"rules": sheet.reading_rules(), "sheets": sheets}),
        capture_output=True,
        text=True,
        check=True,
    )
    for typed, script in zip(sheets, json.loads(told.stdout), strict=True):
        assert script == reading(typed), typed
