"""Phone numbers: kept as typed, and as links that a phone rings or writes to."""

import re

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

FEWEST, MOST = 7, 15
"""Digits in a number without an area code, and in any number of the world (E.164, from memory)."""

_SPELLED = re.compile(r"(\+?[\d\s().\-/]+?)(?:\s*,?\s*(?:ext|x)\.?\s*(\d{1,8}))?", re.IGNORECASE)


def _parts(text):
    """Return (number as it is dialed, extension or ""), None if ``text`` is no phone number."""
    found = _SPELLED.fullmatch(text.strip())
    if found is None:
        return None
    digits = re.sub(r"\D", "", found[1])
    if not FEWEST <= len(digits) <= MOST:
        return None
    plus = "+" if found[1].startswith("+") else ""
    return plus + digits, found[2] or ""


def check(text):
    """Raise ValidationError, with an example, unless ``text`` can be dialed."""
    if _parts(text) is None:
        raise ValidationError(
            _("This does not look like a phone number. Write it like 508-555-0142.")
        )


def to_ring(text):
    """Return the address that rings ``text``, a number as typed (RFC 3966); "" if it is none."""
    parts = _parts(text)
    if parts is None:
        return ""
    number, extension = parts
    return f"tel:{number};ext={extension}" if extension else f"tel:{number}"


def to_text(text):
    """
    Return the address that writes a text message to ``text`` (RFC 5724); "" if none can.

    A number with an extension is a desk's, and reads no messages.
    """
    parts = _parts(text)
    return "" if parts is None or parts[1] else f"sms:{parts[0]}"
