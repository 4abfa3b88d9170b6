"""The drawing of the first page: a footrope to raise and lower, and who passes under it."""

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy

from rigs.drawing import passing
from rigs.drawing.scene import WIDTH
from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.plan import raised
from rigs.rules import rulebook
from rigs.words.units import INCH, KNOT, inches, trimmed
from training.deck.drawn import drawn

BOOK = "no-sweep"
START = 18
"""How many inches up it is at first: between the ends of the trade's rule of thumb."""


class HeightForm(forms.Form):
    """How high the footrope is, in whole inches."""

    height = forms.IntegerField(
        label=gettext_lazy("Raise or lower the footrope"),
        min_value=0,
        max_value=raised.HIGHEST,
        initial=START,
        widget=forms.NumberInput(attrs={"type": "range", "step": 1, "class": "live-dial"}),
    )


def _footropes():
    return raised.every(rulebook.nearest(BOOK, timezone.localdate()))


def shown(form):
    """Return what "trying/passing.html" shows of ``form``, as a dict; what cannot be read is 18."""
    inch = form.cleaned_data["height"] if form.is_bound and form.is_valid() else START
    found = _footropes()[inch]
    hang = found.hang
    return {
        "form": HeightForm(initial={"height": inch}),
        "told": passing.told(hang, found.height),
        "drawing": drawn(passing.passing_view(hang, found.height), "passing"),
        "by_custom": FOOTROPE_HEIGHT.text,
        "length": inches(hang.length),
        "chain": found.choice,
        "knots": trimmed(hang.speed / KNOT, 1),
    }


def frames():
    """Return all that moves in the drawing, for each inch from the bottom up, as plain values."""
    x, ground = passing.footrope(0.0)
    return {
        "grip": {"left": x / WIDTH, "bottom": ground / passing.HEIGHT},
        "inch": INCH * passing.SCALE / passing.HEIGHT,
        "frames": [_frame(each) for each in _footropes()],
    }


def _frame(found):
    """Return how far each part is lifted, where each line runs, and what is said."""
    hang, height = found.hang, found.height
    lifts = {f"life-{n}": passing.lift(life, height) for n, life in enumerate(passing.LIVES)}
    up = height * passing.SCALE
    return {
        "lifts": {name: round(by, 1) for name, by in (lifts | {"net": up, "words": up}).items()},
        "lines": {
            "chain": _points(passing.hanging(hang, height)),
            "drags": _points(passing.lying(hang)),
            "arrow": _points(passing.arrow(height)),
        },
        "words": passing.height_words(height),
        "told": passing.told(hang, height),
    }


def _points(points):
    return " ".join(f"{trimmed(x, 1)},{trimmed(y, 1)}" for x, y in points)
