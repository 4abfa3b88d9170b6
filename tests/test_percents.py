"""
Percents are printed by ``rigs.words.shares`` and nothing else.

What rounds otherwise would say 0 percent of a share that is not nought, or 100 of one that is
not all, or another figure than the next page.
"""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]

IN_CODE = (
    r":\.?\d*%\}",  # f"{share:.0%}"
    r"\{[^{}]*\* ?100\b[^{}]*:[^{}]*[fg]\}",  # f"{share * 100:.0f}"
    r"\{[^{}]*\b100 ?\*[^{}]*:[^{}]*[fg]\}",
    r"(round|int)\((100 ?\*[^()]*|[^()]*\* ?100\b[^()]*)\)",
)
IN_TEMPLATES = (
    r"widthratio [^%]*100 %\}",
    r"(floatformat|stringformat)[^{}]*\}\} ?(%|percent)",
)

# What is no share printed, each with the reason.
OTHER = {
    "rigs/words/shares.py": "it is the one",
    "training/certification/exam_views.py": "the initial value of a field",
    "training/calibration/holding.py": "times in 100, as whole numbers that are asserted",
    "training/exercises/hands": "shares of made-up people",
    "training/deck/spreadsheet.py": "a cell for programs, to a tenth",
    "rigs/drawing/ratios.py": "ticks of an axis",
}


def found(folders, pattern, forms):
    for folder in folders:
        for path in sorted((ROOT / folder).rglob(pattern)):
            name = path.relative_to(ROOT).as_posix()
            if "migrations" in path.parts or name.startswith(tuple(OTHER)):
                continue
            text = path.read_text()
            for form in forms:
                for match in re.finditer(form, text):
                    line = text.count("\n", 0, match.start()) + 1
                    yield f"{name}:{line}: {match[0]}"


def test_no_code_rounds_a_percent_by_itself():
    assert list(found(("rigs", "training"), "*.py", IN_CODE)) == []


def test_no_template_rounds_a_percent_by_itself():
    assert list(found(("templates", "training"), "*.html", IN_TEMPLATES)) == []


@pytest.mark.parametrize(
    "line",
    [
        'f"{share:.0%}"',
        'f"{share:%}"',
        'f"{share * 100:.0f}"',
        'f"{100 * share:.1f} percent"',
        "round(100 * self.share)",
        "round(share * 100)",
    ],
)
def test_such_lines_are_found(line):
    assert any(re.search(form, line) for form in IN_CODE)
