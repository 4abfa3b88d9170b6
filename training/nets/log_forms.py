"""The form for one tow."""

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs import tuning
from rigs.physics.tow import BOTTOMS
from rigs.physics.tow.shape import FASTEST
from rigs.tuning.log import PLACE_NAMES
from rigs.words.days import long_day
from rigs.words.units import KNOT
from training.deck.fields import DayField, InchesField, MassField, SpeedField
from training.deck.forms import DeckForm

from .models import SHINE

MOST_BASKETS = 10000
SLOWEST = KNOT / 2
"""Slower than any net is towed, m/s: a guard against blanks and slips. No source."""


def _catch_field(label, **options):
    return MassField(label=label, required=False, **options)


def _count_field(label, **options):
    return forms.IntegerField(
        label=label,
        min_value=0,
        max_value=MOST_BASKETS,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
        **options,
    )


class TowForm(DeckForm):
    """
    One tow: when, how fast, how much shine where, and what was caught.

    ``rig`` is the net as it was towed; places at which it has no dropper are left out.
    ``since`` is the day on which it was first said to be rigged, None if it never was.
    """

    KEPT_APART = ("key", "day")
    CATCH = ("catch_target", "catch_bottom", "catch_other", "baskets", "bottom_baskets")

    day = DayField(label=gettext_lazy("Day of the tow"))
    speed = SpeedField(
        label=gettext_lazy("Speed through the water"),
        help_text=gettext_lazy("Knots if you give no unit, such as 2.8."),
    )
    bottom = forms.ChoiceField(
        label=gettext_lazy("Bottom (optional)"),
        choices=[
            ("", gettext_lazy("Not noted")),
            *((key, each.name.capitalize()) for key, each in BOTTOMS.items()),
        ],
        required=False,
        help_text=gettext_lazy("Knowing the bottom makes the range of the heights smaller."),
    )
    catch_target = _catch_field(
        gettext_lazy("Target fish"), help_text=gettext_lazy("Pounds if you give no unit.")
    )
    catch_bottom = _catch_field(gettext_lazy("Flatfish and other bottom animals"))
    catch_other = _catch_field(gettext_lazy("All other"))
    baskets = _count_field(gettext_lazy("Baskets in all (optional)"))
    bottom_baskets = _count_field(
        gettext_lazy("Baskets of bottom animals (optional)"),
        help_text=gettext_lazy("Counting baskets shows how sure the share is."),
    )

    def __init__(self, *args, rig, since=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.rig, self.since = rig, since
        self.fields["day"].initial = timezone.localdate
        self.places = []
        for place, name in SHINE.items():
            try:
                tuning.dropper_at(rig, place)
            except ValueError:
                continue
            self.places.append(place)
            self.fields[name] = InchesField(
                label=_("Shine, {PLACE_NAMES}").format(PLACE_NAMES=PLACE_NAMES[place]),
                required=False,
                positive=False,
            )
        self.fields[SHINE[self.places[0]]].help_text = _(
            "How much of the dropper's lower end is worn bright. Inches if you give no unit, "
            "such as 12. Enter 0 for none. Leave blank what you did not measure."
        )

    @property
    def sections(self):
        shines = [SHINE[place] for place in self.places]
        self.SECTIONS = (
            (_("The tow"), "", ("day", "speed", "bottom"), True),
            (_("Shine along the footrope"), "", shines, True),
            (_("Catch"), _("Leave blank what you did not weigh."), self.CATCH, True),
        )
        return super().sections

    @property
    def shine(self):
        """The shine in metres by place: only what was entered and could be read."""
        read = {place: self.cleaned_data.get(SHINE[place]) for place in self.places}
        return {place: shine for place, shine in read.items() if shine is not None}

    def clean_speed(self):
        speed = self.cleaned_data["speed"]
        if speed < SLOWEST:
            raise forms.ValidationError(
                _("That is too slow for a tow. Enter the speed while towing, such as 2.8 kn.")
            )
        if speed > FASTEST:
            raise forms.ValidationError(
                _("Nobody tows faster than {value:.0f} knots. Check the unit.").format(
                    value=FASTEST / KNOT
                )
            )
        return speed

    def clean_day(self):
        day = self.cleaned_data["day"]
        if day > timezone.localdate():
            raise forms.ValidationError(_("That date is in the future. Check it."))
        if self.since is not None and day < self.since:
            raise forms.ValidationError(
                _(
                    "You said that you rigged this net on {since}. Check this day, or take that "
                    "back on the page of the net."
                ).format(since=long_day(self.since))
            )
        return day

    def clean(self):
        cleaned = super().clean()
        self._check_shine(cleaned)
        self._check_catch(cleaned)
        return cleaned

    def _check_shine(self, cleaned):
        wrong = [name for name in SHINE.values() if name in self.errors]
        if not self.shine and not wrong:
            self.add_error(
                SHINE[self.places[0]], _("Enter the shine at one place at least, such as 12 in.")
            )
        if cleaned.get("speed") is None:
            return
        for place, shine in self.shine.items():
            try:
                tuning.heights(tuning.Tow(cleaned["speed"], {place: shine}), self.rig)
            except ValueError as error:
                self.add_error(SHINE[place], str(error))

    def _check_catch(self, cleaned):
        groups = ("catch_target", "catch_bottom", "catch_other")
        weighed = [name for name in groups if cleaned.get(name) is not None]
        for name in ("catch_target", "catch_bottom"):
            if weighed and name not in weighed and name not in self.errors:
                self.add_error(name, _("Enter this too, 0 if there was none."))
        baskets, bottom = cleaned.get("baskets"), cleaned.get("bottom_baskets")
        if (baskets is None) != (bottom is None):
            missing = "baskets" if baskets is None else "bottom_baskets"
            if missing not in self.errors:
                self.add_error(missing, _("Enter both counts, or neither."))
        elif baskets is not None:
            if baskets < 1:
                self.add_error("baskets", _("Leave this blank if no baskets were counted."))
            elif bottom > baskets:
                self.add_error("bottom_baskets", _("These cannot be more than all baskets."))
            elif not weighed:
                self.add_error("catch_target", _("Enter the weights too."))
