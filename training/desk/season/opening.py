"""The rows behind the counts of a season's report that is for the office."""

from typing import NamedTuple
from urllib.parse import urlencode

from django.utils.translation import gettext as _

from training.people import sight
from training.people.models import User
from training.register import as_of
from training.register.models import Vessel
from training.register.sizes import SIZES

from . import counting

VESSELS, PEOPLE = "vessels", "people"


class ReportCount(NamedTuple):
    """
    A ``number`` in the report, what it counts in ``words``, and how its rows are asked for.

    ``of`` is VESSELS or PEOPLE, ``asked`` the end of the address.
    """

    words: str
    number: int
    of: str
    asked: str


class OfficeRow(NamedTuple):
    """A vessel or person as of the day; ``pk`` is None if it may not be opened, or not named."""

    name: str
    harbor: str
    pk: int | None


def vessel_words():
    """Return {key in an address: words} of which vessels can be listed."""
    return {
        "fishing": _("Vessels on the register that fished"),
        "converted": _("Vessels that fished without a sweep"),
        "came": _("Vessels that came to fish without a sweep in the season"),
    }


def people_words():
    """Return {key in an address: words} of which people can be listed."""
    return {
        "here": _("People with an account"),
        "begun": _("People who had started to read, practice or take an exam"),
        "certified": _("People who held a valid certificate"),
    }


def counts(report):
    """Return the ReportCounts of a Report for the office."""
    told = report.told
    vessels = zip(vessel_words().items(), (told.vessels, told.converted, told.came), strict=True)
    people = zip(people_words().items(), (told.people, told.begun, told.certified), strict=True)
    found = [_count(words, number, report, VESSELS, of=key) for (key, words), number in vessels]
    sizes = {size.words.capitalize(): size.key for size in SIZES}
    for field, groups, keys in (
        ("harbor", report.by_harbor, {}),
        ("size", report.by_size, sizes),
    ):
        for group in groups:
            told_of = {field: keys.get(group.name, group.name)}
            found += [
                _count(group.name, group.vessels, report, VESSELS, of="fishing", **told_of),
                _count(
                    _("{name}, without a sweep").format(name=group.name),
                    group.converted,
                    report,
                    VESSELS,
                    of="converted",
                    **told_of,
                ),
            ]
    return found + [
        _count(words, number, report, PEOPLE, of=key) for (key, words), number in people
    ]


def _count(words, number, report, rows, **asked):
    return ReportCount(words, number, rows, urlencode({"year": report.season.year} | asked))


def vessels(user, season, on, of, **narrowed):
    """
    Return a OfficeRow for each vessel that a report of ``season`` as of the day ``on`` counts.

    ``of`` is a key of ``vessel_words``; ``narrowed`` may give the harbor and size of the day.
    """
    counted = {
        "fishing": lambda each: True,
        "converted": lambda each: each.is_converted,
        "came": lambda each: each.came(season.first, on),
    }[of]
    found = [
        each
        for each in as_of.fleet(user, on)
        if each.is_fishing
        and counted(each)
        and all(getattr(each, field) == value for field, value in narrowed.items() if value)
    ]
    seen = set(sight.rows(Vessel.objects.all(), user).order_by().values_list("pk", flat=True))
    return [
        OfficeRow(each.name, each.harbor, each.pk if each.pk in seen else None) for each in found
    ]


def people(user, on, of):
    """
    Return a OfficeRow for each person whom a report as of the day ``on`` counts.

    ``of`` is a key of ``people_words``. Who has gone out of ``user``'s reach since is not named.
    """
    found = counting.people_on(user, on)
    if of != "here":
        found = found.filter(getattr(counting, of)(on))
    trained = sight.rows(User.objects.all(), user).order_by()
    seen = set(trained.values_list("pk", flat=True))
    return [
        OfficeRow(name, "", pk)
        if pk in seen
        else OfficeRow(_("No longer with your harbors"), "", None)
        for pk, name in found.order_by("name", "pk").values_list("pk", "name")
    ]
