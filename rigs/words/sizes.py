"""
Sizes that are made or sold, in metres, smallest first (common practice, no source).

``wires``, ``chains`` and ``floats`` are those that turn up on deck.
"""

from .units import INCH

CHAIN_LADDER = tuple(
    size * INCH for size in (3 / 16, 1 / 4, 5 / 16, 3 / 8, 7 / 16, 1 / 2, 5 / 8, 3 / 4)
)
"""Every size of chain that is sold, lightest first; not all turn up on a net."""

THINNEST_WIRE = INCH / 4
"""For a leg or a ground cable."""

_WIRES = (3 / 8, 7 / 16, 1 / 2, 9 / 16, 5 / 8, 3 / 4, 7 / 8, 1)
_CHAINS = (1 / 4, 5 / 16, 3 / 8, 1 / 2)
_FLOATS = (6, 7, 8, 9, 10, 11, 12)


def wires() -> tuple[float, ...]:
    """Return the sizes of wire, thinnest first."""
    return tuple(size * INCH for size in _WIRES)


def chains() -> tuple[float, ...]:
    """Return the sizes of chain, lightest first."""
    return tuple(size * INCH for size in _CHAINS)


def floats() -> tuple[float, ...]:
    """Return the diameters of floats, smallest first."""
    return tuple(size * INCH for size in _FLOATS)
