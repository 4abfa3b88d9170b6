"""Long tables, sent row by row while they are read."""

import csv

from django.http import StreamingHttpResponse

from .spreadsheet import safe_cell


class _Line:
    """What a csv.writer writes to: hands each line on as it comes."""

    def write(self, text):
        return text


def csv_stream(filename, header, rows):
    """
    Return a response that downloads ``header`` and ``rows`` as a CSV file of any length.

    ``rows`` are taken one by one while they are sent, and are never all in memory.
    """

    def lines():
        writer = csv.writer(_Line())
        # Without the mark, spreadsheets take the accents in names for something else.
        yield "\ufeff" + writer.writerow(header)
        for row in rows:
            yield writer.writerow([safe_cell(value) for value in row])

    return StreamingHttpResponse(
        lines(),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{filename}"'},
    )
