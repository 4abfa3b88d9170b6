"""
What people read and nobody marked for translation, as far as a program can tell.

``python -m tests.marked FILE ...`` lists it. A single small word is taken for a name: a key,
a unit, a word that a sentence is put together from.
"""

from . import python, templates

_FINDERS = {".py": python.unmarked, ".html": templates.unmarked}

BEFORE_WORDS = ("settings.py", "environment.py", "photo_store.py")
"""Modules that are read before there is a language."""

ELSEWHERE = ("migrations", "commands", "demo", "cases")
"""Folders whose words are no visitor's: for who runs the site, invented, or about a file."""


def unmarked(path):
    """Return what is not marked in the file ``path``, as (line, text) pairs."""
    return list(_FINDERS[path.suffix](path.read_text("utf-8")))


def files(root):
    """Return the files below ``root`` of which visitors read something."""
    places = [root / name for name in ("rigs", "training", "templates")]
    return sorted(
        path
        for place in places
        for path in place.rglob("*")
        if path.suffix in _FINDERS
        and not set(ELSEWHERE) & set(path.parts)
        and path.name not in BEFORE_WORDS
    )
