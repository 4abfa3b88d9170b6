"""
What people write on deck, read into SI and printed back.

Lengths are metres, masses kilograms, speeds metres per second. The factors are
exact by definition: the inch of 25.4 mm and the pound of 0.45359237 kg
(international yard and pound agreement, 1959), the international knot of
1852 m in an hour.
"""

import re
from fractions import Fraction

INCH = 0.0254
FOOT = 0.3048
FATHOM = 1.8288
POUND = 0.45359237
KNOT = 1852 / 3600

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
_VULGAR = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_QUOTES = str.maketrans({"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'"})

_PIECE = re.compile(
    r"""\s*
    (?:(?P<whole>\d+)(?:\s+|-)(?P<num>\d+)\s*/\s*(?P<den>\d+)
      |(?P<fnum>\d+)\s*/\s*(?P<fden>\d+)
      |(?P<decimal>\d+(?:\.\d*)?|\.\d+))
    \s*(?P<unit>m/s|"|'|[A-Za-z]+\.?)?
    \s*,?""",
    re.VERBOSE,
)

# Nobody rigs a net with more than this; longer digits are a slip of the thumb.
_LONGEST_ENTRY = 60


class UnitError(ValueError):
    """An entry that could not be read; the message is meant for its writer."""


def _pieces(text, kinds, example):
    """Yield (number, unit or None) for each part of a mixed entry."""
    entry = text.strip().translate(_QUOTES).replace("''", '"')
    for sign, plain in _VULGAR.items():
        entry = re.sub(rf"(?<=\d)\s*{sign}", f" {plain}", entry).replace(sign, plain)
    if not entry:
        raise UnitError(f"Nothing was entered. Write it like {example}.")
    if len(entry) > _LONGEST_ENTRY:
        raise UnitError(f"That entry is too long to read. Write it like {example}.")
    if entry.startswith(("-", "−", "–")):
        raise UnitError(f"“{text.strip()}” is less than nothing. Write it like {example}.")
    at = 0
    while at < len(entry):
        match = _PIECE.match(entry, at)
        if not match:
            raise UnitError(
                f"“{entry[at:].strip()}” in “{text.strip()}” was not understood. "
                f"Write it like {example}."
            )
        at = match.end()
        den = match["den"] or match["fden"]
        if den and int(den) == 0:
            raise UnitError(f"“{text.strip()}” divides by nought. Write it like {example}.")
        if match["whole"]:
            number = int(match["whole"]) + Fraction(int(match["num"]), int(den))
        elif match["fnum"]:
            number = Fraction(int(match["fnum"]), int(den))
        else:
            number = Fraction(match["decimal"].rstrip(".") or "0")
        unit = None
        if match["unit"]:
            unit = _NAMES.get(match["unit"].lower())
            if unit not in kinds:
                raise UnitError(
                    f"“{match['unit']}” in “{text.strip()}” is not a unit known here. "
                    f"Write it like {example}."
                )
        yield number, unit


def _parse(text, kinds, bare, example):
    pieces = list(_pieces(text, kinds, example))
    total = Fraction(0)
    previous = None
    for i, (number, unit) in enumerate(pieces):
        if unit is None:
            if i and previous == "ft" and i == len(pieces) - 1:
                unit = "in"  # 3'6 is written for 3'6"
            elif len(pieces) == 1 and bare:
                unit = bare
            else:
                raise UnitError(
                    f"“{text.strip()}” does not say in which unit. Write it like {example}."
                )
        if previous and kinds[unit] >= kinds[previous]:
            raise UnitError(
                f"“{text.strip()}” has its units out of order. Write it like {example}."
            )
        total += number * kinds[unit]
        previous = unit
    return float(total)


def parse_length(text, bare="ft"):
    """
    Return the length in metres that ``text`` says.

    Mixed entries such as ``3 ft 6 in``, ``3'6"``, ``5/16 in``, ``2 1/2 in``,
    ``12 fm`` and ``1.07 m`` are understood. A lone number is taken to be in the
    unit ``bare``, save that a lone common fraction such as ``5/16`` is always
    inches, as chain and wire are named. Pass ``bare=None`` to insist on a unit.

    Raise UnitError, saying what was not understood, for anything else.
    """
    if re.fullmatch(r"\s*(?:\d+\s*/\s*\d+|[¼½¾⅛⅜⅝⅞])\s*", text):
        bare = "in"
    return _parse(text, _EXACT, bare, "3 ft 6 in, 42 in, 5/16 in, 12 fm or 1.07 m")


def exact_lengths():
    """Return each unit of length as the two whole numbers whose ratio is its metres."""
    return {name: exact.as_integer_ratio() for name, exact in _EXACT.items()}


def length_names():
    """Return the unit of length that each way of writing one stands for."""
    return {name: unit for name, unit in _NAMES.items() if unit in _EXACT}


def parse_mass(text, bare="lb"):
    """Return the mass in kilograms that ``text`` says; raise UnitError if unclear."""
    return _parse(text, _MASS, bare, "120 lb or 55 kg")


def parse_speed(text, bare="kn"):
    """Return the speed in metres per second that ``text`` says; raise UnitError."""
    return _parse(text, _SPEED, bare, "2.8 kn or 1.5 m/s")


def _mixed(value, denominator):
    """Return a number of inches as a whole number and a fraction in lowest terms."""
    ticks = round(value * denominator)
    whole, rest = divmod(ticks, denominator)
    if not rest:
        return str(whole)
    part = Fraction(rest, denominator)
    return f"{whole} {part}" if whole else str(part)


def inches(metres, denominator=16):
    """Print a length in metres as inches, to the nearest 1/``denominator``: ``42 in``."""
    sign = "-" if metres < 0 else ""
    return f"{sign}{_mixed(abs(metres) / INCH, denominator)} in"


def feet_inches(metres, denominator=16):
    """Print a length in metres as feet and inches: ``3 ft 6 in``, ``8 ft``, ``5/16 in``."""
    sign = "-" if metres < 0 else ""
    ticks = round(abs(metres) / INCH * denominator)
    feet, rest = divmod(ticks, 12 * denominator)
    if not feet:
        return f"{sign}{_mixed(rest / denominator, denominator)} in"
    if not rest:
        return f"{sign}{feet} ft"
    return f"{sign}{feet} ft {_mixed(rest / denominator, denominator)} in"


def fathoms(metres):
    """Print a length in metres as fathoms, to two decimals at most: ``40 fm``."""
    return f"{trimmed(metres / FATHOM, 2)} fm"


def pounds(kilograms, decimals=1):
    """Print a mass in kilograms as pounds: ``3.1 lb``."""
    return f"{trimmed(kilograms / POUND, decimals)} lb"


def metric(metres):
    """Print a length in metres the metric way: ``2.44 m``, ``20.3 cm``, ``6.35 cm``, ``9.5 mm``."""
    size = abs(metres)
    if size >= 1.5:
        return f"{trimmed(metres, 2)} m"
    if size >= 0.1:
        return f"{trimmed(metres * 100, 1)} cm"
    if size >= 0.02:
        return f"{trimmed(metres * 100, 2)} cm"
    return f"{trimmed(metres * 1000, 1)} mm"


def exactly(value, unit):
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
    raise ValueError(f"{value} cannot be written in {unit}.")


def trimmed(value, decimals):
    """Print a number to so many decimals at most, without noughts at the end: ``2.5``."""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
