"""The live figure: a dropper under tow that the reader sets as they like."""

from django import forms
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from rigs.drawing import svg
from rigs.drawing.trailing import trailing_view
from rigs.plan import trial

from .heights import rows


class DialInput(forms.NumberInput):
    """A slider; it says its unit, so that its number can be told beside it."""

    input_type = "range"

    def __init__(self, dial):
        super().__init__(attrs={"step": dial.step, "data-unit": dial.unit, "class": "live-dial"})


class LiveForm(forms.Form):
    """What the reader sets; ``rulebook`` gives what can be set and within what."""

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


def shown(form, identifier="live"):
    """
    Return what the templates need to show ``form``, valid or not bound, as a dict.

    ``identifier`` is for the drawing; nothing else on the page may have it.
    """
    settings = form.settings
    numbers = {dial.key: settings[dial.key] for dial in form.dials}
    report = trial.report(form.rulebook, form.choices[settings["chain"]], **numbers)
    scene = trailing_view(report, trial.longest(form.rulebook))
    return {
        "form": form,
        "rulebook_name": form.rulebook.name,
        "svg": mark_safe(svg.render(scene, identifier)),  # the renderer escapes its words
        "rows": rows(report),
    }
