"""
What people write on deck, read into SI and printed back.

Lengths are metres, masses kilograms, speeds metres per second. The factors are
exact by definition: the inch of 25.4 mm and the pound of 0.45359237 kg
(international yard and pound agreement, 1959), the international knot of
1852 m in an hour.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from .keyboard import FRACTIONS, PLAIN, plain, spelled_out
from .say import gettext as _

INCH = 0.0254
FOOT = 0.3048
FATHOM = 1.8288
POUND = 0.45359237
KNOT = 1852 / 3600

# Lengths typed in feet and inches become binary fractions of a metre; a millionth
# of a millimetre is far above their rounding and far below any tape.
ROUNDING = 1e-9

Units = Mapping[str, Fraction]
"""The units of one kind of quantity, each by what it is in SI."""

Piece = tuple[Fraction, str | None, str]
"""A number of an entry, its unit if it has one, and thousands that may be decimals or ""."""

_EXACT = {
    "in": Fraction(254, 10000),
    "ft": Fraction(3048, 10000),
    "fm": Fraction(18288, 10000),
    "yd": Fraction(9144, 10000),
    "m": Fraction(1),
    "cm": Fraction(1, 100),
    "mm": Fraction(1, 1000),
}
_MASS = {
    "lb": Fraction(45359237, 100000000),
    "oz": Fraction(45359237, 1600000000),
    "kg": Fraction(1),
    "g": Fraction(1, 1000),
}
_SPEED = {"kn": Fraction(1852, 3600), "m/s": Fraction(1)}

_NAMES = {
    '"': "in",
    "in": "in",
    "in.": "in",
    "ins": "in",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "ft": "ft",
    "ft.": "ft",
    "foot": "ft",
    "feet": "ft",
    "fm": "fm",
    "fms": "fm",
    "fathom": "fm",
    "fathoms": "fm",
    "yd": "yd",
    "yards": "yd",
    "m": "m",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "cm": "cm",
    "mm": "mm",
    "lb": "lb",
    "lbs": "lb",
    "lb.": "lb",
    "pound": "lb",
    "pounds": "lb",
    "oz": "oz",
    "kg": "kg",
    "g": "g",
    "kn": "kn",
    "kt": "kn",
    "kts": "kn",
    "knot": "kn",
    "knots": "kn",
    "m/s": "m/s",
}
_PIECE = re.compile(
    r"""\s*
    (?:(?P<whole>\d+)(?:\s+|-)(?P<num>\d+)\s*/\s*(?P<den>\d+)
      |(?P<fnum>\d+)\s*/\s*(?P<fden>\d+)
      |(?P<thousands>[1-9]\d{0,2}(?:,\d{3})+(?!\d|,\d)(?:\.\d*)?)
      |(?P<comma>\d+,\d+(?![\d.]|,\d))
      |(?P<decimal>\d+(?:\.\d*)?|\.\d+))
    (?:\s*(?P<unit>m/s|"|'|[A-Za-z]+\.?)(?:\s*,|-(?=[\d.]))?
      |\s*,(?=\s*$))?
    \s*""",
    re.VERBOSE | re.ASCII,
)
_FEET_INCHES = re.compile(r"(\d+)-(\d+)(\.\d*|\s+\d+\s*/\s*\d+)?", re.ASCII)
_LONE_FRACTION = re.compile(r"\d+\s*/\s*\d+", re.ASCII)

_MOST_INCHES = 11
_NEVER_THOUSANDS = ("fm", "m", "kn", "m/s")
"""Units in which nobody means thousands: there a comma may stand for a decimal point."""

_EXAMPLES = {
    "ft": "8 ft 6 in",
    "in": "2 1/2 in",
    "fm": "12 fm",
    "mm": "50 mm",
    "lb": "120 lb",
    "kn": "2.8 kn",
}
_OTHER_EXAMPLE = "3 ft 6 in or 1.07 m"

# Nobody rigs a net with more than this; longer digits are a slip of the thumb.
_LONGEST_ENTRY = 60


class UnitError(ValueError):
    """An entry that could not be read; the message is meant for its writer."""


def _number(match: re.Match[str], said: str, example: str) -> Fraction:
    """Return the number in one piece of an entry as a Fraction."""
    den = match["den"] or match["fden"]
    if den:
        if int(den) == 0:
            raise UnitError(
                _("“{said}” divides by zero. Write it like {example}.").format(
                    said=said, example=example
                )
            )
        part = Fraction(int(match["num"] or match["fnum"]), int(den))
        return part + int(match["whole"] or 0)
    if match["comma"]:
        return Fraction(match["comma"].replace(",", "."))
    return Fraction((match["thousands"] or match["decimal"]).replace(",", "").rstrip("."))


def _unit(name: str, said: str, kinds: Units, example: str) -> str:
    unit = _NAMES.get(name.lower())
    if unit is None or unit not in kinds:
        raise UnitError(
            _("“{name}” in “{said}” is not a unit known here. Write it like {example}.").format(
                name=name, said=said, example=example
            )
        )
    return unit


def _pieces(entry: str, said: str, kinds: Units, example: str) -> Iterator[Piece]:
    """Yield each Piece of ``entry``."""
    at = 0
    while at < len(entry):
        match = _PIECE.match(entry, at)
        if not match:
            raise UnitError(
                _("“{strip}” in “{said}” was not understood. Write it like {example}.").format(
                    strip=entry[at:].strip(), said=said, example=example
                )
            )
        at = match.end()
        unit = _unit(match["unit"], said, kinds, example) if match["unit"] else None
        thousands = match["thousands"] or ""
        doubtful = thousands.count(",") == 1 and "." not in thousands
        yield _number(match, said, example), unit, thousands if doubtful else ""


def _in_feet(entry: str, said: str, example: str) -> str:
    """Return an ``entry`` such as 8-1, eight feet and an inch, in words; others as they are."""
    found = _FEET_INCHES.fullmatch(entry)
    if not found:
        return entry
    feet, inches, part = found.groups("")
    if int(inches) > _MOST_INCHES:
        raise UnitError(
            _("“{said}” has more than 11 inches. Write it like {example}.").format(
                said=said, example=example
            )
        )
    return f"{feet} ft {inches}{part} in"


def _sum(pieces: Sequence[Piece], said: str, kinds: Units, bare: str | None, example: str) -> float:
    total = Fraction(0)
    previous = None
    for i, (number, unit, thousands) in enumerate(pieces):
        if unit is None and i and previous == "ft" and i == len(pieces) - 1:
            unit = "in"  # 3'6 is written for 3'6"
        elif unit is None and len(pieces) == 1:
            unit = bare
        if unit is None:
            raise UnitError(
                _("“{said}” needs a unit. Write it like {example}.").format(
                    said=said, example=example
                )
            )
        if thousands and unit in _NEVER_THOUSANDS:
            point, whole = thousands.replace(",", "."), thousands.replace(",", "")
            raise UnitError(
                _(
                    "Is “{said}” {point} {unit} or {whole} {unit}? Write it without the comma."
                ).format(said=said, point=point, unit=unit, whole=whole)
            )
        if previous and kinds[unit] >= kinds[previous]:
            raise UnitError(
                _("“{said}” has a small unit first. Write the larger unit first.").format(said=said)
            )
        total += number * kinds[unit]
        previous = unit
    return float(total)


def _parse(text: str, kinds: Units, bare: str | None) -> float:
    said = plain(text).strip()
    entry = spelled_out(said).replace("''", '"')
    example = _EXAMPLES.get(bare or "", _OTHER_EXAMPLE)
    if not entry:
        raise UnitError(_("Nothing was entered. Write it like {example}.").format(example=example))
    if len(entry) > _LONGEST_ENTRY:
        raise UnitError(
            _("That entry is too long to read. Write it like {example}.").format(example=example)
        )
    if entry.startswith("-"):
        raise UnitError(
            _("“{said}” is below zero. Write it like {example}.").format(said=said, example=example)
        )
    if kinds is _EXACT and _LONE_FRACTION.fullmatch(entry):
        bare = "in"
    if bare == "ft":
        entry = _in_feet(entry, said, example)
    return _sum(list(_pieces(entry, said, kinds, example)), said, kinds, bare, example)


def parse_length(text: str, bare: str | None = "ft") -> float:
    """
    Return the length in metres that ``text`` says.

    Mixed entries such as ``3 ft 6 in``, ``3'6"``, ``5/16 in``, ``2 1/2 in``,
    ``12 fm`` and ``1.07 m`` are understood. A lone number is assumed to be in the
    unit ``bare``, save that a lone common fraction such as ``5/16`` is always
    inches, as chain and wire are named. Where ``bare`` is feet, ``8-1`` is eight
    feet and one inch; ``2-1/2`` is two and a half everywhere. Pass ``bare=None`` to
    insist on a unit.

    A comma parts thousands if three digits follow, ``1,200``, and is a decimal comma if
    not, ``2,8``. Where it may be either, as in ``2,800 kn``, the writer is asked.

    Raise UnitError, saying what was not understood, for anything else.
    """
    return _parse(text, _EXACT, bare)


def split_list(text: str) -> list[str]:
    """
    Return the entries that ``text`` lists: one a line, or with commas or semicolons between.

    Raise UnitError for two numbers with nothing but a comma between, which may be one.
    """
    entries: list[str] = []
    for part in re.split(r"[;\n]|,(?=\s|$)", plain(text)):
        if re.fullmatch(r"\s*\d+,\d+(?:[^\d,]*)", part):
            raise UnitError(
                _(
                    "“{strip}” may be one number or two. Put a space after a comma between two. "
                    "Write a point within one: 2.5."
                ).format(strip=part.strip())
            )
        entries += part.split(",")
    return [entry.strip() for entry in entries if entry.strip()]


def reading_rules() -> dict[str, object]:
    """Return what a script needs, beside the units, to read lengths as ``parse_length`` does."""
    return {
        "signs": PLAIN,
        "fractions": FRACTIONS,
        "examples": _EXAMPLES,
        "never_thousands": _NEVER_THOUSANDS,
        "most_inches": _MOST_INCHES,
        "longest_entry": _LONGEST_ENTRY,
    }


def exact_lengths() -> dict[str, tuple[int, int]]:
    """Return each unit of length as the two whole numbers whose ratio is its metres."""
    return {name: exact.as_integer_ratio() for name, exact in _EXACT.items()}


def length_names() -> dict[str, str]:
    """Return the unit of length that each way of writing one stands for."""
    return {name: unit for name, unit in _NAMES.items() if unit in _EXACT}


def exact_masses() -> dict[str, tuple[int, int]]:
    """Return each unit of mass as the two whole numbers whose ratio is its kilograms."""
    return {name: exact.as_integer_ratio() for name, exact in _MASS.items()}


def mass_names() -> dict[str, str]:
    """Return the unit of mass that each way of writing one stands for."""
    return {name: unit for name, unit in _NAMES.items() if unit in _MASS}


def parse_mass(text: str, bare: str | None = "lb") -> float:
    """Return the mass in kilograms that ``text`` says; raise UnitError if unclear."""
    return _parse(text, _MASS, bare)


def parse_speed(text: str, bare: str | None = "kn") -> float:
    """Return the speed in metres per second that ``text`` says; raise UnitError."""
    return _parse(text, _SPEED, bare)


def _mixed(value: float, denominator: int) -> str:
    """Return a number of inches as a whole number and a fraction in lowest terms."""
    ticks = round(value * denominator)
    whole, rest = divmod(ticks, denominator)
    if not rest:
        return str(whole)
    part = Fraction(rest, denominator)
    return f"{whole} {part}" if whole else str(part)


def inches(metres: float, denominator: int = 16) -> str:
    """Print a length in metres as inches, to the nearest 1/``denominator``: ``42 in``."""
    sign = "-" if metres < 0 else ""
    return f"{sign}{_mixed(abs(metres) / INCH, denominator)} in"


def feet_inches(metres: float, denominator: int = 16) -> str:
    """Print a length in metres as feet and inches: ``3 ft 6 in``, ``8 ft``, ``5/16 in``."""
    sign = "-" if metres < 0 else ""
    ticks = round(abs(metres) / INCH * denominator)
    feet, rest = divmod(ticks, 12 * denominator)
    if not feet:
        return f"{sign}{_mixed(rest / denominator, denominator)} in"
    if not rest:
        return f"{sign}{feet} ft"
    return f"{sign}{feet} ft {_mixed(rest / denominator, denominator)} in"


def fathoms(metres: float) -> str:
    """Print a length in metres as fathoms, to two decimals at most: ``40 fm``."""
    return f"{trimmed(metres / FATHOM, 2)} fm"


def fathoms_and_feet(metres: float) -> str:
    """Print a length in metres as on deck: ``12 fm``, ``11 fm 5 ft 9 in``."""
    whole, rest = divmod(round(metres / INCH * 16), round(FATHOM / INCH * 16))
    if not whole:
        return feet_inches(metres)
    return f"{whole} fm {feet_inches(rest / 16 * INCH)}" if rest else f"{whole} fm"


def pounds(kilograms: float, decimals: int = 1) -> str:
    """Print a mass in kilograms as pounds: ``3.1 lb``."""
    return f"{trimmed(kilograms / POUND, decimals)} lb"


def metric(metres: float) -> str:
    """Print a length in metres the metric way: ``2.44 m``, ``20.3 cm``, ``6.35 cm``, ``9.5 mm``."""
    size = abs(metres)
    if size >= 1.5:
        return f"{trimmed(metres, 2)} m"
    if size >= 0.1:
        return f"{trimmed(metres * 100, 1)} cm"
    if size >= 0.02:
        return f"{trimmed(metres * 100, 2)} cm"
    return f"{trimmed(metres * 1000, 1)} mm"


def exactly(value: float, unit: str) -> str:
    """
    Print a length in metres or a mass in kilograms in ``unit``, exactly: ``8.5 ft``.

    It has as many decimals as it takes for ``parse_length`` or ``parse_mass`` to read the
    same number back. Raise ValueError for a number that no such entry stands for.
    """
    kinds, read = (_EXACT, parse_length) if unit in _EXACT else (_MASS, parse_mass)
    size = Fraction(value) / kinds[unit]
    for decimals in range(30):
        tenths = round(size * 10**decimals)
        whole, rest = divmod(tenths, 10**decimals)
        text = f"{whole}.{rest:0{decimals}} {unit}" if decimals else f"{whole} {unit}"
        if value >= 0 and read(text, bare=None) == value:
            return text
    raise ValueError(_("{value} cannot be written in {unit}.").format(value=value, unit=unit))


def trimmed(value: float, decimals: int) -> str:
    """Print a number to so many decimals at most, without zeros at the end: ``2.5``."""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
