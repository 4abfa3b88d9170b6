"""A check sheet on one page of paper: filled in, or empty to be filled in by hand."""

from datetime import date, datetime
from typing import NamedTuple

from rigs.drawing.column import Column, Measured, fitting, lines
from rigs.drawing.paper import HEIGHT, WIDTH, Document
from rigs.requirements.questions import FLAG, ROW
from rigs.rules.judge import Verdict
from rigs.rules.wording import about_memory
from rigs.words import mesh
from rigs.words.cautions import CAUTIONS

from .sheet import so_far, tally
from .steps import steps

_MARGIN = 34
_GUTTER = 20
_FEET = 74  # kept at the foot for the cautions
_SIZES = (12, 11, 10, 9, 8, 7)
"""Sizes of type tried, largest first, until all fits on the sheet."""
_LINE = 0.42  # the share of a column kept for writing by hand


class Filled(NamedTuple):
    """What stands on a filled sheet; ``handed_in`` is None for one that is not done yet."""

    vessel: str
    place: str
    day: date
    officer: str
    handed_in: datetime | None
    verdict: Verdict
    so_far: dict
    notes: str
    photos: int


class _Flow:
    """Two columns, the second for what the first has no room for."""

    def __init__(self, paper, top, size):
        width = (WIDTH - 2 * _MARGIN - _GUTTER) / 2
        self.columns = [
            Column(paper, x, top, width, HEIGHT - _MARGIN - _FEET, size)
            for x in (_MARGIN, _MARGIN + width + _GUTTER)
        ]
        self.left_out = 0

    def put(self, how, *args, **options):
        while self.columns:
            column = self.columns[0]
            getattr(column, how)(*args, **options)
            if not column.left_out:
                return
            self.columns.pop(0)
        self.left_out += 1


def _long_day(day):
    return f"{day:%B} {day.day}, {day.year}"


def _rules(book):
    until = f" to {_long_day(book.effective_to)}" if book.effective_to else ""
    return (
        f"Rules: {book.title}, version {book.version}, used here from "
        f"{_long_day(book.effective_from)}{until}. Source: {book.citation}."
    )


def _page(title, head, strip, body):
    """Return a page as PDF: ``head`` lines, a dark ``strip``, ``body(flow)`` and the cautions."""
    paper = Document(title)
    column = Column(paper, _MARGIN, _MARGIN, WIDTH - 2 * _MARGIN, HEIGHT, 11)
    wide = WIDTH - 2 * _MARGIN
    size = fitting(paper, title, 20, 14, wide, bold=True)
    for line in lines(paper, title, size, wide, bold=True):
        paper.text(_MARGIN, column.y, line, size, True)
        column.y += size * 1.25
    column.y += 3
    for line in head:
        column.say(line)
    top = column.y + 4
    paper.box(_MARGIN, top, WIDTH - 2 * _MARGIN, 22, filled=True)
    size = fitting(paper, strip, 12, 8, wide - 16, bold=True)
    paper.text(_MARGIN + 8, top + 5, strip, size, True, color="white")
    size = next((s for s in _SIZES if _fits(paper, body, top + 26, s)), _SIZES[-1])
    flow = _Flow(paper, top + 26, size)
    body(flow)
    _foot(paper, flow.left_out)
    return paper.data()


def _fits(paper, body, top, size):
    flow = _Flow(Measured(paper), top, size)
    body(flow)
    return not flow.left_out


def _foot(paper, left_out):
    y = HEIGHT - _MARGIN - _FEET + 6
    paper.line(_MARGIN, y, WIDTH - _MARGIN, y)
    column = Column(paper, _MARGIN, y + 4, WIDTH - 2 * _MARGIN, HEIGHT - 6, 9.5)
    if left_out:
        column.say("More on the website: this page was full.", bold=True)
    for caution in CAUTIONS:
        column.say(caution, bold=True)


def _sentences(finding, told):
    where = f"Where: {'; '.join(finding.places)}." if finding.places else ""
    missing = finding.missing_places
    missing = f"Not measured: {'; '.join(missing)}." if missing else ""
    clause = "" if finding.by_custom else finding.source
    parts = (finding.sheet_sentence, so_far(finding.key, told), missing, where, clause)
    return " ".join(part for part in parts if part)


def filled(sheet):
    """Return the Filled ``sheet`` as the bytes of a PDF of one page."""
    verdict = sheet.verdict

    def body(flow):
        groups = (
            (f"Outside the clause: {len(verdict.failed)}", verdict.failed),
            (f"Not measured: {len(verdict.not_measured)}", verdict.not_measured),
            (f"Inside the clause: {len(verdict.passed)}", verdict.passed),
            ("By custom: no clause asks for it", verdict.customs),
        )
        for title, findings in groups:
            if findings:
                flow.put("heading", title)
            for finding in findings:
                title = f"{finding.title} ({finding.sheet_mark})"
                flow.put("entry", title, _sentences(finding, sheet.so_far))
        if sheet.notes:
            flow.put("heading", "Notes")
            for line in sheet.notes.splitlines():
                flow.put("say", line)

    done = f"turned in {_long_day(sheet.handed_in)}" if sheet.handed_in else "not turned in yet"
    photos = f", {sheet.photos} photo{'s' * (sheet.photos != 1)} on the site"
    head = (
        f"{sheet.place}. Checked on {_long_day(sheet.day)} by {sheet.officer}; {done}"
        f"{photos if sheet.photos else ''}.",
        _rules(verdict.rulebook),
        *filter(None, [about_memory(verdict.findings)]),
    )
    strip = f"Measured against the clauses: {tally(verdict)}"
    return _page(f"Check of {sheet.vessel}", head, strip, body)


def blank(rulebook):
    """Return an empty sheet for ``rulebook`` as the bytes of a PDF of one page."""

    def body(flow):
        for step in steps(rulebook):
            flow.put("heading", step.title)
            for question in step.questions:
                answer = "yes   no   not measured" if question.sort == FLAG else question.bare
                flow.put("blank", question.label, answer, _LINE)
                if question.sort == ROW:
                    for _ in range(2):
                        flow.put("say", " ".join(["______"] * (mesh.SERIES // 2)))
        flow.put("heading", "Notes")

    head = (
        "Vessel ______________________  Harbor ___________________  Day ______________",
        "Position ____________________  Officer ___________________________________",
        _rules(rulebook),
    )
    strip = "Of parts that are alike, write the worst. Leave blank what you did not measure."
    return _page("Check sheet", head, strip, body)
