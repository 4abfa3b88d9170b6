"""
Whether the site is fit to serve, as far as a machine can tell: rooms say what to look at.

A check is a function without arguments that returns a sentence on what is not well, or says by
``Well`` what it found that is::

    @readiness.check("worker", gettext_lazy("Worker"))
    def someone_works():
        if nobody: return _("No worker runs, so ...")
        return Well(_("A worker runs."))

``ready`` of its app imports the module that it is in.
"""

import logging
from time import monotonic
from typing import NamedTuple

from django.utils.translation import gettext as _

log = logging.getLogger("training.deck.readiness")
_checks = {}
_lately = []  # when this process looked last, and its Findings


class Well(str):
    """A sentence on something that is well."""


class Unknown(Well):
    """A sentence on why it is not known that something is wrong."""


class Finding(NamedTuple):
    """
    What one check found; ``words`` is empty if all is well, and ``fact`` says what was seen then.

    ``known`` is whether there was anything to see. With ``stops`` this machine cannot serve pages
    at all while it is not.
    """

    name: str
    stops: bool
    words: str
    title: str = ""
    fact: str = ""
    known: bool = True

    @property
    def well(self):
        return not self.words


def check(name, title, stops=False):
    """
    Return the decorator that registers a check under ``name``, a word in English.

    Pages call it ``title``. With ``stops`` a balancer sends nobody here while it fails: only
    for what other machines may be free of, and pages fail without.
    """

    def decorator(look):
        _checks[name] = (stops, title, look)
        return look

    return decorator


def findings():
    """Return a Finding of each check; none after one that ``stops``, which others rest on."""
    found = []
    for name, (stops, title, look) in sorted(_checks.items(), key=lambda each: not each[1][0]):
        try:
            said = look()
        except Exception:
            log.exception("a check of readiness failed", extra={"check": name})
            said = _("This could not be looked at. The log says why.")
        words, fact = ("", said) if isinstance(said, Well) else (said, "")
        known = not isinstance(said, Unknown)
        found.append(Finding(name, stops, words, title, fact, known))
        if stops and words:
            break
    return found


def lately(seconds):
    """Return the Findings of this process, no older than ``seconds``: looking costs something."""
    kept = _lately[:]
    if not kept or monotonic() - kept[0] > seconds:
        kept = _lately[:] = [monotonic(), findings()]
    return kept[1]


def look_again():
    """Have the next who asks look anew."""
    _lately.clear()


def may_serve(found):
    """Return whether Findings ``found`` let this machine serve."""
    return all(each.well for each in found if each.stops)
