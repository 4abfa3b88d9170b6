"""What does not fit about a vessel's captain or a person's vessels: for staff to settle."""

from typing import NamedTuple

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck.plain import listed
from training.people import sight

from .models import Crew, Vessel

MOST_NAMED = 3
"""Vessels whose captain has a person's name: more of them are hardly the same person's."""


class Point(NamedTuple):
    """A sentence on what does not fit, and where to settle it, as (words, address)."""

    text: str
    way: tuple = ()


def alike(name, other):
    """
    Return whether two names may be one person's.

    Without case, signs and order; an initial may stand for a name: "Fenwright, I." is "Ida
    Fenwright".
    """
    some, more = sorted((_parts(name), _parts(other)), key=len)
    if not some:
        return False
    left, initials = list(more), 0
    for part in some:
        found = next((each for each in left if each == part), None)
        if found is None:
            found = next((each for each in left if _short(each, part)), None)
            initials += 1
        if found is None:
            return False
        left.remove(found)
    return initials < len(some)


def _parts(name):
    return "".join(c if c.isalnum() else " " for c in name.casefold().replace("'", "")).split()


def _short(name, other):
    return name[0] == other[0] and 1 in (len(name), len(other))


def of_vessel(vessel, crew):
    """Return the Points on the captain of ``vessel``; ``crew`` are its berths of now."""
    captains = [each for each in crew if each.part == Crew.Part.CAPTAIN]
    found = []
    if len(captains) > 1:
        names = listed([each.user.name for each in captains])
        text = _("More than one captain is listed now: {names}. Remove who left.")
        found.append(Point(text.format(names=names)))
    if text := _named_otherwise(vessel.captain, crew, captains):
        way = (_("Change the vessel"), reverse("register:vessel_edit", args=[vessel.pk]))
        found.append(Point(text, way))
    return found + _captain_elsewhere(vessel, captains)


def _named_otherwise(name, crew, captains):
    """Return what does not fit between the register's captain ``name`` and the crew list."""
    if not name or not crew:
        return ""
    if any(alike(name, each.user.name) for each in captains):
        return ""
    if captains:
        names = listed([each.user.name for each in captains])
        text = _("The register names {captain} as captain, the crew list {names}.")
        return text.format(captain=name, names=names)
    same = [each for each in crew if alike(name, each.user.name)]
    if any(each.part == Crew.Part.OWNER for each in same):
        return ""
    if same:
        text = _("The register names {captain} as captain, the crew list names them as crew.")
    else:
        text = _(
            "The register names {captain} as captain. The crew list does not have them. They may "
            "have no account."
        )
    return text.format(captain=name)


def _captain_elsewhere(vessel, captains):
    others = Crew.objects.filter(
        user__in=[each.user_id for each in captains], part=Crew.Part.CAPTAIN, until=None
    ).exclude(vessel=vessel)
    return [
        Point(
            _("{name} is listed as captain of {vessel} too.").format(
                name=other.user.name, vessel=other.vessel.name
            )
        )
        for other in others.select_related("user", "vessel")
    ]


def of_person(person, crew, user):
    """
    Return the Points on what ``person`` is captain of; ``crew`` are the berths of now.

    Of vessels that ``user`` looks after.
    """
    found = []
    captain = [each.vessel for each in crew if each.part == Crew.Part.CAPTAIN]
    if len(captain) > 1:
        names = listed([each.name for each in captain])
        text = _("Listed as captain of more than one vessel now: {names}.").format(names=names)
        found.append(Point(text))
    aboard = [each.vessel_id for each in crew]
    named = Vessel.objects.filter(captain__iexact=person.name).exclude(pk__in=aboard)
    named = sight.rows(named, user)
    for vessel in named[:MOST_NAMED]:
        text = _("The register names a {name} as captain of {vessel}. This account is not on it.")
        way = (_("See the vessel"), reverse("register:vessel", args=[vessel.pk]))
        found.append(Point(text.format(name=person.name, vessel=vessel.name), way))
    return found
