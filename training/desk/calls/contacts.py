"""How somebody is reached: by phone, text message or email, the preferred way first."""

from typing import NamedTuple

from django.utils.translation import gettext as _

from training.people import phones
from training.people.models import User
from training.people.models.users import ReachBy
from training.register.models import Crew

# Who speaks for a vessel, and so is called first.
_FIRST = (Crew.Part.CAPTAIN, Crew.Part.OWNER, Crew.Part.CREW)


class WayToReach(NamedTuple):
    """One way: what a link to it says, its address, and the phone number it reaches, as typed."""

    by: str
    label: str
    href: str
    number: str = ""


class Contact(NamedTuple):
    """
    Somebody who can be reached, ``part`` being what he is on a vessel, blank for himself.

    ``ways`` has the preferred one first; ``prefers`` says which, blank if nothing was said.
    """

    person: User
    part: str
    ways: list[WayToReach]
    prefers: str

    @property
    def name(self):
        return self.person.name

    @property
    def phone(self):
        """The number as typed, blank if there is none."""
        return self.person.phone

    @property
    def shortest(self):
        """The best of the ways, and to call if that is another."""
        best, *others = self.ways
        return [best, *(way for way in others if way.by == ReachBy.CALL)]


def _ways(person):
    phone = person.phone
    ways = [
        WayToReach(ReachBy.CALL, _("Call"), phones.to_ring(phone), phone),
        WayToReach(ReachBy.TEXT, _("Text"), phones.to_text(phone), phone),
        WayToReach(ReachBy.EMAIL, _("Email"), f"mailto:{person.email}"),
    ]
    ways = [way for way in ways if way.href]
    return sorted(ways, key=lambda way: way.by != person.reach_by)


def contact(person, part=""):
    """Return the Contact of ``person``."""
    prefers = ""
    if person.reach_by:
        best = ReachBy(person.reach_by).label
        prefers = _("Best reached by {way}.").format(way=best)
    return Contact(person, part, _ways(person), prefers)


def crew_contacts(vessel):
    """
    Return the Contacts of those who fish on ``vessel`` now: captain first, then owner, then crew.

    Its ``crew``, with their users, is best fetched beforehand.
    """
    aboard = [each for each in vessel.crew.all() if each.until is None and each.user.is_active]
    aboard.sort(key=lambda each: _FIRST.index(each.part))
    return [contact(each.user, each.get_part_display()) for each in aboard]
