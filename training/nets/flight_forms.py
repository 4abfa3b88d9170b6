"""The form of what to try on a net in flight before anything is cut."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.physics.chain import STOCKS
from rigs.physics.flight import POINTS
from rigs.tuning.altered import LEGS, Alteration
from rigs.words.days import long_day
from rigs.words.units import inches
from training.deck.fields import InchesField, LengthField

HANGS, PLANNED, NOW = "hangs", "planned", "now"
MOST = 12
"""More pieces than anybody puts on at once to see what they do."""

OVER = (
    "over_port_end",
    "over_port_corner",
    "over_center",
    "over_starboard_corner",
    "over_starboard_end",
)
"""The fields of floats put on at a place, by flight's POINTS."""

_LEG_NAMES = {
    f"{side} {which}": label
    for (side, which), label in zip(
        LEGS,
        (
            gettext_lazy("Port top leg"),
            gettext_lazy("Port bottom leg"),
            gettext_lazy("Starboard top leg"),
            gettext_lazy("Starboard bottom leg"),
        ),
        strict=True,
    )
}


def _pieces(label, least):
    return forms.IntegerField(
        label=label,
        min_value=least,
        max_value=MOST,
        required=False,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )


def _is_said(fields):
    return any(field.value() or field.errors for field in fields)


class TryForm(forms.Form):
    """
    What to change on a net, and on which: as it hangs, as planned, or as it is now.

    ``rigging`` is the Rigging that holds, None if nobody said that the net is rigged;
    ``has_sweep`` says whether there is one to cut.
    """

    convert = forms.BooleanField(
        label=gettext_lazy("Convert it as planned"),
        required=False,
        help_text=gettext_lazy("For a start from the net as it is now."),
    )

    FIRST = ("start", "floats", "droppers")

    start = forms.ChoiceField(label=gettext_lazy("Start from"), required=False)
    floats = _pieces(gettext_lazy("Floats more, or fewer with a minus"), -MOST)
    droppers = _pieces(gettext_lazy("Droppers more"), 0)
    chain = forms.ChoiceField(label=gettext_lazy("Chain of every dropper"), required=False)
    headrope = LengthField(label=gettext_lazy("Headrope longer by"), required=False)
    footrope = LengthField(
        label=gettext_lazy("Footrope longer by"),
        required=False,
        help_text=gettext_lazy("Bare rope at the wing ends, half at each. The netting stays."),
    )
    leg = forms.ChoiceField(
        label=gettext_lazy("One leg longer"),
        choices=[("", gettext_lazy("None")), *_LEG_NAMES.items()],
        required=False,
    )
    leg_by = InchesField(label=gettext_lazy("That leg longer by"), positive=False, required=False)
    cut_sweep = forms.BooleanField(
        label=gettext_lazy("Cut the sweep of the net as it is now"), required=False
    )

    def __init__(self, *args, rigging=None, has_sweep=False, **kwargs):
        super().__init__(*args, **kwargs)
        starts = [(PLANNED, _("As planned")), (NOW, _("As it is now, before the plan"))]
        if rigging is not None:
            day = long_day(rigging.day)
            starts = [(HANGS, _("As rigged on {day}").format(day=day)), *starts]
        self.fields["start"].choices = starts
        self.fields["start"].initial = starts[0][0]
        self.fields["chain"].choices = [
            ("", _("As it is")),
            *((name, inches(stock.size)) for name, stock in STOCKS.items()),
        ]
        if not has_sweep:
            del self.fields["cut_sweep"]
        for name, place in zip(OVER, POINTS, strict=True):
            label = _("Floats more over the {place}").format(place=place)
            self.fields[name] = _pieces(label, 0)

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("leg") and cleaned.get("leg_by") is None and "leg_by" not in self.errors:
            self.add_error("leg_by", _("Enter by how much, such as 3 in."))
        if cleaned.get("leg_by") is not None and not cleaned.get("leg"):
            self.add_error("leg", _("Choose the leg."))
        if cleaned.get("convert") and cleaned.get("start") != NOW:
            self.add_error("convert", _("Start from the net as it is now to convert it."))
        return cleaned

    @property
    def first(self):
        """The fields that are always shown."""
        return [self[name] for name in self.FIRST]

    @property
    def over(self):
        """Those of floats put on at a place, which are shown when asked for."""
        return [self[name] for name in OVER]

    @property
    def more(self):
        """The others, which are shown when asked for."""
        return [self[name] for name in self.fields if name not in (*self.FIRST, *OVER)]

    @property
    def is_over_said(self):
        """Whether something was said of floats at a place."""
        return _is_said(self.over)

    @property
    def is_more_said(self):
        """Whether something was said in one of the others."""
        return _is_said(self.more)

    @property
    def starts_from(self):
        """The rig that it is tried on, as its choice says it; the form has to be valid."""
        start = self.cleaned_data["start"] or self.fields["start"].initial
        return dict(self.fields["start"].choices)[start]

    @property
    def said(self):
        """What is tried, a phrase each; the form has to be valid."""
        if self.cleaned_data["convert"]:
            yield _("converted as planned")
        yield from self.alteration.words()

    @property
    def alteration(self):
        """What is changed, as an Alteration; the form has to be valid."""
        told = self.cleaned_data
        legs = ()
        if told["leg"] and told["leg_by"]:
            legs = ((*told["leg"].split(), told["leg_by"]),)
        return Alteration(
            floats=told["floats"] or 0,
            droppers=told["droppers"] or 0,
            chain=STOCKS[told["chain"]].size if told["chain"] else None,
            headrope=told["headrope"] or 0.0,
            footrope=told["footrope"] or 0.0,
            legs=legs,
            cut_sweep=told.get("cut_sweep", False),
            put_on=tuple(told[name] or 0 for name in OVER),
        )
