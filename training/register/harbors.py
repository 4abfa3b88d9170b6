"""
Which harbors there are and what else they are called; renaming and joining them.

Rooms below hold a harbor by its name, as vessels do: what changes a name changes it there too.
"""

from django.db import transaction
from django.utils.translation import gettext as _

from training.people.models import Group, Reach

from . import uptake
from .models import Harbor, HarborSpelling, Vessel, VesselDetails


class HarborError(ValueError):
    """A name or a spelling that cannot be had; the message says why, for whoever chose it."""


def plain(text):
    """Return the name of a harbor as it is compared: without case, signs and extra spaces."""
    kept = "".join(c if c.isalnum() else " " for c in text.replace("'", "").replace("’", ""))
    return " ".join(kept.casefold().split())


def names():
    """Return the names of all harbors, in order."""
    return list(Harbor.objects.values_list("name", flat=True))


def spellings():
    """Return the name of each harbor by each way to write it, as ``plain``; one query."""
    return dict(HarborSpelling.objects.order_by().values_list("plain", "harbor__name"))


def canonical(text):
    """Return the name of the harbor that ``text`` means, None if it is known by none."""
    found = HarborSpelling.objects.filter(plain=plain(text)).select_related("harbor").first()
    return found and found.harbor.name


def ensure(told):
    """Have each of the names ``told`` on the list, blank ones left out."""
    known = spellings()
    for name in dict.fromkeys(" ".join(each.split()) for each in told):
        if plain(name) and plain(name) not in known:
            known[plain(name)] = name
            add(name)


@transaction.atomic
def add(name):
    """Return the Harbor called ``name``, made if need be. Raise HarborError if it is no name."""
    name = " ".join(name.split())
    if not plain(name):
        raise HarborError(_("Write the name of the harbor, with at least one letter."))
    if known := canonical(name):
        return Harbor.objects.get(name=known)
    harbor, __ = Harbor.objects.get_or_create(name=name)
    HarborSpelling.objects.get_or_create(plain=plain(name), defaults=_own(harbor))
    return harbor


def _own(harbor):
    return {"harbor": harbor, "text": harbor.name}


def spell(harbor, text):
    """
    Have ``text`` mean ``harbor`` too.

    Raise HarborError if it says nothing or means another harbor.
    """
    text = " ".join(text.split())
    if not plain(text):
        raise HarborError(_("Write the other spelling, with at least one letter."))
    kept, is_new = HarborSpelling.objects.get_or_create(
        plain=plain(text), defaults={"harbor": harbor, "text": text}
    )
    if not is_new and kept.harbor_id != harbor.pk:
        raise HarborError(
            _("“{text}” means {harbor} already.").format(text=text, harbor=kept.harbor.name)
        )
    return kept


@transaction.atomic
def rename(harbor, name):
    """
    Call ``harbor`` by ``name`` everywhere; what it was called stays as a spelling.

    Raise HarborError if that is no name or means another harbor.
    """
    name = " ".join(name.split())
    spell(harbor, name)
    before, harbor.name = harbor.name, name
    harbor.save(update_fields=["name"])
    HarborSpelling.objects.filter(plain=plain(name)).update(text=name)
    _move(before, name)


def in_the_way(harbor, other):
    """Return the names that vessels of ``harbor`` and of ``other`` both have, in order."""
    there = {name.casefold() for name in _vessels_of(other.name).values_list("name", flat=True)}
    here = _vessels_of(harbor.name).order_by("name").values_list("name", flat=True)
    return [name for name in here if name.casefold() in there]


@transaction.atomic
def join(harbor, other):
    """
    Have ``harbor`` be nothing but another spelling of ``other``; its vessels lie there.

    Raise HarborError if both have a vessel of one name.
    """
    if same := in_the_way(harbor, other):
        raise HarborError(
            _("Both have a vessel called {names}. Merge those two vessels, or rename one.").format(
                names=", ".join(same)
            )
        )
    HarborSpelling.objects.filter(harbor=harbor).update(harbor=other)
    before = harbor.name
    harbor.delete()
    _move(before, other.name)


def _vessels_of(name):
    return Vessel.objects.filter(harbor=name)


def _move(before, name):
    """Have all that holds the name ``before`` hold ``name``."""
    if before == name:
        return
    pks = list(Vessel.every.filter(harbor=before).values_list("pk", flat=True))
    # Of days gone by as well: it is the name that changes, not where the vessel lay.
    VesselDetails.objects.filter(harbor=before).update(harbor=name)
    Vessel.every.filter(harbor=before).update(harbor=name)
    uptake.refresh(pks)
    Group.objects.filter(harbor=before).update(harbor=name)
    Reach.objects.filter(harbor=before, user__reaches__harbor=name).delete()
    Reach.objects.filter(harbor=before).update(harbor=name)
