"""
How far something long has come, told to whoever makes it on the side.

What makes a file of many parts hands them through ``passing``; in a request nobody listens.
"""

from contextlib import contextmanager
from contextvars import ContextVar

_listener = ContextVar("listener", default=None)


@contextmanager
def heard(listener):
    """Have ``listener()`` called for each part that passes while the block runs."""
    before = _listener.set(listener)
    try:
        yield
    finally:
        _listener.reset(before)


def passing(parts):
    """Yield from ``parts``; tell whoever listens of each."""
    for part in parts:
        yield part
        if listener := _listener.get():
            listener()


def in_lots(found, size):
    """
    Yield the rows of ``found``, a queryset in an order, ``size`` at a time.

    No query is left open between two lots, so that whoever takes them can write meanwhile:
    SQLite refuses to write where another wrote since an open query began.
    """
    if found.query.is_sliced:  # a page of them
        yield from found
        return
    some = list(found[: size + 1])
    if len(some) <= size:
        yield from some
        return
    pks = list(found.values_list("pk", flat=True))
    for start in range(0, len(pks), size):
        yield from found.filter(pk__in=pks[start : start + size])
