"""
The way of a register from a file to what importing it would do, step by step.

Each step goes on by itself as far as nothing need be asked: ``take_in`` reads the file and
finds the headings, ``lay`` says where they are instead, ``match`` says what the columns are,
``answer`` what is unclear in them, ``decide`` which rows are about a vessel that is there.
"""

from contextlib import contextmanager
from datetime import timedelta

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.people import sight

from .. import harbors
from ..models import Harbor, ImportDraft
from . import asking, laying, matching
from .columns import RegisterError, check_columns
from .entries import Answers, vocabulary
from .importing import held
from .looking import look
from .reading import read

KEPT_FOR = timedelta(days=1)  # a draft that nobody confirms
# What a draft is made of when it is new.
TOLD = ("filename", "sheets", "sheet", "top", "headers", "rows", "columns", "answers", "outcomes")


def take_in(file, owner, key):
    """
    Return the ImportDraft of an uploaded ``file``, made once per ``key``; write no vessel.

    It goes as far as can be without asking. Raise RegisterError if the file is none that
    can be imported.
    """
    given_up = ImportDraft.objects.filter(applied=None, made__lt=timezone.now() - KEPT_FOR)
    given_up.filter(writes=None).delete()
    if found := ImportDraft.objects.filter(key=key, owner=owner).first():
        return found
    sheets, known = read(file), matching.all_known()
    draft = ImportDraft(key=key, owner=owner, filename=file.name[:200], sheets=sheets)
    tops = [laying.heading_line(sheet.lines, known) for sheet in sheets]
    headed = [laying.table(*each).headers for each in zip(_lines(sheets), tops, strict=True)]
    best = max(range(len(sheets)), key=lambda at: laying.known_among(headed[at], known))
    _lay(draft, best, tops[best])
    told = {name: getattr(draft, name) for name in TOLD}
    return look(ImportDraft.objects.get_or_create(key=key, owner=owner, defaults=told)[0])


def _lines(sheets):
    return [sheet.lines for sheet in sheets]


def _lay(draft, sheet, top):
    """Cut the table out of a sheet of ``draft`` and go on; ``top`` is the line of headings."""
    draft.sheet, draft.top = sheet, top
    draft.headers, draft.rows = laying.table(draft.sheets[sheet][1], top)
    draft.columns = None
    found = matching.guesses(draft, sight.harbors_of(draft.owner))
    if matching.settled(found):
        _match(draft, matching.columns_of(found))


def _match(draft, columns):
    """Take ``columns``, places by key, for those of ``draft``, and go on if all is clear."""
    draft.columns, draft.answers, draft.outcomes = columns, None, []
    found = questions(draft)
    if not found.any:
        _answer(draft, Answers(unit=found.unit, order=found.order.order))


def _answer(draft, answers):
    """Take ``answers`` for those to what was unclear in ``draft``; what would be done is open."""
    draft.answers, draft.outcomes = answers._asdict(), []


def questions(draft):
    """Return what is Unclear in ``draft``."""
    before = matching.unit_before(draft) if asking.asks_unit(draft) else ""
    return asking.unclear(draft, vocabulary(), sight.harbors_of(draft.owner), before)


@contextmanager
def _waiting(draft_key, owner):
    """
    Give the draft, locked, to a ``with`` block; save it, and look what would be done.

    Raise ImportDraft.DoesNotExist if it is imported already, or about to be.
    """
    with transaction.atomic():
        draft = held(draft_key, owner=owner, applied=None, writes=None)
        yield draft
        draft.save()
    look(draft)


def lay(draft_key, owner, sheet, top):
    """Read the sheet with the index ``sheet`` as one with its headings in the line ``top``."""
    with _waiting(draft_key, owner) as draft:
        if not 0 <= sheet < len(draft.sheets):
            raise RegisterError(_("Choose one of the sheets."))
        lines = draft.sheets[sheet][1]
        if sheet != draft.sheet:
            top = laying.heading_line(lines, matching.all_known())
        elif top != laying.NO_HEADINGS and top not in [line for line, __ in lines[:-1]]:
            raise RegisterError(_("Choose one of the rows that are shown."))
        _lay(draft, sheet, top)


def match(draft_key, owner, columns):
    """
    Take ``columns``, places by key, for those of a draft, and remember it by their headings.

    Return the draft. Raise RegisterError if there is nothing to know a vessel by.
    """
    check_columns(columns)
    with _waiting(draft_key, owner) as draft:
        matching.remember(draft, columns)
        _match(draft, columns)
    return draft


def answer(draft_key, owner, answers):
    """Take ``answers`` for those to what was unclear in a draft, and look what would be done."""
    with _waiting(draft_key, owner) as draft:
        if asking.asks_unit(draft):
            matching.remember_unit(draft, answers.unit)
        for text, name in answers.words.get("harbor", {}).items():
            _spell(name, text)
        twins = (draft.answers or {}).get("twins", {})
        _answer(draft, answers._replace(twins=twins))


def _spell(name, text):
    """Remember that ``text`` means the harbor ``name``, if there is one of that name."""
    harbor = Harbor.objects.filter(name=name).first()
    if harbor and harbors.canonical(text) is None:
        harbors.spell(harbor, text)


def decide(draft_key, owner, twins):
    """Take ``twins``, answers by line, for what becomes of rows that look like other vessels."""
    with _waiting(draft_key, owner) as draft:
        before = Answers(**draft.answers)
        _answer(draft, before._replace(twins=before.twins | twins))
