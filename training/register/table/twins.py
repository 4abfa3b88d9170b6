"""Says which vessels a new row may be about after all."""

from typing import NamedTuple

from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from .alike import NearNames, folded, one_off
from .entries import plain_registration

MOST = 3  # that are shown of a row
NEW, OUT, THAT = "new", "out", "v"  # what is said of a row; THAT goes before a vessel's number


class Twin(NamedTuple):
    """A vessel, or a new one of an earlier ``line`` of the table, that a row may be about."""

    name: str
    harbor: str
    registration: str
    vessel: int | None
    line: int | None = None

    @property
    def words(self):
        """What it is called, for whoever decides."""
        told = ", ".join(filter(None, (self.registration, self.harbor)))
        if self.line is not None:
            return _("{name} ({told}) in line {line}").format(
                name=self.name, told=told, line=self.line
            )
        return _("{name} ({told})").format(name=self.name, told=told)


class Twins:
    """The vessels of a register, of ``harbors`` only if not None, by name."""

    def __init__(self, vessels, harbors):
        self.vessels, self.harbors = vessels, harbors

    @cached_property
    def names(self):
        """All of them by name: made once a row is new, since it takes seconds at 50,000."""
        names = NearNames()
        for vessel in self.vessels:
            if self.harbors is None or vessel.harbor.casefold() in self.harbors:
                told = vessel.name, vessel.harbor, vessel.registration
                names.add(vessel.name, Twin(*told, vessel.pk))
        return names

    def take(self, entry):
        """Count the vessel of ``entry``, a new one, among them."""
        told = entry.name, entry.harbor, entry.registration
        self.names.add(entry.name, Twin(*told, None, entry.line))

    def of(self, entry):
        """Return the Twins of ``entry``, which names no vessel, the likeliest first."""
        found = []
        for twin, same_name in self.names.near(entry.name):
            here = folded(twin.harbor) == folded(entry.harbor)
            if self._may_be(entry, twin, here, same_name):
                found.append((not here, not same_name, twin.line or 0, twin.name, twin))
        return [each[-1] for each in sorted(found, key=lambda each: each[:-1])][:MOST]

    def _may_be(self, entry, twin, here, same_name):
        one, other = plain_registration(entry.registration), plain_registration(twin.registration)
        if one and other:
            # Two numbers that have nothing to do with each other are of two vessels.
            return one_off(one, other) and (here or same_name)
        return here or (same_name and not (one or other))
