"""Tables to download: each as CSV and as XLSX, at addresses that differ in their ending."""

from django.urls import path

from .passing import passing
from .streaming import csv_stream
from .workbook import xlsx_response

ENDINGS = ("csv", "xlsx")


def both(route, view, name):
    """
    Return the two paths of a table: ``route`` with each of ENDINGS, called ``name``_ENDING.

    ``view`` is handed the ``ending``.
    """
    return [path(f"{route}.{end}", view, {"ending": end}, name=f"{name}_{end}") for end in ENDINGS]


def table(ending, name, header, rows):
    """Return a response that downloads ``header`` and ``rows`` as a file called ``name``."""
    filename, rows = f"{name}.{ending}", passing(rows)
    if ending == "xlsx":
        return xlsx_response(filename, name, header, rows)
    return csv_stream(filename, header, rows)
