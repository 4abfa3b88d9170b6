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
from training.deck.fields import DayField, InchesField, LengthField, MassField, SpeedField
from training.deck.forms import DeckForm

from .models import GROUND, SHINE, WATER

MOST_BASKETS = 10000
MOST_TOWS_A_DAY = 50
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
    One tow as it is written down: when, where, how fast, what was changed, shine, catch.

    ``rig`` is the net as it was towed; places at which it has no dropper are left out.
    ``since`` is the day on which it was first said to be rigged, None if it never was.
    """

    KEPT_APART = ("key", "day")
    TOW = ("day", "tow_number", "ground", "depth", "bottom", "changed", "speed", "speed_over")
    TIDE = ("tide", "tide_speed")
    WEIGHTS = ("catch_target", "catch_bottom", "catch_other")
    BASKETS = ("baskets", "bottom_baskets", "basket_weight")

    day = DayField(label=gettext_lazy("Day of the tow"))
    tow_number = forms.IntegerField(
        label=gettext_lazy("Which tow of the day (optional)"),
        min_value=1,
        max_value=MOST_TOWS_A_DAY,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
    )
    ground = forms.CharField(
        label=gettext_lazy("Ground (optional)"),
        max_length=80,
        required=False,
        help_text=gettext_lazy("What you call the place. Only you see it."),
    )
    depth = LengthField(
        bare="fm",
        label=gettext_lazy("Depth (optional)"),
        required=False,
        help_text=gettext_lazy("Fathoms if you give no unit, such as 32."),
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
    changed = forms.CharField(
        label=gettext_lazy("What I changed since the last tow (optional)"),
        max_length=500,
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text=gettext_lazy(
            "For your own memory. If droppers, floats or ropes changed, change the net too."
        ),
    )
    speed = SpeedField(
        label=gettext_lazy("Speed"),
        help_text=gettext_lazy("Knots if you give no unit, such as 2.8."),
    )
    speed_over = forms.ChoiceField(
        label=gettext_lazy("Is that over the ground, or through the water?"),
        choices=[
            ("", gettext_lazy("Choose")),
            (GROUND, gettext_lazy("Over the ground, by GPS")),
            (WATER, gettext_lazy("Through the water, by a log")),
        ],
        help_text=gettext_lazy("The net feels the water. With the tide you are slower through it."),
    )
    tide = forms.ChoiceField(
        label=gettext_lazy("How did you tow to the tide?"),
        choices=[("", gettext_lazy("Not noted")), *tuning.TIDES.items()],
        required=False,
    )
    tide_speed = SpeedField(
        label=gettext_lazy("How fast did it run?"),
        required=False,
        help_text=gettext_lazy("Knots if you give no unit, such as 0.7. A guess is fine."),
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
    basket_weight = _catch_field(
        gettext_lazy("What a full basket weighs"),
        help_text=gettext_lazy("Needed if you counted and did not weigh. Such as 80 lb."),
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
            (_("The tow"), "", self.TOW, True),
            (
                _("The tide, if the speed is over the ground"),
                _("Without it we allow for a tide of up to 1 knot: an assumption, no source."),
                self.TIDE,
                False,
            ),
            (_("Shine along the footrope"), "", shines, True),
            (_("Catch, weighed"), _("Leave blank what you did not weigh."), self.WEIGHTS, True),
            (
                _("Catch, in baskets"),
                _("Count them as well as weighing, or instead of it."),
                self.BASKETS,
                False,
            ),
        )
        return super().sections

    @property
    def shine(self):
        """The shine in metres by place: only what was entered and could be read."""
        read = {place: self.cleaned_data.get(SHINE[place]) for place in self.places}
        return {place: shine for place, shine in read.items() if shine is not None}

    def clean_speed(self):
        return self._checked_speed(self.cleaned_data["speed"])

    @staticmethod
    def _checked_speed(speed):
        """Return ``speed``; refuse one at which no net is towed."""
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
        self.through_water = self._through_water(cleaned)
        self._check_shine(cleaned)
        self._check_catch(cleaned)
        return cleaned

    def _through_water(self, cleaned):
        """Return the speed through the water as ThroughWater, None if it cannot be told."""
        speed, over = cleaned.get("speed"), cleaned.get("speed_over")
        tide, strength = cleaned.get("tide") or "", cleaned.get("tide_speed")
        if over == WATER and (tide or strength is not None):
            self.add_error(
                "speed_over", _("The tide counts for a speed over the ground. Is this one?")
            )
        if tide == tuning.SLACK and strength:
            self.add_error("tide_speed", _("Slack water does not run. Fix one of the two."))
        if speed is None or not over or "tide_speed" in self.errors:
            return None
        found = tuning.ThroughWater(speed)
        if over == GROUND:
            found = tuning.through_water(speed, tide, strength)
            try:
                self._checked_speed(found.speed)
            except forms.ValidationError as error:
                self.add_error("tide_speed", error)
                return None
        return found

    def _check_shine(self, cleaned):
        wrong = [name for name in SHINE.values() if name in self.errors]
        if not self.shine and not wrong:
            self.add_error(
                SHINE[self.places[0]], _("Enter the shine at one place at least, such as 12 in.")
            )
        if self.through_water is None:
            return
        for place, shine in self.shine.items():
            try:
                tuning.heights(tuning.Tow(self.through_water.speed, {place: shine}), self.rig)
            except ValueError as error:
                self.add_error(SHINE[place], str(error))

    def _check_catch(self, cleaned):
        weighed = [name for name in self.WEIGHTS if cleaned.get(name) is not None]
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
            elif not weighed and not cleaned.get("basket_weight"):
                self.add_error(
                    "basket_weight", _("Enter what a full basket weighs, or weigh the catch.")
                )
