"""
Whether the site is fit to serve, as far as a machine can tell: rooms say what to look at.

A check is a function without arguments that returns None if all is well, else a sentence::

    @readiness.check("queue")
    def someone_works():
        if nobody: return _("No worker runs, so ...")

``ready`` of its app imports the module that it is in.
"""

import logging
from typing import NamedTuple

from django.utils.translation import gettext as _

log = logging.getLogger("training.deck.readiness")
_checks = {}


class Finding(NamedTuple):
    """
    What one check found; ``words`` is empty if all is well.

    With ``stops`` this machine cannot serve pages at all while it is not.
    """

    name: str
    stops: bool
    words: str

    @property
    def well(self):
        return not self.words


def check(name, stops=False):
    """
    Return the decorator that registers a check under ``name``, a word in English.

    With ``stops`` a balancer sends nobody here while it fails: only for what other machines
    may be free of, and pages fail without.
    """

    def decorator(look):
        _checks[name] = (stops, look)
        return look

    return decorator


def findings():
    """Return a Finding of each check; none after one that ``stops``, which others rest on."""
    found = []
    for name, (stops, look) in sorted(_checks.items(), key=lambda each: not each[1][0]):
        try:
            words = look() or ""
        except Exception:
            log.exception("a check of readiness failed", extra={"check": name})
            words = _("This could not be looked at. The log says why.")
        found.append(Finding(name, stops, words))
        if stops and words:
            break
    return found


def may_serve(found):
    """Return whether Findings ``found`` let this machine serve."""
    return all(each.well for each in found if each.stops)
