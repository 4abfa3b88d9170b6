"""What a rule about a trip, not about gear, is held against."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Position:
    """A place at sea in decimal degrees, north and east positive."""

    latitude: float
    longitude: float

    def __str__(self):
        return (
            f"{_minutes(self.latitude)} {'N' if self.latitude >= 0 else 'S'}, "
            f"{_minutes(self.longitude)} {'E' if self.longitude >= 0 else 'W'}"
        )


@dataclass(frozen=True, slots=True)
class Trip:
    """
    One trip, as told; ``None`` stands for "not known".

    ``kept`` names the kinds of animal kept. Weights are kilograms: ``hake`` the
    silver and offshore hake kept together, ``regulated`` the regulated species
    caught and ``caught`` the whole catch.
    """

    day: date | None = None
    position: Position | None = None
    letter_aboard: bool | None = None
    kept: tuple[str, ...] | None = None
    hake: float | None = None
    regulated: float | None = None
    caught: float | None = None


def _minutes(degrees):
    thousandths = round(abs(degrees) * 60000)
    whole, rest = divmod(thousandths, 60000)
    return f"{whole}° {rest / 1000:06.3f}′"
