"""
Positions as people write them, read into decimal degrees.

Degrees and decimal minutes are the way of the wheelhouse, run together too as officers
write them; degrees with minutes and seconds, and decimal degrees, are read as well. ``str``
of a Position prints it back.
"""

import re

from .keyboard import plain
from .say import gettext as _
from .say import gettext_lazy
from .trip import Position
from .units import UnitError

EXAMPLE = "42 14.05 N 70 08.80 W"

# Degrees; a guard, ours: so far north a latitude without a letter is more likely a longitude.
_NORTHERNMOST = 60

_LONGEST_ENTRY = 80
_LATITUDE, _LONGITUDE = ("N", "S"), ("E", "W")
_WORDS = {
    _LATITUDE: ("latitude", gettext_lazy("north or south"), 90),
    _LONGITUDE: ("longitude", gettext_lazy("east or west"), 180),
}
_OTHER = {"latitude": "longitude", "longitude": "latitude"}
_PARTS = (("minutes", "a degree"), ("seconds", "a minute"))
_MARKS = ("°", "'", '"')
_DEGREE_SIGNS = str.maketrans("º˚", "°°")
_TOKEN = re.compile(
    r"\s*(?:(?P<number>[-+]?(?:\d+\.?\d*|\.\d+))|(?P<sign>[NSEW°'\",;/]))", re.ASCII
)
# Degrees, minutes and seconds run together: ddmm.mm, dddmm.mm, ddmmss, dddmmss.
_RUN_TOGETHER = re.compile(r"([-+]?\d{2,3})(\d\d(?:\.\d*)?|\d\d(?=\d\d$))(\d\d)?", re.ASCII)


class PositionError(UnitError):
    """A position that could not be read; the message is meant for its writer."""


def parse_position(text: str, bare: str | None = "NW") -> Position:
    """
    Return the Position that ``text`` says.

    ``42 14.05 N 70 08.8 W``, ``42°14.05', 70°08.8'``, ``N42-14.05 W070-08.8``,
    ``4214.05N 07008.80W``, ``42:14.05N 70:08.80W``, ``42 14 03 N 70 08 48 W`` and
    ``42.23417, -70.14667`` are understood, the latitude first unless letters say otherwise.
    Digits may be those of any script. ``bare`` are the letters taken for a latitude and
    a longitude without letter or sign; pass None to insist on one.

    Raise PositionError, saying what was not understood, for anything else.
    """
    entry = _plain(text)
    halves = _halves(_tokens(entry, text), text)
    (one, first), (other, second) = (_read(half, text) for half in halves)
    for letters, name in ((_LATITUDE, "latitude"), (_LONGITUDE, "longitude")):
        if one in letters and other in letters:
            raise _refusal(
                _("“{strip}” has two {name}s and no {OTHER}.").format(
                    strip=text.strip(), name=name, OTHER=_OTHER[name]
                )
            )
    if one in _LONGITUDE or other in _LATITUDE:
        one, first, other, second = other, second, one, first
    if one not in _LATITUDE and other not in _LONGITUDE and first > _NORTHERNMOST:
        raise _refusal(
            _("Is “{strip}” the longitude first? Add N and W.").format(strip=text.strip())
        )
    return Position(
        _signed(one, first, _LATITUDE, bare and bare[0]),
        _signed(other, second, _LONGITUDE, bare and bare[1]),
    )


def _refusal(words: str) -> PositionError:
    return PositionError(_("{words} Write it like {EXAMPLE}.").format(words=words, EXAMPLE=EXAMPLE))


def _plain(text: str) -> str:
    """Return ``text`` in capitals, its signs and dashes made alike."""
    if not text.strip():
        raise _refusal(_("Nothing was entered."))
    if len(text) > _LONGEST_ENTRY:
        raise _refusal(_("That entry is too long to read."))
    entry = plain(text).translate(_DEGREE_SIGNS).replace("''", '"').upper()
    entry = re.sub(r"\b(?:LAT|LONG?)(?:ITUDE)?\b[.:]?", " ", entry)
    entry = re.sub(r"\b([NSEW])(?:ORTH|OUTH|AST|EST)\b", r"\1", entry)
    # A dash or colon right between figures parts degrees from minutes; a dash between spaces
    # parts latitude from longitude. Any other dash is a sign.
    entry = re.sub(r"(?<=[\d°'])[-:](?=\d)", " ", entry)
    entry = re.sub(r"\s-\s", " , ", entry)
    # The mark of the minutes can stand before their decimals: 42°14'.05.
    entry = re.sub(r"(\d)'(\.\d+)", r"\1\2'", entry)
    # Two commas right between figures, and no point, are decimal commas.
    if "." not in entry and len(re.findall(r"\d,\d", entry)) == 2:
        entry = re.sub(r"(?<=\d),(?=\d)", ".", entry)
    return entry


def _tokens(entry: str, text: str) -> list[str]:
    """Return the numbers, letters and marks of ``entry`` in order."""
    tokens, at = [], 0
    entry = entry.rstrip()
    while at < len(entry):
        match = _TOKEN.match(entry, at)
        if not match:
            raise _refusal(
                _("“{strip}” in “{strip2}” was not understood.").format(
                    strip=entry[at:].strip(), strip2=text.strip()
                )
            )
        tokens.append(match["number"] or match["sign"])
        at = match.end()
    return tokens


def _is_number(token: str) -> bool:
    return token[-1].isdigit() or token[-1] == "."


def _halves(tokens: list[str], text: str) -> tuple[list[str], list[str]]:
    """Return the tokens of the first and of the second coordinate."""
    parting = [i for i, token in enumerate(tokens) if token in ",;/"]
    letters = [i for i, token in enumerate(tokens) if token in "NSEW"]
    numbers = [i for i, token in enumerate(tokens) if _is_number(token)]
    signed = [i for i in numbers[1:] if tokens[i][0] in "-+"]
    degrees = [i for i, token in enumerate(tokens) if token == "°"]
    if len(parting) > 1:
        raise _refusal(_("“{strip}” has too many commas.").format(strip=text.strip()))
    if parting:
        halves = tokens[: parting[0]], tokens[parting[0] + 1 :]
    elif letters and letters[0] == 0 and len(letters) > 1:
        halves = tokens[: letters[1]], tokens[letters[1] :]
    elif letters and letters[0] > 0:
        halves = tokens[: letters[0] + 1], tokens[letters[0] + 1 :]
    elif signed:
        halves = tokens[: signed[0]], tokens[signed[0] :]
    elif len(degrees) == 2:
        halves = tokens[: degrees[1] - 1], tokens[degrees[1] - 1 :]
    elif len(numbers) == 2 and "." not in tokens[0] and float(tokens[numbers[1]]) < 60:
        halves = tokens, []  # degrees and minutes of a latitude alone
    elif len(numbers) in (2, 4, 6) and not letters:
        second = numbers[len(numbers) // 2]
        halves = tokens[:second], tokens[second:]
    elif len(numbers) < 2:
        halves = tokens, []
    else:
        raise _refusal(
            _("We cannot see where the latitude ends in “{strip}”. Put a comma there.").format(
                strip=text.strip()
            )
        )
    for half in halves:
        if not any(map(_is_number, half)):
            raise _refusal(
                _("“{strip}” is half a position. Write both halves.").format(strip=text.strip())
            )
    return halves


def _read(tokens: list[str], text: str) -> tuple[str, float]:
    """Return (letter or "", signed degrees) of one coordinate; a sign is a letter of its own."""
    letters = [token for token in tokens if token in "NSEW"]
    numbers = [token for token in tokens if _is_number(token)]
    if len(letters) > 1 or (letters and letters[0] not in (tokens[0], tokens[-1])):
        raise _refusal(_("The letters in “{strip}” are out of place.").format(strip=text.strip()))
    if len(numbers) > 3:
        raise _refusal(_("“{strip}” has too many numbers.").format(strip=text.strip()))
    if any(number[0] in "-+" for number in numbers[1:]):
        raise _refusal(
            _("“{strip}” has a plus or minus sign out of place.").format(strip=text.strip())
        )
    if letters and numbers[0][0] in "-+":
        raise _refusal(
            _("“{strip}” has a sign and a letter. Use one of them.").format(strip=text.strip())
        )
    _check_marks(tokens, text)
    # A number by itself only: in 42 1405 a point may be missing, and nobody can say where.
    if len(numbers) == 1 and (run := _RUN_TOGETHER.fullmatch(numbers[0])):
        numbers = [part for part in run.groups() if part]
    if any("." in number for number in numbers[:-1]):
        raise _refusal(
            _("Only the last number of each half can have decimals in “{strip}”.").format(
                strip=text.strip()
            )
        )
    values = [float(number.lstrip("+-")) for number in numbers]
    for value, (name, whole) in zip(values[1:], _PARTS, strict=False):
        if value >= 60:
            raise _refusal(
                _("{value:g} {name} in “{strip}” is too many: {whole} has 60.").format(
                    value=value, name=name, strip=text.strip(), whole=whole
                )
            )
    degrees = sum(value / 60**i for i, value in enumerate(values))
    sign = numbers[0][0] if numbers[0][0] in "-+" else ""
    return (letters[0] if letters else sign), degrees


def _check_marks(tokens: list[str], text: str) -> None:
    """Refuse a mark that does not belong to the figure before it."""
    count = 0
    for before, token in zip(["", *tokens], tokens, strict=False):
        count += _is_number(token)
        if token in _MARKS and (
            not before or not _is_number(before) or _MARKS.index(token) != count - 1
        ):
            raise _refusal(
                _("The {token} in “{strip}” is out of place.").format(
                    token=token, strip=text.strip()
                )
            )


def _signed(letter: str, degrees: float, letters: tuple[str, str], bare: str | None) -> float:
    """Return ``degrees`` with its sign, north and east positive; ``letters`` says which it is."""
    name, question, most = _WORDS[letters]
    if letter in ("+", "-"):
        letter = letters[letter == "-"]
    letter = letter or bare or ""
    if not letter:
        raise _refusal(_("Is the {name} {question}?").format(name=name, question=question))
    if degrees > most:
        raise _refusal(
            _("A {name} cannot be {degrees:g} degrees: {most} is the most.").format(
                name=name, degrees=degrees, most=most
            )
        )
    return degrees if letter in ("N", "E") else -degrees
