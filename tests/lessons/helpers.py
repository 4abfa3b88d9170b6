"""A small lesson to write wrong in every way, and rule sets with other figures in them."""

from dataclasses import replace

from rigs.rules import rulebook
from tests.rigs.rig_factory import with_limit
from training.lessons import course
from training.lessons.loader import FOLDER, parse

FRONT = {
    "title": "A small lesson",
    "summary": "What it says.",
    "track": "both",
    "exercises": "[]",
    "more": "[]",
    "rules": "[]",
    "rulebook": "no-sweep",
}


def text(body="Some words.", **changes):
    """Return a lesson's text; a field changed to None is left out of its front matter."""
    fields = {**FRONT, **changes}
    lines = [f"{name}: {value}" for name, value in fields.items() if value is not None]
    return "\n".join(["---", *lines, "---", body, ""])


BODY_LINE = len(FRONT) + 3
"""The line of the file on which the body of ``text()`` begins."""


def small(body="Some words.", load=rulebook.load, **changes):
    """Return the Lesson with ``body``."""
    return parse(text(body, **changes), "01-small.md", load)


def with_limits(**limits):
    """Return a loader of rule sets in which the requirements named have other limits."""

    def load(name):
        book = rulebook.load(name)
        changed = tuple(
            with_limit(each, limits[each.key]) if each.key in limits else each
            for each in book.requirements
        )
        return replace(book, requirements=changed)

    return load


def spaced(html):
    """Return ``html`` with plain spaces where a figure is tied to its unit."""
    return html.replace("\u00a0", " ")


def law_of(role):
    """Return the (rule set, key) of every law of gear that people of ``role`` are trained in."""
    return [
        (name, each.key)
        for name in course.rule_sets(role)
        for each in rulebook.load(name).requirements
        if each.binds and not each.of_trip
    ]


def content_files():
    """Return the lessons' own files in order."""
    return sorted(FOLDER.glob("*.md"))
