"""
A card for the deck: what is left of a dropper's free chain as height, under tow.

The shape of the free chain depends on the shine only as a share of the length, so one
figure does for all droppers of one chain at one speed on one bottom.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from ..chain import Stock
from .bottoms import Bottom
from .shape import hang, line


class Card(NamedTuple):
    """
    Shares of length minus shine that are left as height.

    ``rows`` holds (shine in metres, one share for each of ``speeds`` in m/s), least
    shine first.
    """

    speeds: tuple[float, ...]
    rows: tuple[tuple[float, tuple[float, ...]], ...]

    def share(self, speed: float, shine: float) -> float:
        """Return the share in the column next to ``speed`` and the row next to ``shine``."""
        column = min(range(len(self.speeds)), key=lambda i: abs(self.speeds[i] - speed))
        return min(self.rows, key=lambda row: abs(row[0] - shine))[1][column]


def card(
    stock: Stock, length: float, bottom: Bottom, speeds: Sequence[float], shines: Iterable[float]
) -> Card:
    """
    Return the Card of droppers of ``stock``, ``length`` metres long, on ``bottom``.

    The lying chain is taken to be sheltered, as in a report's likely height. ``speeds``
    in m/s, ``shines`` in metres, each shorter than the dropper.
    """
    chain_line = line(stock)

    def share(speed: float, shine: float) -> float:
        hung = hang(chain_line, length, speed, shine, bottom.likely)
        return hung.height / (length - shine)

    return Card(
        tuple(speeds),
        tuple((shine, tuple(share(speed, shine) for speed in speeds)) for shine in shines),
    )
