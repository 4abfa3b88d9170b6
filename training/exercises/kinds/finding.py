"""
Kinds of exercise are found, not listed: every public class of a Kind in a package's modules is one.

A kind that lacks a part stops the site from starting, with what it lacks and where.
"""

import re
from importlib import import_module
from inspect import getsourcefile
from pkgutil import iter_modules

from .base import AnswerForm, Kind

_METHODS = {
    "generate": "makes a task from its seed",
    "grade": "marks an answer",
    "any_answer": "an answer that can be read",
    "hand": "how modelled people answer",
    "truth": "what the rules make true of a task",
}


class KindError(ImportError):
    """A kind that cannot be used; the message names it, its file and what is the matter."""


def find(package):
    """
    Return the kinds in the modules of ``package``: {slug: {version: Kind}}, as they are shown.

    Raise KindError for one that lacks a part, or that nothing tells from another.
    """
    classes = [each for module in _modules(package) for each in _kinds_of(module)]
    for each in classes:
        if lacks := lacking(each):
            raise KindError(f"{where(each)} lacks {'; '.join(lacks)}.")
    found = {}
    for each in sorted(classes, key=lambda each: each.version):
        versions = found.setdefault(each.slug, {})
        if each.version in versions:
            other = where(type(versions[each.version]))
            raise KindError(f"{where(each)} has the slug and version of {other}.")
        if each.version != len(versions) + 1:
            raise KindError(
                f"{where(each)} is version {each.version} of “{each.slug}”, and version "
                f"{len(versions) + 1} is nowhere: what was set by it could not be marked again."
            )
        versions[each.version] = each()

    return dict(sorted(found.items(), key=lambda each: (newest(each[1]).order, each[0])))


def newest(versions):
    """Return the Kind that sets new tasks, of all ``versions`` of it."""
    return versions[max(versions)]


def where(kind):
    """Return which class a kind is, and its file."""
    return f"The kind of exercise {kind.__name__} in {getsourcefile(kind)}"


def lacking(kind):
    """Return what the class ``kind`` has to bring and does not, in words."""
    found = [
        f"`{name}` ({_METHODS.get(name, 'a method')})" for name in sorted(kind.__abstractmethods__)
    ]
    if not re.fullmatch(r"[a-z0-9-]{1,40}", kind.slug):
        found.append("`slug` (small letters, digits and hyphens, 40 at most)")
    found += [
        f"`{name}` ({words})"
        for name, words in (
            ("title", "what it is called"),
            ("summary", "what one does in it, in a sentence"),
            ("template", "the page that sets a task"),
            ("seconds", "how long a task takes"),
        )
        if not getattr(kind, name)
    ]
    if kind.form_class is AnswerForm and kind.form is Kind.form:
        found.append("`form_class` (what an answer is read by)")
    return found


def _modules(package):
    for each in iter_modules(package.__path__):
        yield import_module(f"{package.__name__}.{each.name}")


def _kinds_of(module):
    """Yield the kinds that ``module`` has itself; a class whose name begins with _ is none."""
    for name, each in vars(module).items():
        if (
            isinstance(each, type)
            and issubclass(each, Kind)
            and each is not Kind
            and each.__module__ == module.__name__
            and not name.startswith("_")
        ):
            yield each
