"""What a rule about a trip, not about gear, is held against."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Position:
    """A place at sea in decimal degrees, north and east positive."""

    latitude: float
    longitude: float

    def __str__(self) -> str:
        return (
            f"{_minutes(self.latitude)} {'N' if self.latitude >= 0 else 'S'}, "
            f"{_minutes(self.longitude)} {'E' if self.longitude >= 0 else 'W'}"
        )


@dataclass(frozen=True, slots=True)
class Trip:
    """
    One trip, as told; ``None`` stands for "not known".

    ``letter_asked`` is the day on which the letter of authorization was asked for.
    ``kept`` names the kinds of animal kept, by whatever names. Weights are kilograms:
    ``hake`` the silver and offshore hake kept together, ``red_hake`` the red hake kept,
    ``regulated`` the regulated species caught and ``caught`` the whole catch. Meshes are
    metres: ``smallest_mesh`` that of all nets on board, ``mesh_in_use`` that of the codend
    that is towed.
    """

    day: date | None = None
    position: Position | None = None
    letter_aboard: bool | None = None
    kept: tuple[str, ...] | None = None
    hake: float | None = None
    regulated: float | None = None
    caught: float | None = None
    red_hake: float | None = None
    smallest_mesh: float | None = None
    mesh_in_use: float | None = None
    letter_asked: date | None = None


def _minutes(degrees: float) -> str:
    # To the hundredth, as the regulation gives its corners.
    hundredths = round(abs(degrees) * 6000)
    whole, rest = divmod(hundredths, 6000)
    return f"{whole}° {rest / 100:05.2f}′"
