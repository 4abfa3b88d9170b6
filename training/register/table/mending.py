"""The rows that were not taken in, as a table to mend and to import again."""

from .columns import LINE, WRONG
from .comparing import ASK, REFUSE
from .outlook import outcomes_of


def header(draft):
    """Return the headings of the file, and those of what the site says of each row."""
    return [*_padded(draft.headers, _width(draft)), LINE, WRONG]


def rows(draft):
    """Yield the rows that were refused, or look like a vessel that is there, with the reason."""
    width, cells = _width(draft), dict(draft.rows)
    for outcome in outcomes_of(draft):
        if outcome.does in (REFUSE, ASK) and outcome.line in cells:
            told = outcome.reasons or [words for __, words in outcome.twins]
            yield [*_padded(cells[outcome.line], width), outcome.line, " ".join(told)]


def _width(draft):
    return max([len(draft.headers), *(len(cells) for __, cells in draft.rows)])


def _padded(cells, width):
    return [*cells, *[""] * (width - len(cells))]
