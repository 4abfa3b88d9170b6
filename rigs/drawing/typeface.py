"""
The typeface of prints and pictures: Open Sans, out of the Python requirements.

No font of the machine is ever asked for, so a page has the same words in the same
places wherever it is made.
"""

import unicodedata
from functools import cache, lru_cache

from fontTools.ttLib import TTFont
from PIL import ImageFont
from ttf_opensans import OPENSANS_BOLD, OPENSANS_REGULAR

UNKNOWN = "?"
"""Printed for a letter that the typeface lacks and that has no plainer form."""

_SILENT = {"Cc", "Cf", "Cs", "Mn", "Me"}
"""Sorts of character that leave no gap where they are missing: controls and loose accents."""


def path(bold: bool = False) -> str:
    """Return the path of the typeface's file, as text."""
    return str((OPENSANS_BOLD if bold else OPENSANS_REGULAR).path)


@cache
def font(pixels: float, bold: bool = False) -> ImageFont.FreeTypeFont:
    """
    Return the typeface ``pixels`` high, to draw with on a picture.

    Letters are set one after another by the typeface's own widths: Pillow's other way
    of setting them asks for a library that some machines have and some have not.
    """
    return ImageFont.truetype(path(bold), pixels, layout_engine=ImageFont.Layout.BASIC)


@cache
def _widths(bold: bool) -> dict[int, int]:
    """Return how wide each letter is, by code point, in thousandths of its size."""
    with TTFont(path(bold), lazy=True) as face:
        scale, metrics = 1000 / face["head"].unitsPerEm, face["hmtx"]
        # Rounded as by the library that writes the PDF.
        return {
            code: round(scale * metrics[glyph][0] + 0.001)
            for code, glyph in face.getBestCmap().items()
        }


@lru_cache(maxsize=2**14)
def width(words: str, bold: bool = False) -> int:
    """Return how wide ``words`` are when printed, in thousandths of the size of the letters."""
    widths = _widths(bold)
    return sum(widths[ord(letter)] for letter in printable(words))


@cache
def _letters() -> frozenset[int]:
    """Return the code points of all letters that both weights have."""
    found = []
    for bold in (False, True):
        with TTFont(path(bold), lazy=True) as face:
            found.append(frozenset(face.getBestCmap()))
    return found[0] & found[1]


@cache
def _printed(letter: str) -> str:
    if ord(letter) in _letters():
        return letter
    if letter.isspace():
        return " "
    plain = "".join(c for c in unicodedata.normalize("NFKD", letter) if ord(c) in _letters())
    if plain:
        return plain
    return "" if unicodedata.category(letter) in _SILENT else UNKNOWN


def printable(words: str) -> str:
    """
    Return ``words`` in letters that the typeface has.

    It has those of Latin, Greek and Cyrillic script. Any other is printed in its plainer
    form if there is one, such as "2" for a "2" in a ring, and else as ``UNKNOWN``.
    """
    return "".join(map(_printed, unicodedata.normalize("NFC", words)))
