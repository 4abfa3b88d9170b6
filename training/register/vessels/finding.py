"""Finding vessels of the register."""

from django.db.models import Q
from django.utils.functional import lazy

from rigs.rules.rulebook import ROUNDING
from training.people import sight

from ..models import Removal, Vessel, VesselState
from ..sizes import SIZES

SEARCHED = ("name", "registration", "owner", "captain")
NO_CONTACT = "none"


def vessels_for(user):
    """Return the vessels that ``user`` looks after, a queryset."""
    return sight.rows(Vessel.objects.all(), user)


def removal_of(user, pk):
    """Return the Removal by which the vessel ``pk`` is off the register, None if there is none."""
    found = sight.rows(Removal.objects.filter(undone=None), user)
    return found.filter(vessel=pk).select_related("vessel", "into").first()


def harbors_for(user):
    """Return the harbors of those vessels, by name, in one query and that of the reach."""
    found = vessels_for(user).order_by("harbor").values_list("harbor", flat=True)
    return list(found.distinct())


def _sizes():
    return [(size.key, size.words) for size in SIZES]


size_choices = lazy(_sizes, list)


def narrowed(vessels, text="", fishing="", came=("", ""), **at):
    """
    Return those of ``vessels`` that fit all that is given; blank leaves it open.

    Every word of ``text`` has to stand in the name, number, owner or captain. ``fishing`` is
    yes or no, ``came`` a Stage and the month, as 2026-07, in which they came to it. ``at`` has
    the ``harbor``, the ``size`` as the key of a Size, the ``stage`` as a Stage or NO_CONTACT.
    """
    vessels = _at(vessels, **at)
    if all(came):
        vessels = vessels.filter(pk__in=_came(*came))
    for word in text.split():
        anywhere = Q()
        for field in SEARCHED:
            anywhere |= Q(**{f"{field}__icontains": word})
        vessels = vessels.filter(anywhere)
    if fishing:
        vessels = vessels.filter(is_fishing=fishing == "yes")
    return vessels


def _came(stage, month):
    states = VesselState.objects.order_by().values_list("pk", "counted")
    return {
        pk
        for pk, counted in states.iterator()
        for day, __, entered in counted.get("moves", ())
        if entered == stage and day.startswith(f"{month}-")
    }


def _at(vessels, harbor="", size="", stage=""):
    if harbor:
        vessels = vessels.filter(harbor=harbor)
    if size:
        vessels = vessels.filter(_of_size(size))
    if stage == NO_CONTACT:
        vessels = vessels.filter(Q(standing=None) | Q(standing__stage=""))
    elif stage:
        vessels = vessels.filter(standing__stage=stage)
    return vessels


def _of_size(key):
    size = next(each for each in SIZES if each.key == key)
    bounds = Q()
    if size.over is not None:
        bounds &= Q(length__gt=size.over + ROUNDING)
    if size.up_to is not None:
        bounds &= Q(length__lte=size.up_to + ROUNDING)
    return bounds
