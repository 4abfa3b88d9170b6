"""Made-up registers as files, for the tests of importing them."""

import io
import uuid

from django.core.files.uploadedfile import SimpleUploadedFile
from openpyxl import Workbook

from training.register.table import importing

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


def dry_run(file, owner):
    """Return the draft of ``file`` and its Outcomes."""
    draft = importing.dry_run(file, owner, uuid.uuid4())
    return draft, importing.outcomes_of(draft)


def import_file(file, owner):
    """Import ``file`` and return the draft."""
    draft, _ = dry_run(file, owner)
    draft, done = importing.confirm(draft.key, owner)
    assert done
    return draft
