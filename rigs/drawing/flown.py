"""What a drawing asks of the heights that a net flew at; those of ``tuning`` answer it."""

from collections.abc import Sequence
from typing import Protocol


class PlaceFlown(Protocol):
    """The footrope's height at one place, metres: by rule, by model, and the model's spread."""

    @property
    def name(self) -> str:
        """The place in words."""

    @property
    def position(self) -> float:
        """Metres from the center."""

    @property
    def rule(self) -> float:
        """Length minus shine."""

    @property
    def model(self) -> float:
        """The height worked out under tow."""

    @property
    def low(self) -> float:
        """The least it may be."""

    @property
    def high(self) -> float:
        """The most it may be."""

    @property
    def at_least(self) -> bool:
        """Whether nothing touched, so that the footrope may fly higher."""


class TowFlown(Protocol):
    """The heights of one tow: those of its places, and their means in metres."""

    @property
    def places(self) -> Sequence[PlaceFlown]:
        """The places read, port to starboard."""

    @property
    def rule(self) -> float:
        """The mean of length minus shine."""

    @property
    def model(self) -> float:
        """The mean of the heights worked out under tow."""

    @property
    def low(self) -> float:
        """The mean of the least they may be."""

    @property
    def high(self) -> float:
        """The mean of the most they may be."""

    @property
    def bottom_share(self) -> float | None:
        """The share of bottom animals in its catch, None if that was not weighed."""
