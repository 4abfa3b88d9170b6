"""Reading JSON that a script sent: what cannot be meant or kept is refused in words."""

import json
from math import isfinite

from django.utils.translation import gettext as _

MOST_DEPTH = 12
"""More objects in objects than any script of this site sends."""

MOST_DIGITS = 20
"""More than any number has that a script of this site sends."""

_SHOWN = 40  # letters of a text that is shown because of a sign in it


class NotWhole(ValueError):
    """A body that is no JSON object: it broke off, and may arrive whole another time."""


class NotTaken(ValueError):
    """What would be the same another time; the message says what is wrong with it."""


def read_object(body):
    """
    Return the JSON object in ``body``, bytes.

    Half an emoji, as a field that is full cuts it, becomes U+FFFD, as in a form that a browser
    sends (Infra Standard, "convert to a scalar value string"; from memory). Raise NotWhole or
    NotTaken.
    """
    try:
        found = json.loads(
            body.decode(), parse_int=_whole, parse_float=_fraction, parse_constant=_no_number
        )
    except NotTaken:
        raise
    except RecursionError as error:
        raise NotTaken(_too_deep()) from error
    except ValueError as error:
        raise NotWhole from error
    if not isinstance(found, dict):
        raise NotWhole
    return _tidy(found, MOST_DEPTH)


def _too_deep():
    return _("What was sent is nested too deeply. No page of this site sends that.")


def _no_number(text):
    raise NotTaken(
        _("“{text}” is no number that can be kept. Check the entry.").format(
            text=text[:MOST_DIGITS]
        )
    )


def _whole(text):
    return int(text) if len(text) <= MOST_DIGITS else _no_number(text)


def _fraction(text):
    found = float(text)
    return found if isfinite(found) else _no_number(text)


def _tidy(value, depth):
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, (dict, list)) and not depth:
        raise NotTaken(_too_deep())
    if isinstance(value, dict):
        return {_text(name): _tidy(each, depth - 1) for name, each in value.items()}
    if isinstance(value, list):
        return [_tidy(each, depth - 1) for each in value]
    return value


def _text(text):
    if "\0" in text:
        raise NotTaken(
            _("“{text}” has a sign in it that cannot be kept. Type it again.").format(
                text=text.replace("\0", "")[:_SHOWN]
            )
        )
    try:
        text.encode()
    except UnicodeEncodeError:
        return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
    return text
