"""Tags about seasons and areas, and the way from a lesson to the page that asks after them."""

from django.template.loader import render_to_string
from django.urls import reverse

from rigs.bearing import miles
from rigs.waters import DOUBT

from ..errors import TagError
from .grammar import block, inline

_PAGES = {"trip": "rigs:trip"}


@inline("near_line")
def near_line(page):
    """How near a side a position is said to be on it: ``0.05 nautical miles``."""
    return miles(DOUBT)


@block("seasons")
def seasons(page, *names, caption):
    """A table of when each of the fisheries named is open, and which waters it is open in."""
    if not names:
        raise TagError("say the seasons of which rule sets")
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


@block("page")
def page_link(page, name, *, caption):
    """A way to a page of the site: ``trip``, the one that asks where and when."""
    if name not in _PAGES:
        raise TagError(f"there is no page “{name}”: use one of {', '.join(_PAGES)}")
    return render_to_string(
        "lessons/blocks/page.html", {"url": reverse(_PAGES[name]), "caption": caption}
    ).strip()
