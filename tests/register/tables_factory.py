"""Made-up registers as files, for the tests of importing them."""

import io
import uuid

from django.core.files.uploadedfile import SimpleUploadedFile
from openpyxl import Workbook

from training.register.models import ImportDraft
from training.register.table import importing, laying, matching, outlook, steps
from training.register.table.columns import KEYS
from training.register.table.entries import Answers
from training.register.table.reading import read

HEADER = ["name", "harbor", "length", "registration number", "owner", "captain"]


def csv_file(*rows, header=HEADER, sign=",", encoding="utf-8-sig", name="register.csv"):
    """Return an uploaded CSV file of ``rows``, whose cells hold no quotes or signs."""
    text = "\r\n".join(sign.join(row) for row in (header, *rows))
    return SimpleUploadedFile(name, text.encode(encoding))


def xlsx_file(*rows, header=HEADER):
    """Return an uploaded XLSX file of ``rows``."""
    book = Workbook()
    for row in (header, *rows):
        book.active.append(row)
    content = io.BytesIO()
    book.save(content)
    return SimpleUploadedFile("register.xlsx", content.getvalue())


def read_table(file):
    """Return the Table in the first sheet of ``file``, its headings found."""
    lines = read(file)[0].lines
    return laying.table(lines, laying.heading_line(lines, KEYS.keys()))


def dry_run(file, owner, **said):
    """
    Return the draft of ``file`` and its Outcomes.

    What would be asked is answered: columns as they are guessed, American dates, lengths
    in feet, or as ``said``.
    """
    draft = steps.take_in(file, owner, uuid.uuid4())
    if draft.columns is None:
        found = matching.guesses(draft, None)
        draft = steps.match(draft.key, owner, matching.columns_of(found))
    if draft.answers is None:
        found = steps.questions(draft)
        told = {"unit": found.unit or "ft", "order": found.order.order or "mdy"}
        steps.answer(draft.key, owner, Answers(**(told | said)))
    draft = ImportDraft.objects.get(key=draft.key)
    return draft, outlook.outcomes_of(draft)


def import_file(file, owner, **said):
    """Import ``file`` and return the draft."""
    draft, _ = dry_run(file, owner, **said)
    draft, done = importing.confirm(draft.key, owner)
    assert done
    return draft
