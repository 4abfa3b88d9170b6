"""Measurements on drawings as the measuring tool writes them down, one on each line."""

import re

from rigs.drawing.sheets.sheet import Measurement

# Nobody measures more than this; what comes after is a note like any other.
MOST = 40

_LINE = re.compile(
    r"(?P<name>.*?)\s*"
    r"\[(?P<sheet>[a-z]+) (?P<start>\d{1,5}(?:\.\d+)?) to (?P<end>\d{1,5}(?:\.\d+)?)\]"
)


def read_measurements(text, sheet):
    """
    Return the Measurements that ``text`` lists for the sheet called ``sheet``, in units.

    A line written by the tool ends in brackets with the sheet and both places on it. Any
    other line is a note: it is kept with the answer and left out here.
    """
    found = (_LINE.fullmatch(line.strip()) for line in text.splitlines()[:MOST])
    return tuple(
        Measurement(match["name"], float(match["start"]), float(match["end"]))
        for match in found
        if match and match["sheet"] == sheet
    )
