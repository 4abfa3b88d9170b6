"""Tables that are downloaded and opened in a spreadsheet."""

from datetime import date, datetime
from typing import NamedTuple

from django.utils import timezone

from rigs.words.shares import percent_sign

# A spreadsheet runs a cell that begins with one of these as a formula, and the text in
# it may be whatever a stranger typed as a name (OWASP, "CSV injection").
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


class PercentCell(NamedTuple):
    """A share, from 0 to 1, that a table shows in percent."""

    share: float

    def __str__(self):
        return percent_sign(self.share)


def as_told(value):
    """
    Return ``value`` as both sorts of file have it: moments in the site's time, to the minute.

    Yes and no are spelt out; what is neither a number, a day, a moment nor a share is text.
    """
    if value is None or isinstance(value, PercentCell):
        return value
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return value
    if isinstance(value, datetime):
        here = timezone.localtime(value) if timezone.is_aware(value) else value
        return here.replace(second=0, microsecond=0, tzinfo=None)
    if isinstance(value, date):
        return value
    text = str(value)
    return f"'{text}" if _could_run(text) else text


def _could_run(text):
    """Return whether ``text`` is taken for a formula, or would be with its apostrophe gone."""
    return text.lstrip("'").lstrip(" ").startswith(FORMULA_STARTS)


def safe_cell(value):
    """
    Return ``value`` as a cell that a spreadsheet shows and never runs.

    Text that could be taken for a formula gets an apostrophe in front; numbers stay
    numbers; days and moments are written as ISO 8601 has them, in the site's time; shares
    in percent; None is an empty cell.
    """
    told = as_told(value)
    if told is None:
        return ""
    if isinstance(told, datetime):
        return f"{told:%Y-%m-%d %H:%M}"
    if isinstance(told, PercentCell):
        return f"{told.share:.1%}"
    return told


def as_written(cell):
    """Return the text that ``safe_cell`` made the text ``cell`` of."""
    return cell[1:] if cell.startswith("'") and _could_run(cell[1:]) else cell
