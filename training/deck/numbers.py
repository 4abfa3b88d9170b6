"""Numbers that stand in an address or a form beside its fields, such as which row is meant."""

MOST_DIGITS = 18
"""As many as every whole number has that fits into the database."""


def whole_number(text):
    """Return the number that ``text`` is, None if it is none of plain digits, or too long."""
    if text and len(text) <= MOST_DIGITS and text.isascii() and text.isdecimal():
        return int(text)
    return None
