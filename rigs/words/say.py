"""
What people read, said in whichever language is spoken.

``gettext`` and ``ngettext`` look a text up at once; ``gettext_lazy`` marks one that stands
in a module and looks it up each time it is shown. Without a ``speaker`` all is English.
"""

from gettext import NullTranslations
from typing import Protocol


class Speaker(Protocol):
    """What knows the texts of a language, as ``gettext.NullTranslations`` does."""

    def gettext(self, message: str, /) -> str: ...

    def ngettext(self, msgid1: str, msgid2: str, n: int, /) -> str: ...


_speaker: Speaker = NullTranslations()


def speak_by(speaker: Speaker) -> None:
    """Have all texts be looked up by ``speaker`` from now on."""
    global _speaker
    _speaker = speaker


def gettext(message: str) -> str:
    """Return ``message`` in the language spoken."""
    return _speaker.gettext(message)


def ngettext(one: str, many: str, count: float) -> str:
    """Return of ``one`` and ``many`` that which goes with ``count``, in the language spoken."""
    return _speaker.ngettext(one, many, count)  # type: ignore[arg-type]


class _Later(str):
    """A text that is looked up when it is shown; it compares and hashes as the English."""

    __slots__ = ()

    def __str__(self) -> str:
        return gettext(str.__str__(self))

    def __format__(self, spec: str) -> str:
        return format(str(self), spec)

    def format(self, *args: object, **values: object) -> str:
        return str(self).format(*args, **values)


def gettext_lazy(message: str) -> str:
    """Return ``message`` as a text that is looked up when it is shown."""
    return _Later(message)
