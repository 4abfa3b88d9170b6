"""
Tables that are downloaded as XLSX files.

The library is loaded when a file is made, which most workers of a server never do.
"""

import re
from datetime import date, datetime

from django.http import HttpResponse

from .spreadsheet import PercentCell, as_told

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


# How a spreadsheet shows what is more than a number.
DAY = "yyyy-mm-dd"
MINUTE = "hh:mm"
FORMATS = ((PercentCell, "0.0%"), (datetime, f"{DAY} {MINUTE}"), (date, DAY))
NOT_IN_A_TITLE = re.compile(r"[\[\]:*?/\\]")
LONGEST_TITLE = 31  # letters, of the sheet of such a file


def _cell(sheet, value):
    """Return ``value`` as a cell of ``sheet`` that is never run and can stand in such a file."""
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    told = as_told(value)
    if isinstance(told, str):
        return ILLEGAL_CHARACTERS_RE.sub("", told)
    for sort, shown_as in FORMATS:
        if isinstance(told, sort):
            cell = WriteOnlyCell(sheet, told.share if sort is PercentCell else told)
            cell.number_format = shown_as
            return cell
    return told


def xlsx_response(filename, title, header, rows):
    """Return a response that downloads ``header`` and ``rows`` on a sheet called ``title``."""
    from openpyxl import Workbook

    book = Workbook(write_only=True)
    sheet = book.create_sheet(NOT_IN_A_TITLE.sub(" ", str(title))[:LONGEST_TITLE])
    sheet.freeze_panes = "A2"
    sheet.append([str(each) for each in header])
    for row in rows:
        sheet.append([_cell(sheet, value) for value in row])
    response = HttpResponse(
        content_type=XLSX, headers={"Content-Disposition": f'attachment; filename="{filename}"'}
    )
    book.save(response)
    return response
