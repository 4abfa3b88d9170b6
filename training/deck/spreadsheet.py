"""Tables that are downloaded and opened in a spreadsheet."""

import csv

from django.http import HttpResponse

# A spreadsheet runs a cell that begins with one of these as a formula, and the text in
# it may be whatever a stranger typed as a name (OWASP, "CSV injection").
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def _could_run(text):
    """Return whether ``text`` is taken for a formula, or would be with its apostrophe gone."""
    return text.lstrip("'").lstrip(" ").startswith(FORMULA_STARTS)


def safe_cell(value):
    """
    Return ``value`` as a cell that a spreadsheet shows and never runs.

    Text that could be taken for a formula gets an apostrophe in front; numbers stay
    numbers; yes and no are spelt out; None is an empty cell.
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return value
    text = str(value)
    return f"'{text}" if _could_run(text) else text


def as_written(cell):
    """Return the text that ``safe_cell`` made the text ``cell`` of."""
    return cell[1:] if cell.startswith("'") and _could_run(cell[1:]) else cell


def csv_response(filename, header, rows):
    """Return a response that downloads ``header`` and ``rows`` as a CSV file."""
    response = HttpResponse(
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{filename}"'},
    )
    # Without the mark, spreadsheets take the accents in names for something else.
    response.write("\ufeff")
    writer = csv.writer(response)
    writer.writerow(header)
    writer.writerows([safe_cell(value) for value in row] for row in rows)
    return response
