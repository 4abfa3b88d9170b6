"""Text as keyboards of many kinds write it, made plain before it is read."""

import re
import unicodedata

_SIGNS = {
    '"': "″”“＂",
    "'": "′’‘＇",
    "-": "−–‐‑－",
    "/": "⁄∕／",
    ".": "．٫",
    ",": "，٬،",
    ";": "；",
    " ": "\ufeff",
}
PLAIN = {sign: plain for plain, signs in _SIGNS.items() for sign in signs}
"""The plain sign for each that a keyboard may write instead of it."""

FRACTIONS = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
"""The fractions that have a sign of their own."""

_TABLE = str.maketrans(PLAIN)


def plain(text: str) -> str:
    """
    Return ``text`` with the digits and signs of other scripts as plain ones.

    Only decimal digits count as digits: superscripts and the like stay what they are.
    Spaces of all sorts become plain, lines stay lines.
    """
    told = "".join(
        c if c.isascii() else str(unicodedata.decimal(c, c)) for c in text.translate(_TABLE)
    )
    return re.sub(r"[^\S\n]", " ", told)


def spelled_out(text: str) -> str:
    """Return plain ``text`` with every fraction sign written out: ``2½`` as ``2 1/2``."""
    for sign, fraction in FRACTIONS.items():
        text = re.sub(rf"(?<=[0-9])\s*{sign}", f" {fraction}", text).replace(sign, fraction)
    return text
