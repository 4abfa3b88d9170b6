"""How many vessels of each stage, harbor and size there are today, each count with its list."""

from datetime import date
from typing import NamedTuple
from urllib.parse import urlencode

from django.db.models import Count, Q
from django.utils.translation import gettext as _

from .models import VesselState
from .sizes import SIZES
from .stages import Stage
from .uptake_sums import grouped
from .vessels.finding import NO_CONTACT, narrowed, vessels_for

MONTHS = 12
"""As many months as are listed, the latest first."""


class OpenCount(NamedTuple):
    """A ``number`` of vessels, and what to ask the list of vessels for to see them."""

    number: int
    asked: str


def _count(number, **asked):
    return OpenCount(number, urlencode({key: value for key, value in asked.items() if value}))


def at_stages(user, words, harbor="", size=""):
    """Return (words, all there OpenCount, those still fishing OpenCount) of each stage; a query."""
    found = narrowed(vessels_for(user), harbor=harbor, size=size).order_by()
    fishing = Count("pk", filter=Q(is_fishing=True))
    numbers = {
        stage or "": (every, still)
        for stage, every, still in found.values_list("standing__stage").annotate(
            every=Count("pk"), still=fishing
        )
    }
    told = {"harbor": harbor, "size": size}
    rows = []
    for stage, name in (("", _("no contact yet")), *words.items()):
        every, still = numbers.get(stage, (0, 0))
        asked = told | {"stage": stage or NO_CONTACT}
        rows.append((name, _count(every, **asked), _count(still, **asked, fishing="yes")))
    return rows


def by(cells, field, harbor="", size=""):
    """Return (words, fishing OpenCount, without a sweep OpenCount) by ``field`` of ``cells``."""
    names = {each.key: each.words for each in SIZES} if field == "size" else {}
    rows = []
    for key, (vessels, converted) in grouped(cells, field).items():
        asked = {"harbor": harbor, "size": size, field: key, "fishing": "yes"}
        stage = Stage.CONVERTED.value
        rows.append(
            (names.get(key, key), _count(vessels, **asked), _count(converted, **asked, stage=stage))
        )
    return rows


def came(user, stage, harbor="", size=""):
    """
    Return (month, OpenCount) of the vessels that came to ``stage``, the latest first.

    By what stands of their events; one that came twice in a month is counted once in it.
    """
    vessels = narrowed(vessels_for(user), harbor=harbor, size=size).order_by()
    found = {}
    rows = VesselState.objects.filter(vessel__in=vessels.values("pk")).order_by()
    for pk, counted in rows.values_list("pk", "counted"):
        for day, __, entered in counted.get("moves", ()):
            if entered == stage:
                found.setdefault(date.fromisoformat(day).replace(day=1), set()).add(pk)
    return [
        (month, _count(len(pks), harbor=harbor, size=size, came=stage, month=f"{month:%Y-%m}"))
        for month, pks in sorted(found.items(), reverse=True)[:MONTHS]
    ]
