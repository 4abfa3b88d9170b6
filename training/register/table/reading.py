"""Makes rows of text of a CSV or XLSX file that somebody sent: nothing in it is trusted."""

import codecs
import csv
import io
import zipfile
from datetime import date, datetime
from typing import NamedTuple

from django.utils.translation import gettext as _
from openpyxl import load_workbook

from training.deck.spreadsheet import as_written

from .columns import RegisterError, known_headings

# Common sense, no source: many times the largest fleet the site is made for.
MOST_BYTES = 5_000_000
MOST_BYTES_UNPACKED = 60_000_000
MOST_PARTS = 200
MOST_ROWS = 20_000
MOST_COLUMNS = 60
MOST_LETTERS = 500  # in a cell

DELIMITERS = ",;\t"


class Table(NamedTuple):
    """The first row of a file and the others, each with the number of its line; all text."""

    headers: list[str]
    rows: list[tuple[int, list[str]]]


def read(file):
    """
    Return the Table in ``file``, an uploaded CSV or XLSX file.

    Lines without any text are left out. Raise RegisterError if it cannot be read or is
    too much to be a register.
    """
    if file.size > MOST_BYTES:
        raise RegisterError(
            _(
                "The file is larger than {value} MB. A register of vessels is smaller: check "
                "that it is the right file."
            ).format(value=MOST_BYTES // 1_000_000)
        )
    content = file.read()
    lines = _workbook_lines(content) if content.startswith(b"PK") else _text_lines(content)
    found = [(line, cells) for line, cells in lines if any(cells)]
    if not found:
        raise RegisterError(_("The file is empty."))
    if len(found) == 1:
        raise RegisterError(_("The file has a first row, but no vessel below it."))
    return Table(found[0][1], found[1:])


def _count(rows):
    """Yield from ``rows``; raise RegisterError if there are more than a register has."""
    for number, row in enumerate(rows):
        if number > MOST_ROWS:
            raise RegisterError(
                _(
                    "There are more than {MOST_ROWS:,} rows in the file. Split it into parts."
                ).format(MOST_ROWS=MOST_ROWS)
            )
        yield row


def _text_lines(content):
    """Yield (line number, cells) of a CSV file."""
    text = _decode(content)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text))
    before = 0
    try:
        for cells in _count(reader):
            yield before + 1, [_tidy(as_written(cell)) for cell in cells[:MOST_COLUMNS]]
            before = reader.line_num
    except csv.Error as error:
        raise RegisterError(
            _("Line {line_num} cannot be read. Save the table as CSV or XLSX again.").format(
                line_num=reader.line_num
            )
        ) from error


def _decode(content):
    """Return ``content`` as text, in one of the encodings that spreadsheets save in."""
    wide = content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    for encoding in ("utf-16",) if wide else ("utf-8-sig", "cp1252"):
        try:
            text = content.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise RegisterError(
        _("This is not a table. Save the register as CSV or XLSX, and choose that file.")
    )


def _delimiter(text):
    """Return the sign between cells: the one by which most headings are known."""
    first = next((line for line in text.splitlines() if line.strip()), "")

    def known(sign):
        return known_headings(next(csv.reader([first], delimiter=sign), [])), first.count(sign)

    return max(DELIMITERS, key=known)


def _workbook_lines(content):
    """Yield (line number, cells) of the first sheet of an XLSX file."""
    try:
        _look_into(content)
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        sheet = book.worksheets[0]
        # The size that the file says it has may be wrong.
        sheet.reset_dimensions()
        rows = sheet.iter_rows(max_col=MOST_COLUMNS, values_only=True)
        for line, cells in enumerate(_count(rows), 1):
            texts = [_tidy(_cell_text(cell)) for cell in cells]
            while texts and not texts[-1]:
                texts.pop()
            yield line, texts
    except RegisterError:
        raise
    # A broken file fails anywhere in the library, with whatever comes of it.
    except Exception as error:
        raise RegisterError(
            _("This XLSX file cannot be read. Open it in a spreadsheet and save it again.")
        ) from error


def _look_into(content):
    """Raise RegisterError if a packed file would unpack to more than a register is."""
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        parts = packed.infolist()
    # Python unpacks no more of a part than it says it holds.
    if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_BYTES_UNPACKED:
        raise RegisterError(
            _("This file is too large for a register of vessels. Check that it is the right file.")
        )


def _cell_text(value):
    """Return the value of a cell as a person would type it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return as_written(str(value))


def _tidy(text):
    """Return ``text`` on one line, without signs that cannot be seen."""
    tidied = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if len(tidied) > MOST_LETTERS:
        raise RegisterError(
            _(
                "A cell holds more than {MOST_LETTERS} letters: “{tidied} ...”. Check that it is "
                "the right file."
            ).format(MOST_LETTERS=MOST_LETTERS, tidied=tidied[:40])
        )
    return tidied
