"""Which changes are tried on a net that ails: some that help, and some that do not."""

from rigs.words.gear import PORT, STARBOARD
from rigs.words.sizes import chains
from rigs.words.units import INCH

from .mends import Mend
from .nets import HIGH, LOPSIDED, LOW, Ailing, Net

_WHOLE = {
    LOW: (
        Mend("floats", 2),
        Mend("floats", 4),
        Mend("floats", 8),
        Mend("floats", -2),
        Mend("headrope", 4),
        Mend("headrope", 12),
        Mend("droppers", 2),
        Mend("top-leg", 3),
        Mend("footrope", 24),
    ),
    HIGH: (
        Mend("floats", -2),
        Mend("floats", -4),
        Mend("floats", 2),
        Mend("droppers", 2),
        Mend("droppers", 4),
        Mend("doubled"),
        Mend("dropper", 6),
        Mend("bottom-leg", 3),
        Mend("footrope", 24),
    ),
}
_NEXT = {LOW: -1, HIGH: 1}  # from the chain that hangs on it to the one swapped for it


def tried(ailing: Ailing, low: str) -> tuple[Mend, ...]:
    """Return what is tried on ``ailing``, whose side ``low`` flies lower if it is lopsided."""
    if ailing.ails == LOPSIDED:
        return _on_sides(ailing.net, low)
    return (*_WHOLE[ailing.ails], Mend("chain", _other_chain(ailing)))


def _other_chain(ailing: Ailing) -> float:
    """Return the inches of chain a size lighter for a net that is low, heavier for a high one."""
    sold = [round(size / INCH, 4) for size in chains()]
    return sold[sold.index(ailing.net.chain) + _NEXT[ailing.ails]]


def _on_sides(net: Net, low: str) -> tuple[Mend, ...]:
    high = PORT if low == STARBOARD else STARBOARD
    return (
        *_cures(net, low),
        Mend("floats", 2, low),
        Mend("floats", 4, low),
        Mend("floats", 2, high),
        Mend("droppers", 2, high),
        Mend("droppers", 4, high),
        Mend("droppers", 2, low),
        Mend("top-leg", 3, low),
    )


def _cures(net: Net, low: str) -> tuple[Mend, ...]:
    """Return what undoes the fault, more or less, and what only makes the other side like it."""
    if net.leg_off is None:
        return (Mend("floats", 0), Mend("shift", 2, low), Mend("shift", 4, low))
    other = PORT if net.off == STARBOARD else STARBOARD
    longer, shorter = ("top-leg", "bottom-leg") if net.leg_off > 0 else ("bottom-leg", "top-leg")
    off = abs(net.leg_off)
    return (
        Mend("equal-legs", 0, net.off),
        Mend(shorter, off, net.off),
        Mend(longer, off, other),
    )
