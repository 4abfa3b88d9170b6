"""A chart with the table behind it, for pages, pictures and spreadsheets alike."""

from typing import NamedTuple

from django.http import Http404, HttpResponse
from django.utils.translation import gettext as _

from rigs.drawing import png
from rigs.drawing.scene import Scene
from training.deck.drawn import drawn

from .spreadsheet import csv_response


class Figure(NamedTuple):
    """
    A chart: its ``key`` for addresses and files, its title, and its Scene.

    ``header`` and ``rows`` are the same figures as a table; ``caption`` says in a
    sentence or two how to read them.
    """

    key: str
    title: str
    scene: Scene
    header: tuple
    rows: list
    caption: str = ""

    @property
    def svg(self):
        """The chart as markup for a page."""
        return drawn(self.scene, self.key)


def find(figures, key):
    """Return that of ``figures`` which has the ``key``; else answer 404."""
    for figure in figures:
        if figure.key == key:
            return figure
    raise Http404(_("There is no chart called “{key}”.").format(key=key))


def csv_of(figure):
    """Return a response that downloads the table of ``figure``."""
    return csv_response(f"{figure.key}.csv", figure.header, figure.rows)


def png_of(figure):
    """Return a response that downloads the chart of ``figure`` as a picture."""
    return HttpResponse(
        png.render(figure.scene),
        content_type="image/png",
        headers={"Content-Disposition": f'attachment; filename="{figure.key}.png"'},
    )
