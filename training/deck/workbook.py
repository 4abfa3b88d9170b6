"""Tables that are downloaded as XLSX files."""

from django.http import HttpResponse
from openpyxl import Workbook
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

from .spreadsheet import safe_cell

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def _cell(value):
    """Return ``value`` as a cell that is never run and can stand in such a file."""
    safe = safe_cell(value)
    return ILLEGAL_CHARACTERS_RE.sub("", safe) if isinstance(safe, str) else safe


def xlsx_response(filename, title, header, rows):
    """Return a response that downloads ``header`` and ``rows`` on a sheet called ``title``."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet(title)
    sheet.freeze_panes = "A2"
    sheet.append(header)
    for row in rows:
        sheet.append([_cell(value) for value in row])
    response = HttpResponse(
        content_type=XLSX, headers={"Content-Disposition": f'attachment; filename="{filename}"'}
    )
    book.save(response)
    return response
