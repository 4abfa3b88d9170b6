"""Who had left the site by a moment: rooms above that let people go say it here."""

from django.db.models import Q

_ways = []


def leaving(way):
    """Let ``way``, a function of a moment, say by a Q over people who had left; return it."""
    _ways.append(way)
    return way


def gone_by(moment):
    """Return a Q over the people who had left by ``moment``."""
    gone = Q(pk=None)
    for way in _ways:
        gone |= way(moment)
    return gone
