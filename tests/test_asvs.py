"""What is said of the site's safety names files that there are, and leaves out no chapter."""

import re
from pathlib import Path

HERE = Path(__file__).resolve().parents[1]
TEXT = (HERE / "tests" / "asvs.md").read_text()
CHAPTERS = 14  # of OWASP ASVS 4.0.3, from memory


def test_every_chapter_says_what_is_met_and_what_is_left():
    chapters = re.split(r"^## V(\d+) ", TEXT, flags=re.MULTILINE)[1:]
    assert [int(number) for number in chapters[::2]] == list(range(1, CHAPTERS + 1))
    for text in chapters[1::2]:
        assert "\nMet. " in text
        assert "\nLeft. " in text


def test_every_file_it_names_is_there():
    named = re.findall(r"`((?:training|tests|\.)[\w./-]*/[\w.-]+|\.importlinter)`", TEXT)
    assert len(named) > 20
    assert [path for path in named if not (HERE / path).exists()] == []
