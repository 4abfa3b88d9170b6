"""
Drawings to scale without a single measure on them, to be measured.

Each sheet shows what is needed to judge a few requirements, and nothing more.
"""

from collections.abc import Collection

from .cells import Chain, Floats, Wires
from .ropes import Ropes
from .rows import Doors, Droppers, Legs
from .sheet import Sheet

SHEETS: dict[str, type[Sheet]] = {
    sheet.name: sheet for sheet in (Ropes, Droppers, Floats, Chain, Legs, Doors, Wires)
}
"""Every sheet by its name, in the order of the deck."""


def room(keys: Collection[str]) -> dict[str, float]:
    """
    Return the metres by which readings must miss their limits to be told apart, by key.

    ``keys`` are those of requirements that some sheet shows.
    """
    return {
        key: sheet.room_needed() for sheet in SHEETS.values() for key in sheet.keys if key in keys
    }
