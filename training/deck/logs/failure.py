"""
An exception as it may stand in a log: its kind and its places in the code.

The text of an exception often quotes what somebody typed ("invalid literal ... 'Wren'"), and so
does that of a database. It is left out, save where it is made of names in the code alone.
"""

import os
import sqlite3
import traceback
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[3]
MOST_PLACES, MOST_CAUSES = 40, 5


def _of_attribute(error):
    return f"no {error.name} on a {type(error.obj).__name__}" if error.name else ""


def _of_system(error):
    return os.strerror(error.errno) if error.errno else ""


def _of_letters(error):
    return f"{error.encoding}: {error.reason}"


# SQLite's words name tables and columns; values stand beside the statement, never in it.
_SAYS = (
    (AttributeError, _of_attribute),
    (NameError, lambda error: f"no {error.name}"),
    (ImportError, lambda error: f"no {error.name}"),
    (UnicodeEncodeError, _of_letters),
    (UnicodeDecodeError, _of_letters),
    (OSError, _of_system),
    (sqlite3.DatabaseError, str),
)


def _says(error):
    """Return what may be said of ``error`` beyond its kind; empty if nothing."""
    if state := getattr(error, "sqlstate", None):  # PostgreSQL's: the text quotes the row
        named = (error.diag.table_name, error.diag.column_name, error.diag.constraint_name)
        return " ".join([state, *filter(None, named)])
    return next((says(error) for kind, says in _SAYS if isinstance(error, kind)), "")


def _file(name):
    path = Path(name).resolve()
    if path.is_relative_to(HOUSE) and "site-packages" not in path.parts:
        return str(path.relative_to(HOUSE))
    return "/".join(path.parts[-3:])


def kind_of(error):
    """Return the name of the class of ``error``, with its module unless it is Python's own."""
    kind = type(error)
    module = "" if kind.__module__ == "builtins" else f"{kind.__module__}."
    return module + kind.__qualname__


def as_record(error, depth=MOST_CAUSES):
    """Return ``error`` with its places, innermost last, and what it came from, fit for JSON."""
    places = traceback.extract_tb(error.__traceback__)[-MOST_PLACES:]
    found = {"kind": kind_of(error)}
    if says := _says(error):
        found["says"] = says
    found["places"] = [
        f"{_file(each.filename)}:{each.lineno} in {each.name}: {each.line}" for each in places
    ]
    cause = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    if cause and depth > 1:
        found["from"] = as_record(cause, depth - 1)
    return found


def as_text(record):
    """Return a record of ``as_record`` as lines for a mail, the first cause first."""
    before = as_text(record["from"]) + "\n\n" if "from" in record else ""
    says = f": {record['says']}" if "says" in record else ""
    return before + "\n".join([*record["places"], record["kind"] + says])
