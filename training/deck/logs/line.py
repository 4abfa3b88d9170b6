"""One line of JSON for each thing that is logged."""

import json
import logging
import re
from datetime import UTC, datetime
from http import HTTPStatus

from . import failure, number

OURS = "training"
LEFT_OUT = "…"
LONGEST = 200  # letters of a value
_EMAIL = re.compile(r"\S+@\S+")
# What every record has, so that the rest is what was given as ``extra``.
_USUAL = {*vars(logging.makeLogRecord({})), "message", "asctime", "taskName"}


def route_of(request):
    """Return the address of ``request`` as the URL configuration has it: no code, no number."""
    match = getattr(request, "resolver_match", None)
    return f"/{match.route}" if match else ""


def _plain(value):
    """Return a number as it is, and anything else as short text without an e-mail in it."""
    if value is None or isinstance(value, bool | int | float):
        return value
    return _EMAIL.sub(LEFT_OUT, str(value)[:LONGEST])


def _message(record):
    """
    Return the words of ``record``.

    Ours are fixed. Those of libraries may quote an address, an account or a header, so that of
    theirs only the pattern stays, with the numbers in it.
    """
    if record.name.split(".")[0] == OURS:
        return record.getMessage()
    status = getattr(record, "status_code", None)
    if status and record.name.startswith("django.request"):
        return HTTPStatus(status).phrase
    if not record.args or not isinstance(record.args, tuple):
        return f"{record.module}:{record.lineno}"
    known = tuple(each if isinstance(each, int | float) else LEFT_OUT for each in record.args)
    try:
        return str(record.msg) % known
    except (TypeError, ValueError):
        return f"{record.module}:{record.lineno}"


def as_dict(record):
    """Return what is written of the LogRecord ``record``."""
    found = {
        "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
        "level": record.levelname.lower(),
        "logger": record.name,
        "message": _message(record),
    }
    request = getattr(record, "request", None)
    # Django notes an answer of failure once more after all middleware is through.
    if current := number.current() or getattr(request, "number", ""):
        found["request"] = current
    if request:
        found |= {"route": route_of(request), "method": getattr(request, "method", "")}
    if status := getattr(record, "status_code", None):
        found["status"] = status
    if record.name.split(".")[0] == OURS:
        extra = {key: value for key, value in vars(record).items() if key not in _USUAL}
        found |= {key: _plain(value) for key, value in extra.items() if key != "request"}
    if record.exc_info and record.exc_info[1]:
        found["failure"] = failure.as_record(record.exc_info[1])
    return found


class JsonLine(logging.Formatter):
    """Writes records as JSON, one a line."""

    def format(self, record):
        try:
            return json.dumps(as_dict(record), ensure_ascii=False)
        except Exception as error:
            # Whatever is wrong with a record, its line is there, and holds nothing of it.
            return json.dumps({"logger": record.name, "message": failure.kind_of(error)})
