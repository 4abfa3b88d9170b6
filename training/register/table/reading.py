"""Makes rows of text of a CSV or XLSX file that somebody sent: nothing in it is trusted."""

import codecs
import csv
import io
import zipfile
from datetime import date, datetime
from typing import NamedTuple

from django.utils.translation import gettext as _

from training.deck.spreadsheet import as_written

from .columns import KEYS, RegisterError
from .laying import LOOKED_AT, known_among

# Common sense, no source: many times the largest fleet the site is made for.
MOST_BYTES = 5_000_000
MOST_BYTES_UNPACKED = 60_000_000
MOST_PARTS = 200
MOST_ROWS = 20_000
MOST_COLUMNS = 60
MOST_LETTERS = 500  # in a cell

MOST_SHEETS = 30

DELIMITERS = ",;\t|"


class Sheet(NamedTuple):
    """A sheet of a file: its ``name``, blank in a CSV file, and its lines by number; all text."""

    name: str
    lines: list[tuple[int, list[str]]]


def read(file):
    """
    Return the Sheets in ``file``, an uploaded CSV or XLSX file, that hold more than one line.

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
    if content.startswith(b"PK"):
        sheets = _workbook_sheets(content)
    else:
        sheets = [Sheet("", _full(_text_lines(content)))]
    if not any(sheet.lines for sheet in sheets):
        raise RegisterError(_("The file is empty."))
    found = [sheet for sheet in sheets if len(sheet.lines) > 1]
    if not found:
        raise RegisterError(_("The file has a first row, but no vessel below it."))
    return found


def _full(lines):
    """Return those of ``lines`` that hold any text."""
    return [(line, cells) for line, cells in lines if any(cells)]


def _count(rows, most=None):
    """Yield from ``rows``; raise RegisterError if there are more than a register has."""
    most = MOST_ROWS if most is None else most
    for number, row in enumerate(rows):
        if number > most:
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
    """
    Return the sign between cells: the one by which most headings are known.

    Where none is known it is the one that makes the widest table.
    """
    first = [line for line in text.splitlines() if line.strip()][:LOOKED_AT]

    def fits(sign):
        try:
            rows = [next(csv.reader([line], delimiter=sign), []) for line in first]
        except csv.Error:
            return 0, 0
        known = max((known_among(cells, KEYS.keys()) for cells in rows), default=0)
        widths = sorted(len(cells) for cells in rows)
        return known, widths[len(widths) // 2] if widths else 0

    return max(DELIMITERS, key=fits)


def _workbook_sheets(content):
    """Return the Sheets of an XLSX file, those that are hidden left out."""
    try:
        _look_into(content)
        from openpyxl import load_workbook

        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        seen = [each for each in book.worksheets if each.sheet_state == "visible"]
        sheets, room = [], MOST_ROWS
        for sheet in (seen or book.worksheets)[:MOST_SHEETS]:
            lines = _full(_sheet_lines(sheet, room))
            room -= len(lines)
            sheets.append(Sheet(sheet.title, lines))
        return sheets
    except RegisterError:
        raise
    # A broken file fails anywhere in the library, with whatever comes of it.
    except Exception as error:
        raise RegisterError(
            _("This XLSX file cannot be read. Open it in a spreadsheet and save it again.")
        ) from error


def _sheet_lines(sheet, most):
    """Yield (line number, cells) of a sheet of an XLSX file."""
    # The size that the file says it has may be wrong.
    sheet.reset_dimensions()
    rows = sheet.iter_rows(max_col=MOST_COLUMNS, values_only=True)
    for line, cells in enumerate(_count(rows, most), 1):
        texts = [_tidy(_cell_text(cell)) for cell in cells]
        while texts and not texts[-1]:
            texts.pop()
        yield line, texts


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
