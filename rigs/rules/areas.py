"""Waters that a rule names, by their corners."""

from dataclasses import dataclass

from .seasons import Season

Corner = tuple[str, float, float]


@dataclass(frozen=True)
class Area:
    """
    A named polygon; ``corners`` are (name, latitude, longitude) in decimal
    degrees, north and east positive, in order and without repeating the first.
    ``season`` is when it is open, None for as long as its fishery; ``closed_by``
    says what closes it where the regulation gives no points.
    """

    title: str
    corners: tuple[Corner, ...]
    season: Season | None = None
    closed_by: str = ""

    def __str__(self) -> str:
        return f"{self.title} ({self.season})" if self.season else self.title


def parse_degrees(text: str) -> float:
    """
    Return decimal degrees from degrees and decimal minutes: ``42 14.05``.

    Raise ValueError for anything else.
    """
    degrees, _, minutes = text.partition(" ")
    part = float(minutes) if minutes else 0.0
    if not 0 <= part < 60:
        raise ValueError(text)
    return int(degrees) + part / 60
