"""
The live figures: a dropper under tow that the reader sets, and a net in flight that they change.

Each is a form and what it shows. The one works it out, the other draws what was flown beforehand.
"""

from django import forms
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.drawing.trailing import trailing_view
from rigs.plan import trial
from rigs.tuning.flights import pictured
from training.deck.drawn import drawn

from . import in_flight
from .heights import rows


class DialInput(forms.NumberInput):
    """A slider; it says its unit, so that its number can be told beside it."""

    input_type = "range"

    def __init__(self, dial):
        super().__init__(attrs={"step": dial.step, "data-unit": dial.unit, "class": "live-dial"})


class LiveForm(forms.Form):
    """What the reader sets; ``rulebook`` gives what can be set and within what."""

    asks_first = False  # sliders are moved with the drawing in view over them
    title = gettext_lazy("A dropper to try out")
    again = gettext_lazy("Move a slider to try again.")
    figure_template = "lessons/live_figure.html"
    basis_template = "lessons/blocks/live_basis.html"
    addresses = ("lessons:live", "lessons:live_figure", "lessons:live_table")

    def __init__(self, rulebook, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.rulebook = rulebook
        self.choices = {str(choice): choice for choice in trial.choices(rulebook)}
        self.dials = trial.dials(rulebook)
        self.fields["chain"] = forms.ChoiceField(
            label=_("Chain"),
            choices=[
                (name, _("{name} chain").format(name=name).capitalize()) for name in self.choices
            ],
            initial=next(iter(self.choices)),
            widget=forms.Select(attrs={"class": "form-select"}),
        )
        for dial in self.dials:
            self.fields[dial.key] = forms.FloatField(
                label=dial.label,
                min_value=dial.low,
                max_value=dial.high,
                initial=dial.start,
                widget=DialInput(dial),
            )

    @property
    def settings(self):
        """What is set, by field: what the reader asked for, or where it all begins."""
        if self.is_bound:
            return self.cleaned_data
        return {name: field.initial for name, field in self.fields.items()}

    @property
    def told(self):
        """What is set, as (label, words)."""
        found = [(_("Chain"), self.settings["chain"])]
        return found + [
            (dial.label, f"{self.settings[dial.key]:g} {dial.unit}") for dial in self.dials
        ]

    def context(self, identifier):
        """Return what ``figure_template`` needs."""
        settings = self.settings
        numbers = {dial.key: settings[dial.key] for dial in self.dials}
        report = trial.report(self.rulebook, self.choices[settings["chain"]], **numbers)
        scene = trailing_view(report, trial.longest(self.rulebook))
        return {
            "svg": drawn(scene, identifier),
            "rows": rows(report),
        }


class FlightForm(forms.Form):
    """
    Which change to the invented net is shown in flight.

    ``only`` are the sorts of change that are offered, all if none; ``rulebook`` is what the
    changed net is judged by.
    """

    asks_first = True  # what is shown is longer than a phone
    title = gettext_lazy("A net in flight to try out")
    again = gettext_lazy("Choose again to try again.")
    figure_template = "lessons/flight_figure.html"
    basis_template = "lessons/blocks/flight_basis.html"
    addresses = ("lessons:flight", "lessons:flight_figure", "lessons:flight_table")

    def __init__(self, rulebook, *args, only=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.rulebook = rulebook
        offered = [mend for mend in pictured.tried() if not only or mend.sort in only]
        self.fields["change"] = forms.ChoiceField(
            label=_("Change"),
            choices=[(mend.key, mend.words(pictured.SOUND.rig)) for mend in offered],
            initial=offered[0].key,
            widget=forms.Select(attrs={"class": "form-select"}),
        )

    @property
    def change(self):
        """The name of the change that is asked for, or of the one it begins with."""
        return self.cleaned_data["change"] if self.is_bound else self.fields["change"].initial

    def context(self, identifier):
        """Return what ``figure_template`` needs."""
        return in_flight.changed(pictured.after(self.change), self.rulebook, identifier)


def frame(form):
    """Return what the templates need of ``form`` beside what it shows, as a dict."""
    page, figure, table = (reverse(name, args=[form.rulebook.name]) for name in form.addresses)
    return {
        "form": form,
        "page_url": page,
        "figure_url": figure,
        "table_url": table,
        "rulebook_name": form.rulebook.name,
    }


def shown(form, identifier="live"):
    """
    Return what the templates need to show ``form``, valid or not bound, as a dict.

    ``identifier`` is for the drawing; nothing else on the page may have it.
    """
    return frame(form) | form.context(identifier)
