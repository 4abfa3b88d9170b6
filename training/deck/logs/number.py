"""The number that all lines of one request or one job have, and that its person is given."""

from contextlib import contextmanager
from contextvars import ContextVar

from training.deck.codes import in_groups, new_code

_current = ContextVar("number", default="")


def current():
    """Return the number of what is being done, such as K7QF-2MTX; empty if it has none."""
    return _current.get()


@contextmanager
def numbered():
    """Give all that is logged within a ``with`` block a new number, which it yields."""
    number = in_groups(new_code())
    token = _current.set(number)
    try:
        yield number
    finally:
        _current.reset(token)
