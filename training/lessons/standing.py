"""
Places in a lesson that are filled each time it is shown, with what holds at that moment.

A lesson is parsed once and kept. What changes from day to day, such as the fleet's own
figures, has a mark in it instead. Other apps say what belongs there: they put a function
on the list when they are ready.
"""

import re

from django.utils.safestring import mark_safe

_MARK = re.compile(r"<!-- as it stands: ([a-z-]+) -->")
PLACES = {}


def place(word):
    """Put the decorated function, which returns safe HTML, on the list as ``word``."""

    def decorator(function):
        PLACES[word] = function
        return function

    return decorator


def mark(word):
    """Return what stands in a lesson's body until it is shown."""
    return f"<!-- as it stands: {word} -->"


def filled(body):
    """Return ``body``, the safe HTML of a lesson, with its places filled."""
    return mark_safe(_MARK.sub(lambda match: PLACES[match[1]](), body))
