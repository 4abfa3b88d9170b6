"""A season report set on sheets of paper, as PDF."""

from django.utils.translation import gettext as _

from rigs.drawing.pages import TALLEST, Pages, drawn_height
from rigs.drawing.paper import Document
from rigs.words.days import long_day

from . import text

_TWO_LINES = 60  # points under a heading at least
_MOST_COLUMNS = 5  # of a table that fits across a page


def as_pdf(report):
    """Return the Report as the bytes of a PDF."""
    paper = Document(text.title(report))
    set_on(paper, report)
    return paper.data()


def set_on(paper, report):
    """Set the Report on ``paper``, a Document or what takes the same calls."""
    title = text.title(report)
    footer = _("{title}. As of {day}.").format(title=title, day=long_day(report.on))
    pages = Pages(paper, footer, text.version(report))
    pages.say(title, 22, bold=True)
    pages.say(text.as_of(report))
    if report.is_demo:
        pages.say(text.DEMO, bold=True)
    for section in text.sections(report):
        _set_section(pages, section)


def _set_section(pages, section):
    figure = section.figure
    below = pages.height(section.sentences)
    if figure is None and section.table is None:
        below = min(below, _TWO_LINES)
    if figure is not None:
        below += drawn_height(figure.scene) + 10
    if section.table is not None:
        below += pages.table_height(*section.table)
    pages.heading(section.title, below if below < TALLEST else _TWO_LINES)
    for sentence in section.sentences:
        pages.say(sentence)
    if figure is not None:
        pages.picture(figure.scene)
        if len(figure.header) <= _MOST_COLUMNS:
            pages.table(figure.header, figure.rows)
    if section.table is not None:
        pages.table(*section.table)


def file_name(report):
    """Return what the file of the Report is called: whole ones by another name."""
    office = "-office" if report.for_office else ""
    return f"season-{report.season.year}{office}.pdf"
