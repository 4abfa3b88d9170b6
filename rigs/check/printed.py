"""A check sheet on paper: filled in with all its readings, or empty to be filled in by hand."""

from collections.abc import Iterator, Sequence
from datetime import date, datetime
from typing import NamedTuple

from rigs.drawing import page
from rigs.drawing.blocks import (
    Beside,
    Block,
    Code,
    Drawn,
    Framed,
    Heading,
    Lined,
    Row,
    RowCell,
    Said,
    Strip,
    Stroke,
    Together,
    ToTick,
    ToWrite,
)
from rigs.drawing.paper import Document
from rigs.drawing.setting import Setting
from rigs.requirements.questions import DAY, FLAG, NAMES, ROW, Question
from rigs.rules.judge import Finding
from rigs.rules.rulebook import Rulebook
from rigs.rules.wording import about_memory
from rigs.words import mesh
from rigs.words.cautions import CAUTIONS
from rigs.words.days import long_day
from rigs.words.say import gettext as _
from rigs.words.say import ngettext

from .remarks import Behind, remark
from .steps import steps
from .whole import Whole

GLASS = (1000, 300)
"""The field, (width, height), in which a signature's strokes lie."""

_SHARES = (0.28, 0.24, 0.18, 0.14, 0.16)  # of the columns of the readings
_HEAD = (0.2, 0.3, 0.2, 0.3)  # of the head of the sheet: what and which, twice
_ROOM = 8  # lines to write on
_ONE_BY_ONE = 8  # boxes where parts that are alike may be measured one by one


class Reading(NamedTuple):
    """
    One reading, in words: of what, as typed with what it comes to, how and when.

    ``struck`` says when and why it was taken back, "" if it holds.
    """

    what: str
    text: str
    how: str
    at: str
    arrived: str
    struck: str = ""


class Signature(NamedTuple):
    """Who signed, in words, and the strokes on the glass, none if somebody would not sign."""

    words: str
    strokes: tuple[Stroke, ...]


class Correction(NamedTuple):
    """A change after the sheet was turned in: when, by whom and why, and what it changed."""

    words: str
    changes: tuple[tuple[str, str, str], ...]
    """(what, as turned in, as corrected)."""


class Copy(NamedTuple):
    """Where the skipper finds the same sheet: an address to scan, and words with the code."""

    address: str
    words: str


class Filled(NamedTuple):
    """
    What stands on a filled sheet; ``handed_in`` is None for one that is not done yet.

    ``beside`` is what stands behind the findings. ``head`` are (label, value) about vessel,
    place and people. ``notices`` must not be missed, such as that phone and site went by
    different versions.
    """

    vessel: str
    day: date
    officer: str
    handed_in: datetime | None
    whole: Whole
    beside: Behind
    head: tuple[tuple[str, str], ...] = ()
    readings: tuple[Reading, ...] = ()
    corrections: tuple[Correction, ...] = ()
    notices: tuple[str, ...] = ()
    notes: str = ""
    photos: tuple[str, ...] = ()
    signatures: tuple[Signature, ...] = ()
    copy: Copy | None = None
    is_demo: bool = False


def _rules(book: Rulebook) -> str:
    until = (
        _(" to {long_day}").format(long_day=long_day(book.effective_to))
        if book.effective_to
        else ""
    )
    return _(
        "Rules: {title}, version {version}, used here from {long_day}{until}. Source: {citation}."
    ).format(
        title=book.title,
        version=book.version,
        long_day=long_day(book.effective_from),
        until=until,
        citation=book.citation,
    )


# A filled sheet --------------------------------------------------------------


def _head(pairs: Sequence[tuple[str, str]]) -> Iterator[Block]:
    """Yield ``pairs`` of label and value, two a row."""
    for at in range(0, len(pairs), 2):
        two = [*pairs[at : at + 2], ("", "")][:2]
        cells = tuple(RowCell(words) for pair in two for words in pair)
        yield Row(cells, _HEAD, 9.5)


def _finding(finding: Finding, sheet: Filled) -> Block:
    said = [finding.sheet_sentence, remark(finding, sheet.beside)]
    if finding.missing_places:
        said.append(_("Not measured: {places}.").format(places="; ".join(finding.missing_places)))
    if finding.places:
        said.append(_("Where: {places}.").format(places="; ".join(finding.places)))
    if not finding.by_custom:
        said.append(finding.source)
    title = f"{finding.title} ({finding.sheet_mark})"
    words = " ".join(part for part in said if part)
    return Together((Said(title, 9.5, bold=True, after=0), Said(words, 9.5, after=5)))


def _groups(sheet: Filled) -> Iterator[Block]:
    whole = sheet.whole
    groups = (
        (_("Outside the clause: {number}"), whole.failed),
        (_("Not measured: {number}"), whole.not_measured),
        (_("Inside the clause: {number}"), whole.passed),
        (_("By custom: no clause asks for it"), whole.customs),
        (_("Warning signs: no sheet breaks a rule by them"), whole.warnings),
    )
    for title, findings in groups:
        if findings:
            yield Heading(title.format(number=len(findings)))
        for finding in findings:
            yield _finding(finding, sheet)


def _readings(readings: Sequence[Reading]) -> Iterator[Block]:
    titles = (
        _("What was read"),
        _("As typed, and what it comes to"),
        _("How"),
        _("At the rail"),
        _("At the site"),
    )
    yield Heading(_("All readings, in the order in which they were taken"))
    yield Row(tuple(map(RowCell, titles)), _SHARES, head=True)
    for each in readings:
        how = " ".join(part for part in (each.how, each.struck) if part)
        yield Row(
            (
                RowCell(each.what),
                RowCell(each.text, struck=bool(each.struck)),
                RowCell(how),
                RowCell(each.at),
                RowCell(each.arrived),
            ),
            _SHARES,
        )


def _corrections(corrections: Sequence[Correction]) -> Iterator[Block]:
    shares = (0.3, 0.35, 0.35)
    titles = (_("What"), _("As turned in"), _("As corrected"))
    yield Heading(_("What was corrected"))
    for each in corrections:
        yield Said(each.words, 9.5, keeps=bool(each.changes))
        if each.changes:
            yield Row(tuple(map(RowCell, titles)), shares, head=True)
        for what, before, after in each.changes:
            yield Row((RowCell(what), RowCell(before, struck=bool(before)), RowCell(after)), shares)


def _notes(sheet: Filled) -> Iterator[Block]:
    if sheet.notes:
        yield Heading(_("Notes"))
        for line in sheet.notes.splitlines():
            yield Said(line)
    if sheet.photos:
        yield Heading(_("Photos on the site"))
        for words in sheet.photos:
            yield Said(words, 9.5)


def _signed(signatures: Sequence[Signature]) -> Iterator[Block]:
    yield Heading(_("Signed"))
    for each in signatures:
        yield Drawn(each.strokes, GLASS, each.words)


def _done(sheet: Filled) -> str:
    if sheet.handed_in is None:
        return _("This sheet is not turned in yet: it can still change.")
    return _("Turned in {day}.").format(day=long_day(sheet.handed_in))


def filled(sheet: Filled) -> bytes:
    """Return the Filled ``sheet`` as the bytes of a PDF, of as many pages as it takes."""
    title = _("Check of {vessel}").format(vessel=sheet.vessel)
    day = long_day(sheet.day)
    paper = Document(title)
    footer = _("{title}, {day}, by {officer}").format(title=title, day=day, officer=sheet.officer)
    setting = Setting(paper, footer, CAUTIONS)
    checked = _("Checked on {day} by {officer}. {done}").format(
        day=day, officer=sheet.officer, done=_done(sheet)
    )
    setting.across([Said(title, 18, bold=True), Said(checked, 10.5)])
    if sheet.is_demo:
        setting.across([Said(_("Demo data: vessel, people and figures are invented."), bold=True)])
    setting.across(_head(sheet.head))
    if sheet.corrections:
        words = ngettext(
            "Corrected after it was turned in. What was turned in is shown beside it below.",
            "Corrected {count} times after it was turned in. What was turned in is shown beside "
            "it below.",
            len(sheet.corrections),
        ).format(count=len(sheet.corrections))
        setting.across([Said("", 4), Framed(words, bold=True)])
    setting.across(Framed(words) for words in sheet.notices)
    tally = sheet.whole.tally(sheet.beside.told)
    found = _("Measured against the clauses: {tally}").format(tally=tally)
    setting.across([Said("", 4), Strip(found)])
    rules = [_rules(book) for book in sheet.whole.rulebooks]
    memory = about_memory(sheet.whole.findings)
    setting.across(Said(words, 9) for words in (*rules, memory) if words)
    setting.in_columns(_groups(sheet))
    if sheet.readings:
        setting.across(_readings(sheet.readings))
    if sheet.corrections:
        setting.across(_corrections(sheet.corrections))
    setting.across(_notes(sheet))
    if sheet.signatures:
        setting.in_columns(_signed(sheet.signatures))
    if sheet.copy:
        setting.across([Said("", 6), Code(page.code(sheet.copy.address), sheet.copy.words)])
    return paper.data()


# An empty sheet --------------------------------------------------------------


def _asked(question: Question) -> Block:
    """Return where the answer to ``question`` is written by hand."""
    if question.sort == FLAG:
        return ToTick(question.label, (_("yes"), _("no"), _("not seen")))
    if question.sort == ROW:
        return ToWrite(question.label, mesh.SERIES, across=5, hint=question.bare)
    if question.several:
        return ToWrite(question.label, _ONE_BY_ONE, across=4, hint=question.bare)
    if question.sort == NAMES:
        return ToWrite(question.label, high=54)
    return ToWrite(question.label, hint=_("m/d/y") if question.sort == DAY else question.bare)


def _blank_head() -> Iterator[Block]:
    for labels in (
        (_("Vessel"), _("Number on the hull"), _("Permit")),
        (_("Day"), _("Start and end"), _("Harbor, or position at sea")),
        (_("Skipper"), _("Officer"), _("Who held the tape")),
        (_("Witness"), _("Which net, of how many"), _("Wet or dry")),
        (_("Fishery, if one is checked too"),),
    ):
        yield Beside(tuple(ToWrite(label) for label in labels))


def _stops(books: Sequence[Rulebook]) -> Iterator[Block]:
    for step in steps(books):
        yield Heading(step.title)
        for question in step.questions:
            yield _asked(question)


def blank(*books: Rulebook) -> bytes:
    """Return an empty sheet for the rule sets ``books`` as the bytes of a PDF."""
    title = _("Check sheet")
    paper = Document(title)
    setting = Setting(paper, f"{title}: {books[0].title}", CAUTIONS)
    rules = [Said(_rules(book), 9) for book in dict.fromkeys(books)]
    setting.across([Said(title, 18, bold=True), *rules])
    how = _(
        "Write one by one, or of parts that are alike the worst. Leave blank what you did not "
        "measure, and write why beside it. Write “said” beside what somebody only said."
    )
    setting.across([Said(how, 10, bold=True), *_blank_head()])
    setting.in_columns(_stops(books))
    setting.across([Heading(_("Notes")), Lined(_ROOM)])
    signed = tuple(
        ToWrite(label, high=54)
        for label in (_("Officer signs"), _("Skipper signs"), _("Witness signs"))
    )
    setting.across([Heading(_("Signed")), Beside(signed)])
    return paper.data()
