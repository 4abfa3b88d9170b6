"""What people read is in the site's own words, wherever it is written."""

import re
from pathlib import Path

import pytest

from tests import words

ROOT = Path(__file__).parent.parent
FILES = [
    str(path.relative_to(ROOT))
    for path in words.files(ROOT / "rigs", ROOT / "templates", ROOT / "training")
]

# Phrases that may be there although the site does not speak so, by file, each for a reason.
ADVICE = ["not legal advice"]  # what the site does not give has no other name
ALLOWED = {
    "rigs/words/cautions.py": ADVICE,
    "rigs/drawing/palette.py": ["prefers-color-scheme"],  # the stylesheet's word
    "templates/base.html": ADVICE,
    "templates/deck/cautions.html": ADVICE,
    "training/certification/certificate_print.py": ADVICE,
    "training/desk/season/text.py": ADVICE,
    # Where people meet the regulation's own word, for the first and last time.
    "training/content/en/03-parts-of-the-rig.md": ["The regulation calls them *drop chains*"],
    # Words that an officer is asked to leave out.
    "training/content/en/14-what-goes-on-the-sheet.md": ['"Unlawful", "violation", "offense"'],
    # How fish are called by those who fish, whichever way it is spelled.
    "rigs/words/species.yaml": ["grey sole"],
    # Somebody did tell somebody: the plain verb.
    "training/register/stages.py": ["staff were told"],
    # Patterns, marks and stored answers, which nobody reads.
    "training/exercises/kinds/judge_rig.py": ["not legal"],
    "training/lessons/loader.py": ["metres?"],
    "training/lessons/standing.py": ["as it stands:"],
    # A heading of a column that is understood, however it is spelled.
    "training/register/table/columns.py": ["home harbour"],
}

# As in "July 1, 2026" and "Jul 1, 2026", "3:00 p.m.", the two together, without a year where
# the page has said it, and a month by itself.
MOMENTS = {
    "F j, Y",
    "M j, Y",
    "F j",
    "l, F j",
    "g:i a",
    "g:i:s a",
    "F j, Y, g:i a",
    "M j, Y, g:i a",
    "F j, g:i a",
    "l, F j, g:i a",
    "l, F j, Y, g:i a",
    "F Y",
}


@pytest.mark.parametrize("name", FILES)
def test_people_read_the_sites_words(name):
    found = words.unwanted(words.shown(ROOT / name), ALLOWED.get(name, ()))
    assert [f"{place}: {say}" for place, say in found] == []


@pytest.mark.parametrize("name", ALLOWED)
def test_each_exception_is_needed(name):
    shown = words.shown(ROOT / name)
    for phrase in ALLOWED[name]:
        assert phrase in shown
        assert list(words.unwanted(phrase))


@pytest.mark.parametrize("name", [name for name in FILES if name.startswith("templates/")])
def test_days_and_times_are_written_as_americans_do(name):
    text = (ROOT / name).read_text("utf-8").replace("\xa0", " ")
    assert set(re.findall(r'\|(?:date|time):"([^"]*)"', text)) <= MOMENTS


def test_scripts_give_their_words():
    script = """
    // towards nobody
    const PLACE = "https://a.b"; /* "whoever is there" */
    say("at the centre");
    say(`${count} towards it ${name.replace("anew it", "")}`);
    """
    assert [line.split() for line in words.shown_in_script(script).splitlines()] == [
        ["at", "the", "centre"],
        ["towards", "it"],
    ]
