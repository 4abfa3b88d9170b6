"""What a dropper is made of, once it was measured."""

from dataclasses import dataclass

from rigs.physics import chain
from rigs.words.gear import Dropper
from rigs.words.say import gettext as _


@dataclass(frozen=True, slots=True)
class Hung:
    """One chain of a dropper: nominal size and length in metres."""

    diameter: float
    length: float

    @classmethod
    def of(cls, dropper: Dropper) -> "Hung":
        """Return what ``dropper`` is made of; raise ValueError if it was not measured."""
        if dropper.length is None or dropper.diameter is None:
            raise ValueError(_("A dropper's length or chain was not measured."))
        return cls(dropper.diameter, dropper.length)

    @property
    def stock(self) -> chain.Stock:
        """The chain it is made of; KeyError, in plain words, if none such is sold."""
        return chain.stock_for(self.diameter)
