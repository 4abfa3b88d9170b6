"""Each setting that is read is told: in the README's table and in the docstring of the settings."""

import re
from pathlib import Path

from training import settings
from training.deck import photo_store

README = (Path(__file__).resolve().parents[2] / "README.md").read_text("utf-8")
ASKED = re.compile(r'\b(?:flag|words|text|secret|number|zone|read)\(\s*"([A-Z][A-Z0-9_]+)"')


def read():
    """Return the names of all variables that the settings ask the environment for."""
    sources = [Path(module.__file__).read_text("utf-8") for module in (settings, photo_store)]
    return {name for source in sources for name in ASKED.findall(source)}


def test_the_names_are_found_in_the_source():
    # Some are asked for only on a site in use, so what was asked in the tests is not all.
    assert settings.ENVIRONMENT.names <= read()


def test_the_readme_has_a_row_for_each_and_for_no_other():
    rows = re.findall(r"^\| (`[A-Z].*?) \|", README, flags=re.MULTILINE)
    named = [name for row in rows for name in re.findall(r"`([A-Z_]+)`", row)]
    assert sorted(named) == sorted(read())


def test_the_docstring_names_each_and_no_other():
    assert set(re.findall(r"``([A-Z][A-Z_]+)``", settings.__doc__)) == read()
