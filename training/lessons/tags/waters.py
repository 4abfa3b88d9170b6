"""Tags about seasons and areas, and the way from a lesson to the page that asks after them."""

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.translation import gettext as _

from rigs.requirements import by_mesh
from rigs.rules.waters import DOUBT
from rigs.words.bearing import miles

from ..errors import TagError
from .grammar import block, inline
from .page import unbroken

_PAGES = {"trip": "trips:trip"}


@inline("near_line")
def near_line(page):
    """How near a side a position is said to be on it: ``0.05 nautical miles``."""
    return miles(DOUBT)


@block("seasons")
def seasons(page, *names, caption):
    """A table of when each of the fisheries named is open, and which waters it is open in."""
    if not names:
        raise TagError(_("say the seasons of which rule sets"))
    rows = [
        {
            "book": page.rulebook(name),
            "season": page.requirement("season", name),
            "area": page.requirement("area", name),
        }
        for name in names
    ]
    return render_to_string(
        "lessons/blocks/seasons.html", {"rows": rows, "caption": caption}
    ).strip()


@block("kept")
def kept(page, *names, caption):
    """A table of what may be kept, one row for the fisheries named that have the same list."""
    if not names:
        raise TagError(_("say what may be kept by which rule sets"))
    rows = {}
    for name in names:
        requirement = page.requirement("kept_species", name)
        row = rows.setdefault((requirement.limit, requirement.clause), [])
        row.append(page.rulebook(name).title)
    return render_to_string(
        "lessons/blocks/kept.html",
        {
            "rows": [
                {"titles": titles, "kinds": limit, "clause": clause}
                for (limit, clause), titles in rows.items()
            ],
            "caption": caption,
        },
    ).strip()


def _cell(row):
    return {
        "most": unbroken(by_mesh.pounds(row.most)),
        "metric": unbroken(f"{row.metric or row.most:,.0f} kg"),
        "where": row.where,
    }


@block("by_mesh")
def by_mesh_table(page, *keys, rules=None, caption):
    """A table of limits by the smallest mesh on board, and what has to be said with them."""
    found = [page.requirement(key, rules) for key in keys]
    if not found or any(each.test != "by mesh" for each in found):
        raise TagError(_("say which limits go by mesh"))
    (first, *__) = found
    if any(
        [row.under for row in each.limit] != [row.under for row in first.limit] for each in found
    ):
        raise TagError(_("these limits change at different meshes"))
    rows = [
        {
            "mesh": by_mesh.class_text(first.limit, row),
            "cells": [_cell(each.limit[place]) for each in found],
        }
        for place, row in enumerate(first.limit)
    ]
    return render_to_string(
        "lessons/blocks/by_mesh.html", {"rows": rows, "requirements": found, "caption": caption}
    ).strip()


@block("page")
def page_link(page, name, *, caption):
    """A way to a page of the site: ``trip``, the one that asks where and when."""
    if name not in _PAGES:
        raise TagError(
            _("there is no page “{name}”: use one of {PAGES}").format(
                name=name, PAGES=", ".join(_PAGES)
            )
        )
    return render_to_string(
        "lessons/blocks/page.html", {"url": reverse(_PAGES[name]), "caption": caption}
    ).strip()
