"""A check sheet on one page of paper: filled in, or empty to be filled in by hand."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, datetime
from typing import NamedTuple

from rigs.drawing.column import Column, Frame, Measured, Type, Writable, fitting, lines, set_down
from rigs.drawing.page import MARGIN, WIDE, Columns, foot, largest_that, strip
from rigs.drawing.paper import HEIGHT, Document
from rigs.requirements.questions import FLAG, ROW
from rigs.rules.judge import Finding
from rigs.rules.rulebook import Rulebook
from rigs.rules.wording import about_memory
from rigs.words import mesh
from rigs.words.cautions import CAUTIONS
from rigs.words.days import long_day
from rigs.words.say import gettext as _

from .log import Entry, counted, of, words
from .remarks import Noted, remark
from .sheet import so_far
from .steps import QUESTIONS, steps
from .told import called
from .whole import Whole

_BOTTOM = HEIGHT - MARGIN - 74  # of the columns: what is below is for the cautions
_SIZES = (12, 11, 10, 9, 8, 7)
"""Sizes of type tried, largest first, until all fits on the sheet."""
_LINE = 0.42  # the share of a column kept for writing by hand


class Filled(NamedTuple):
    """
    What stands on a filled sheet; ``handed_in`` is None for one that is not done yet.

    ``beside`` is what a remarks.Noted holds beside the findings, ``so_far`` words on rows too
    short to count where there is none; ``entries`` are all its readings.
    """

    vessel: str
    place: str
    day: date
    officer: str
    handed_in: datetime | None
    verdict: Whole
    so_far: Mapping[str, str]
    notes: str
    photos: int
    told: frozenset[str] = frozenset()
    beside: Noted | None = None
    entries: Sequence[Entry] = ()

    def remark(self, finding: Finding) -> str:
        """Return what there is to say behind ``finding``."""
        return remark(finding, self.beside) if self.beside else so_far(finding.key, self.so_far)


def _rules(book: Rulebook) -> str:
    until = f" to {long_day(book.effective_to)}" if book.effective_to else ""
    return _(
        "Rules: {title}, version {version}, used here from {long_day}{until}. Source: {citation}."
    ).format(
        title=book.title,
        version=book.version,
        long_day=long_day(book.effective_from),
        until=until,
        citation=book.citation,
    )


def _page(title: str, head: Iterable[str], verdict: str, body: Callable[[Columns], None]) -> bytes:
    """Return a page as PDF: ``head`` lines, ``verdict`` on a strip, ``body`` and the cautions."""
    paper = Document(title)
    size = fitting(paper, title, (20, 14), WIDE, bold=True)
    set_out = lines(paper, title, size, WIDE, bold=True)
    y = set_down(paper, MARGIN, MARGIN, set_out, Type(size, size * 1.25, bold=True))
    column = Column(paper, Frame(MARGIN, y + 3, WIDE, HEIGHT), 11)
    for line in head:
        column.say(line)
    top = column.y + 4
    strip(paper, top, verdict, 22, 12)

    def left_out(on: Writable, size: float) -> int:
        columns = Columns(on, top + 26, _BOTTOM, size)
        body(columns)
        return columns.left_out

    size = largest_that(lambda size: not left_out(Measured(paper), size), _SIZES)
    foot(paper, _BOTTOM + 6, 9.5, left_out(paper, size), [(each, True) for each in CAUTIONS])
    return paper.data()


def _sentences(finding: Finding, said: str) -> str:
    where = _("Where: {places}.").format(places="; ".join(finding.places)) if finding.places else ""
    places = finding.missing_places
    missing = _("Not measured: {places}.").format(places="; ".join(places)) if places else ""
    clause = "" if finding.by_custom else finding.source
    parts = (finding.sheet_sentence, said, missing, where, clause)
    return " ".join(part for part in parts if part)


def _readings(entries: Sequence[Entry]) -> Iterable[tuple[str, str]]:
    """Yield each question with all that was ever written in answer to it."""
    typed = counted(entries)
    for name, question in QUESTIONS.items():
        told = of(name, entries)
        if told:
            yield called(question), "; ".join(words(entry, typed) for entry in told)


def filled(sheet: Filled) -> bytes:
    """Return the Filled ``sheet`` as the bytes of a PDF of one page."""
    verdict = sheet.verdict

    def body(columns: Columns) -> None:
        groups = (
            (_("Outside the clause: {failed}").format(failed=len(verdict.failed)), verdict.failed),
            (
                _("Not measured: {not_measured}").format(not_measured=len(verdict.not_measured)),
                verdict.not_measured,
            ),
            (_("Inside the clause: {passed}").format(passed=len(verdict.passed)), verdict.passed),
            (_("By custom: no clause asks for it"), verdict.customs),
        )
        for title, findings in groups:
            if findings:
                columns.put("heading", title)
            for finding in findings:
                title = f"{finding.title} ({finding.sheet_mark})"
                columns.put("entry", title, _sentences(finding, sheet.remark(finding)))
        if sheet.entries:
            columns.put("heading", _("All readings, as they were written"))
        for title, said in _readings(sheet.entries):
            columns.put("entry", title, said)
        if sheet.notes:
            columns.put("heading", _("Notes"))
            for line in sheet.notes.splitlines():
                columns.put("say", line)

    done = (
        _("turned in {long_day}").format(long_day=long_day(sheet.handed_in))
        if sheet.handed_in
        else _("not turned in yet")
    )
    photos = _(", {photos} photo{value} on the site").format(
        photos=sheet.photos, value="s" * (sheet.photos != 1)
    )
    head = (
        _("{place}. Checked on {long_day} by {officer}; {done}{value}.").format(
            place=sheet.place,
            long_day=long_day(sheet.day),
            officer=sheet.officer,
            done=done,
            value=photos if sheet.photos else "",
        ),
        *(_rules(each.rulebook) for each in verdict.verdicts),
        *filter(None, [about_memory(verdict.findings)]),
    )
    told = sheet.beside.told if sheet.beside else sheet.told
    found = _("Measured against the clauses: {tally}").format(tally=verdict.tally(told))
    return _page(_("Check of {vessel}").format(vessel=sheet.vessel), head, found, body)


def blank(rulebook: Rulebook) -> bytes:
    """Return an empty sheet for ``rulebook`` as the bytes of a PDF of one page."""

    def body(columns: Columns) -> None:
        for step in steps(rulebook):
            columns.put("heading", step.title)
            for question in step.questions:
                answer = _("yes   no   not measured") if question.sort == FLAG else question.bare
                columns.put("blank", question.label, answer, _LINE)
                if question.sort == ROW:
                    for __ in range(2):
                        columns.put("say", " ".join(["______"] * (mesh.SERIES // 2)))
        columns.put("heading", _("Notes"))

    head = (
        _("Vessel ______________________  Harbor ___________________  Day ______________"),
        _("Position ____________________  Officer ___________________________________"),
        _rules(rulebook),
    )
    how = _("Of parts that are alike, write the worst. Leave blank what you did not measure.")
    return _page(_("Check sheet"), head, how, body)
