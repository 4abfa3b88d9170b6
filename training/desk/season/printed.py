"""A season report set on sheets of paper, as PDF."""

from django.utils.translation import gettext as _

from rigs.drawing.pages import TALLEST, Pages, drawn_height
from rigs.drawing.paper import Document
from rigs.words.days import long_day

from . import text

_MOST_COLUMNS = 5  # of a table that fits across a page


def as_pdf(report):
    """Return the Report as the bytes of a PDF."""
    paper = Document(text.title(report))
    set_on(paper, report)
    return paper.data()


def set_on(paper, report):
    """Set the Report on ``paper``, a Document or what takes the same calls."""
    title = text.title(report)
    pages = Pages(paper, f"{title}. As of {long_day(report.on)}.")
    pages.say(title, 22, bold=True)
    if report.is_demo:
        pages.say(_("Demo data: these people, vessels and catches are invented."), bold=True)
    for section in text.sections(report):
        below = pages.height(section.sentences)
        if section.figure is not None:
            below += drawn_height(section.figure.scene) + 10
        pages.heading(section.title, below if below < TALLEST else 60)
        for sentence in section.sentences:
            pages.say(sentence)
        if section.figure is not None:
            pages.picture(section.figure.scene)
            if len(section.figure.header) <= _MOST_COLUMNS:
                pages.table(section.figure.header, section.figure.rows)
