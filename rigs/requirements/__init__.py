"""
What is asked of a rig or a trip, one class a requirement, one module a part of the gear.

The modules are found, not listed: a class in any of them is a requirement (see ``base``).
"""

from importlib import import_module
from pkgutil import iter_modules

from rigs.words.gear import Rig
from rigs.words.say import gettext as _

from .base import Measure, shelf
from .doubt import Doubt

__all__ = ["Doubt", "Measure", "all", "doubts", "find", "has"]

for _module in iter_modules(__path__):
    import_module(f"{__name__}.{_module.name}")


def find(key: str) -> Measure:
    """Return the requirement called ``key``; raise KeyError, naming it, if there is none."""
    if key not in shelf:
        raise KeyError(_("nothing is known here that measures “{key}”").format(key=key))
    return shelf[key]


def has(key: str) -> bool:
    """Return whether there is a requirement called ``key``."""
    return key in shelf


def all() -> tuple[Measure, ...]:
    """Return every requirement, of gear and of trips."""
    return tuple(shelf.values())


def doubts(rig: Rig) -> tuple[Doubt, ...]:
    """Return the Doubts about how ``rig`` was described; empty for nearly every rig."""
    return tuple(doubt for each in all() if not each.trip for doubt in each.doubts(rig))
