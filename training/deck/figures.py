"""A chart with the table behind it, for pages, pictures and spreadsheets alike."""

from datetime import date
from typing import NamedTuple

from django.http import Http404, HttpResponse
from django.utils.translation import gettext as _

from rigs.drawing import png
from rigs.drawing.scene import Scene
from rigs.drawing.titled import titled
from rigs.words.days import long_day
from rigs.words.say import gettext_lazy
from training.deck.drawn import drawn

from .downloads import table

DEMO = gettext_lazy("Demo data: some or all of what is shown here is invented.")


class Figure(NamedTuple):
    """
    A chart: its ``key`` for addresses and files, its title, and its Scene.

    ``header`` and ``rows`` are the same figures as a table; ``caption`` says in a
    sentence or two how to read them. ``about`` says of whom, ``on`` is the day of which
    they tell, and ``is_demo`` says that some of it is invented: these go with the chart.
    """

    key: str
    title: str
    scene: Scene
    header: tuple
    rows: list
    caption: str = ""
    about: str = ""
    on: date | None = None
    is_demo: bool = False

    @property
    def as_of(self):
        """The day in words, blank for none."""
        return "" if self.on is None else _("As of {day}.").format(day=long_day(self.on))

    @property
    def picture(self):
        """The Scene with its title, its day and the demo mark above it, to leave the site."""
        notes = [self.about, self.as_of, DEMO if self.is_demo else ""]
        return titled(self.scene, self.scene.title, [note for note in notes if note])

    @property
    def svg(self):
        """The chart as markup for a page."""
        return drawn(self.scene, self.key)


def marked(figures, on, is_demo, about=""):
    """Return ``figures`` with what goes with each of them: day, demo mark, of whom they tell."""
    return [figure._replace(on=on, is_demo=is_demo, about=about) for figure in figures]


def find(figures, key):
    """Return that of ``figures`` which has the ``key``; else answer 404."""
    for figure in figures:
        if figure.key == key:
            return figure
    raise Http404(_("There is no chart called “{key}”.").format(key=key))


def table_of(figure, ending):
    """Return a response that downloads the table of ``figure`` as a file of that ``ending``."""
    return table(ending, figure.key, figure.header, figure.rows)


def png_of(figure):
    """Return a response that downloads the chart of ``figure`` as a picture."""
    return HttpResponse(
        png.render(figure.picture),
        content_type="image/png",
        headers={"Content-Disposition": f'attachment; filename="{figure.key}.png"'},
    )
