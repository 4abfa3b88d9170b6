"""The answer to a bare footrope: where droppers hang on it, and where one meets the sweep."""

from django import forms
from django.utils.translation import gettext as _

from rigs.rules.rulebook import ROUNDING
from rigs.words import units
from rigs.words.gear import PORT, SIDES, STARBOARD
from rigs.words.say import gettext_lazy
from rigs.words.units import UnitError, feet_inches

from ..typed_places import read_distances, write_distances
from .base import AnswerForm

SIGN = {PORT: -1, STARBOARD: 1}


class SpacingForm(AnswerForm):
    """Where droppers hang, measured from the center: works without any script."""

    port = forms.CharField(
        label=gettext_lazy("To port of the center"),
        required=False,
        max_length=1500,
        help_text=gettext_lazy("One distance on each line, such as 6 ft or 6 ft 6 in."),
        widget=forms.Textarea(attrs={"rows": 5, "autocomplete": "off", "spellcheck": "false"}),
    )
    center = forms.BooleanField(label=gettext_lazy("A dropper right at the center"), required=False)
    starboard = forms.CharField(
        label=gettext_lazy("To starboard of the center"),
        required=False,
        max_length=1500,
        help_text=gettext_lazy("One distance on each line, such as 6 ft or 6 ft 6 in."),
        widget=forms.Textarea(attrs={"rows": 5, "autocomplete": "off", "spellcheck": "false"}),
    )
    on_sweep = forms.CharField(
        label=gettext_lazy(
            "Take your dropper farthest to port. Its lower end meets the sweep. How far is "
            "that from the center of the sweep?"
        ),
        max_length=40,
        help_text=gettext_lazy("Measured along the sweep, such as 6 ft 6 in."),
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
        error_messages={"required": gettext_lazy("Write a distance, such as 6 ft 6 in.")},
    )
    field_order = ["port", "center", "starboard", "on_sweep"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if not self.task.has_sweep:
            del self.fields["on_sweep"]

    def clean_on_sweep(self):
        try:
            return units.parse_length(self.cleaned_data["on_sweep"])
        except UnitError as error:
            raise forms.ValidationError(str(error)) from error

    @property
    def places(self):
        """The fields that say where droppers hang on the footrope."""
        return [self[name] for name in ("port", "center", "starboard")]

    def _distances(self, side):
        reach = abs(self.task.footrope.end(side))
        try:
            distances = read_distances(self.cleaned_data[side])
        except UnitError as error:
            raise forms.ValidationError(str(error)) from error
        beyond = [each for each in distances if each > reach + ROUNDING]
        if beyond:
            raise forms.ValidationError(
                _(
                    "{feet_inches} is past the {side} wing end, which is {feet_inches2} from the "
                    "center."
                ).format(
                    feet_inches=feet_inches(beyond[0]), side=side, feet_inches2=feet_inches(reach)
                )
            )
        return distances

    def clean_port(self):
        return self._distances(PORT)

    def clean_starboard(self):
        return self._distances(STARBOARD)

    def clean(self):
        cleaned = super().clean()
        if not self.errors and not positions(cleaned):
            raise forms.ValidationError(_("Hang at least one dropper before you turn it in."))
        return cleaned

    @property
    def positions(self):
        """Where the droppers hang, signed metres from the center; the form must be valid."""
        return positions(self.cleaned_data)


def positions(cleaned):
    """Return the signed metres from the center of a form's cleaned data, port to starboard."""
    found = [SIGN[side] * distance for side in SIDES for distance in cleaned[side]]
    return sorted(found + [0.0] * bool(cleaned["center"]))


def answer_at(places):
    """Return the raw answer that hangs droppers at ``places``, signed metres from the center."""
    return {
        "port": write_distances(-at for at in sorted(places, reverse=True) if at < 0),
        "center": any(at == 0 for at in places),
        "starboard": write_distances(at for at in sorted(places) if at > 0),
        # Straight down; only read where there is a sweep.
        "on_sweep": write_distances([abs(min(places, default=0.0))]),
    }
