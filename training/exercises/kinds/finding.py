"""
Kinds of exercise are found, not listed: every public class of a Kind in a package's modules is one.

A kind that lacks a part stops the site from starting, with what it lacks and where.
"""

import re
from importlib import import_module
from inspect import getsourcefile
from pkgutil import iter_modules

from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy

from .base import AnswerForm, Kind

_METHODS = {
    "generate": gettext_lazy("makes a task from its seed"),
    "grade": gettext_lazy("marks an answer"),
    "any_answer": gettext_lazy("an answer that can be read"),
    "hand": gettext_lazy("how modelled people answer"),
    "truth": gettext_lazy("what the rules make true of a task"),
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
            raise KindError(
                _("{where} lacks {lacks}.").format(where=where(each), lacks="; ".join(lacks))
            )
    found = {}
    for each in sorted(classes, key=lambda each: each.version):
        versions = found.setdefault(each.slug, {})
        if each.version in versions:
            other = where(type(versions[each.version]))
            raise KindError(
                _("{where} has the slug and version of {other}.").format(
                    where=where(each), other=other
                )
            )
        if each.version != len(versions) + 1:
            raise KindError(
                _(
                    "{where} is version {version} of “{slug}”, and version {value} is nowhere: "
                    "what was set by it could not be marked again."
                ).format(
                    where=where(each), version=each.version, slug=each.slug, value=len(versions) + 1
                )
            )
        versions[each.version] = each()

    return dict(sorted(found.items(), key=lambda each: (newest(each[1]).order, each[0])))


def newest(versions):
    """Return the Kind that sets new tasks, of all ``versions`` of it."""
    return versions[max(versions)]


def where(kind):
    """Return which class a kind is, and its file."""
    return _("The kind of exercise {name} in {getsourcefile}").format(
        name=kind.__name__, getsourcefile=getsourcefile(kind)
    )


def lacking(kind):
    """Return what the class ``kind`` has to bring and does not, in words."""
    found = [
        f"`{name}` ({_METHODS.get(name, 'a method')})" for name in sorted(kind.__abstractmethods__)
    ]
    if not re.fullmatch(r"[a-z0-9-]{1,40}", kind.slug):
        found.append(_("`slug` (small letters, digits and hyphens, 40 at most)"))
    found += [
        f"`{name}` ({words})"
        for name, words in (
            ("title", _("what it is called")),
            ("summary", _("what one does in it, in a sentence")),
            ("template", _("the page that sets a task")),
            ("seconds", _("how long a task takes")),
        )
        if not getattr(kind, name)
    ]
    if kind.form_class is AnswerForm and kind.form is Kind.form:
        found.append(_("`form_class` (what an answer is read by)"))
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
