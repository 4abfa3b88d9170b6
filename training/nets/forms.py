"""The forms for one's own nets, in the words and units of the deck."""

import uuid

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs import plan
from rigs.plan.entry import FROM_CENTER, FROM_CORNERS, NONE, SOME, UNKNOWN
from rigs.rules.rulebook import ROUNDING
from rigs.words import guards
from rigs.words.days import long_day
from rigs.words.gear import DIAMOND, SQUARE
from rigs.words.guards import MOST_PIECES
from rigs.words.units import FOOT, feet_inches
from training.deck.fields import (
    ChainField,
    DayField,
    InchesField,
    LengthField,
    MassField,
    PlacesField,
    SpeedField,
    YesNoField,
)
from training.deck.forms import DeckForm
from training.inbox.beside import stamp


def _goal_choices():
    """Return the goals in force today, then those that are not, which a net may have already."""
    now = {book.name: book.title for book in plan.goals(timezone.localdate())}
    lapsed = {
        book.name: _("{title} (no version for today)").format(title=book.title)
        for book in plan.goals()
        if book.name not in now
    }
    return list((now | lapsed).items())


def _stocks_to_hang():
    """Return the Stocks that some rule set without a sweep lets droppers be made of."""
    stocks = {}
    for book in plan.goals(timezone.localdate()) or plan.goals():
        if book.has("dropper_stock"):
            stocks |= {stock.name: stock for stock in plan.chain_options(book)}
    return list(stocks.values())


ONE_OR_TWO = [("1", gettext_lazy("One")), ("2", gettext_lazy("Two, side by side"))]


class NetForm(DeckForm):
    """One's own net as it is now, and what one means to hang on it."""

    KEPT_APART = ("key", "name", "goal", "sure")
    SECTIONS = (
        (
            gettext_lazy("The ropes, in the order of the tape"),
            gettext_lazy(
                "This is enough to start. Walk the footrope from the port wing end to the "
                "starboard one. Write lengths the way you would on deck: 60 ft, 3 ft 6 in, 12 fm, "
                "1.07 m."
            ),
            ("port_wing", "bosom", "starboard_wing", "headrope", "has_sweep", "goal", "name"),
            True,
        ),
        (
            gettext_lazy("Sweep and droppers now"),
            gettext_lazy("What hangs from the footrope today."),
            (
                "sweep_chain",
                "sweep_length",
                "droppers",
                "dropper_from",
                "dropper_center",
                "dropper_spacing",
                "port_places",
                "starboard_places",
                "dropper_length",
                "dropper_chain",
                "dropper_count",
                "dropper_bare",
            ),
            False,
        ),
        (
            gettext_lazy("Floats now"),
            gettext_lazy("We assume even spacing along the whole headrope."),
            ("float_count", "float_size"),
            False,
        ),
        (
            gettext_lazy("Legs and ground cables now"),
            gettext_lazy(
                "We assume both sides are the same. If not, enter the longer and the thicker."
            ),
            (
                "top_leg",
                "bottom_leg",
                "top_wire",
                "bottom_wire",
                "legs_extended",
                "cable",
                "cable_wire",
                "wire_bare",
            ),
            False,
        ),
        (
            gettext_lazy("Codend and vessel"),
            gettext_lazy("Needed for a fishery with a mesh rule."),
            ("mesh", "mesh_count", "hanging", "top_clear", "mesh_clear", "vessel_length"),
            False,
        ),
        (
            gettext_lazy("Grate"),
            gettext_lazy("Only for the grate fishery."),
            ("bar_gap", "grate_width", "outlet_width", "grate_stiff", "grate_ahead"),
            False,
        ),
        (
            gettext_lazy("What you will hang"),
            gettext_lazy(
                "Leave blank to keep good droppers. Where there are none, the plan uses the "
                "heaviest chain allowed, and the shortest length that rule or custom asks for."
            ),
            ("plan_chain", "plan_count", "plan_length"),
            False,
        ),
        (
            gettext_lazy("To see it in flight"),
            gettext_lazy(
                "The more of this you know, the surer the picture is. Leave blank what you do not "
                "know. Legs matter most: measure them to the inch, such as 10 fm 2 ft 3 in."
            ),
            ("tow_speed", "door_spread", "float_lift", "footrope_weight", "leg_weight"),
            False,
        ),
    )

    name = forms.CharField(
        label=gettext_lazy("Name of this net"),
        max_length=80,
        initial=gettext_lazy("My net"),
        help_text=gettext_lazy("Any name you will recognize."),
    )
    goal = forms.ChoiceField(
        label=gettext_lazy("Which rules will it fish under?"), choices=_goal_choices
    )
    bosom = LengthField(
        least=FOOT,
        label=gettext_lazy("Bosom"),
        help_text=gettext_lazy("The footrope from corner to corner."),
    )
    port_wing = LengthField(
        label=gettext_lazy("Wing"),
        positive=False,
        help_text=gettext_lazy(
            "The footrope from the wing end to the corner, where bottom wing meets belly."
        ),
    )
    starboard_wing = LengthField(
        label=gettext_lazy("Starboard wing, if it differs (optional)"),
        positive=False,
        required=False,
        help_text=gettext_lazy("If you fill this in, the one above is the port wing."),
    )
    headrope = LengthField(
        least=FOOT, label=gettext_lazy("Headrope"), help_text=gettext_lazy("Wing end to wing end.")
    )

    has_sweep = YesNoField(
        label=gettext_lazy("Is there a sweep on it now?"),
        yes=gettext_lazy("Yes, a chain sweep"),
        no=gettext_lazy("No"),
        unknown=gettext_lazy("Choose"),
        required=True,
    )
    sweep_chain = ChainField(label=gettext_lazy("Chain of the sweep"))
    sweep_length = LengthField(label=gettext_lazy("Length of the sweep"), required=False)
    droppers = forms.ChoiceField(
        label=gettext_lazy("Are there droppers?"),
        choices=[
            (UNKNOWN, gettext_lazy("Not measured yet")),
            (SOME, gettext_lazy("Yes, I can say where")),
            (NONE, gettext_lazy("No, none")),
        ],
        required=False,
    )
    dropper_from = forms.ChoiceField(
        label=gettext_lazy("From where do you count?"),
        choices=[
            (FROM_CENTER, gettext_lazy("From the center out")),
            (FROM_CORNERS, gettext_lazy("From each corner out")),
        ],
        required=False,
        help_text=gettext_lazy("Both ways go out to the wing ends."),
    )
    dropper_center = YesNoField(
        label=gettext_lazy("Does one hang at the center?"),
        help_text=gettext_lazy("Answer this if you count from the corners."),
    )
    dropper_spacing = LengthField(
        label=gettext_lazy("If they hang evenly: how far apart"),
        required=False,
        help_text=gettext_lazy("The first hangs where you count from."),
    )
    port_places = PlacesField(
        label=gettext_lazy("Or list them, port side"),
        required=False,
        help_text=gettext_lazy(
            "With commas: 0, 8 ft, 16 ft. 0 is where you count from. From a corner, a minus goes "
            "toward the center: -4 ft."
        ),
    )
    starboard_places = PlacesField(
        label=gettext_lazy("Starboard side"),
        required=False,
        help_text=gettext_lazy("Same way. Write “none” for a side without any."),
    )
    dropper_length = InchesField(
        label=gettext_lazy("Length of a dropper"),
        required=False,
        help_text=gettext_lazy("Inches if you give no unit."),
    )
    dropper_chain = ChainField(label=gettext_lazy("Chain of the droppers"))
    dropper_count = forms.TypedChoiceField(
        label=gettext_lazy("Chains at each place"), choices=ONE_OR_TWO, coerce=int, required=False
    )
    dropper_bare = YesNoField(
        label=gettext_lazy("Are the droppers bare?"),
        yes=gettext_lazy("Yes, bare chain"),
        no=gettext_lazy("No, weights or wrapping on them"),
    )

    float_count = forms.IntegerField(
        label=gettext_lazy("How many floats"),
        min_value=0,
        max_value=MOST_PIECES,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
    )
    float_size = InchesField(label=gettext_lazy("Smallest float, across"), required=False)

    top_leg = LengthField(
        bare="fm",
        label=gettext_lazy("Top leg"),
        required=False,
        help_text=gettext_lazy("In fathoms."),
    )
    bottom_leg = LengthField(
        bare="fm",
        label=gettext_lazy("Bottom leg"),
        required=False,
        help_text=gettext_lazy("In fathoms."),
    )
    top_wire = InchesField(
        label=gettext_lazy("Wire of the top leg"),
        required=False,
        help_text=gettext_lazy("Such as 1/2 in."),
    )
    bottom_wire = InchesField(label=gettext_lazy("Wire of the bottom leg"), required=False)
    legs_extended = YesNoField(label=gettext_lazy("Is there an extension in a leg?"))
    cable = LengthField(
        bare="fm",
        label=gettext_lazy("Ground cable"),
        required=False,
        help_text=gettext_lazy("In fathoms."),
    )
    cable_wire = InchesField(label=gettext_lazy("Wire of the ground cable"), required=False)
    wire_bare = YesNoField(
        label=gettext_lazy("Is all the wire bare?"),
        yes=gettext_lazy("Yes, all of it"),
        no=gettext_lazy("No, something is covered"),
    )

    mesh = InchesField(label=gettext_lazy("Mesh opening in the codend"), required=False)
    mesh_count = forms.IntegerField(
        label=gettext_lazy("How many meshes from the terminus have it"),
        min_value=0,
        max_value=10000,
        required=False,
        help_text=gettext_lazy("For square mesh, count bars."),
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
    )
    hanging = forms.ChoiceField(
        label=gettext_lazy("Diamond or square mesh?"),
        choices=[(DIAMOND, gettext_lazy("Diamond")), (SQUARE, gettext_lazy("Square"))],
        required=False,
    )
    top_clear = YesNoField(
        label=gettext_lazy("Is the top half of the net clear?"),
        no=gettext_lazy("No, something closes it up"),
        help_text=gettext_lazy(
            "One splitting strap and one bull rope are allowed if they do not pull it in."
        ),
    )
    mesh_clear = YesNoField(
        label=gettext_lazy("Are the meshes open?"),
        no=gettext_lazy("No, meshes are blocked or bars twisted"),
    )
    vessel_length = LengthField(label=gettext_lazy("Length of the vessel"), required=False)

    bar_gap = InchesField(
        label=gettext_lazy("Space between bars"),
        required=False,
        help_text=gettext_lazy("You can write 50 mm."),
    )
    grate_width = InchesField(label=gettext_lazy("Width of the grate"), required=False)
    outlet_width = InchesField(label=gettext_lazy("Width of the outlet"), required=False)
    grate_stiff = YesNoField(label=gettext_lazy("Is the grate rigid or semi-rigid?"))
    grate_ahead = YesNoField(label=gettext_lazy("Is it forward of the codend?"))

    plan_chain = ChainField(
        label=gettext_lazy("Chain to hang"),
        stocks=_stocks_to_hang(),
        unknown=gettext_lazy("As now, or the heaviest allowed"),
    )
    plan_count = forms.TypedChoiceField(
        label=gettext_lazy("How many at each place"),
        choices=[("", gettext_lazy("As now, or one")), *ONE_OR_TWO],
        coerce=int,
        empty_value=None,
        required=False,
    )
    plan_length = InchesField(label=gettext_lazy("Length to hang"), required=False)

    tow_speed = SpeedField(
        label=gettext_lazy("Speed through the water on most tows"), required=False
    )
    door_spread = LengthField(
        label=gettext_lazy("Spread of the doors while towing"),
        required=False,
        help_text=gettext_lazy("In feet, from a sensor, or from how far the warps stand apart."),
    )
    float_lift = MassField(
        label=gettext_lazy("Lift of one float"),
        required=False,
        help_text=gettext_lazy(
            "In a tank: hang weights on it until it just sinks, then weigh them in the water. "
            "Such as 6.6 lb."
        ),
    )
    footrope_weight = MassField(
        label=gettext_lazy("Weight of the whole footrope, without chain"),
        required=False,
        help_text=gettext_lazy("Weighed dry, such as 35 lb."),
    )
    leg_weight = MassField(
        label=gettext_lazy("Weight of one leg"),
        required=False,
        help_text=gettext_lazy("Weighed dry, such as 25 lb. It counts once its length is known."),
    )

    sure = forms.BooleanField(
        label=gettext_lazy("I checked: these lengths are right."), required=False
    )

    unlikely = {}
    """What was asked of entries that few nets have, by field."""

    PLACED = ("dropper_spacing", "port_places", "starboard_places")
    LISTS = ("port_places", "starboard_places")

    def clean(self):
        cleaned = super().clean()
        self._check_reach("port_places", cleaned.get("port_wing"))
        starboard = cleaned.get("starboard_wing")
        self._check_reach(
            "starboard_places", cleaned.get("port_wing") if starboard is None else starboard
        )
        self._check_droppers(cleaned)
        self.unlikely = self._unlikely()
        if not cleaned.get("sure"):
            for name, words in self.unlikely.items():
                self.add_error(name, words)
        return cleaned

    def _check_droppers(self, cleaned):
        """Ask for what is missing of the droppers' places, and take no two answers."""
        said = [name for name in self.PLACED if cleaned.get(name)]
        if cleaned.get("droppers") in (UNKNOWN, "") and said:
            cleaned["droppers"] = SOME
        if cleaned.get("droppers") == NONE and said:
            self.add_error(
                "droppers", _("You say that there are none, and where they hang. Fix one of them.")
            )
        if cleaned.get("droppers") != SOME:
            return
        self._check_places(cleaned, said)
        if cleaned.get("dropper_from") == FROM_CORNERS and cleaned.get("dropper_center") is None:
            self.add_error("dropper_center", _("Say if one hangs at the center."))

    def _check_places(self, cleaned, said):
        spacing, bosom = cleaned.get("dropper_spacing"), cleaned.get("bosom")
        if (
            spacing
            and bosom
            and (bosom + 2 * (cleaned.get("port_wing") or 0)) / spacing > MOST_PIECES
        ):
            self.add_error(
                "dropper_spacing",
                _("That makes more droppers than any net carries. Check the unit."),
            )
        if not said and not self._failed(*self.PLACED):
            self.add_error(
                "dropper_spacing",
                _("Enter how far apart they hang, such as 8 ft, or list their places."),
            )
        blank = [name for name in self.LISTS if cleaned.get(name) is None]
        if len(blank) == 1 and not self._failed(*blank):
            self.add_error(
                blank[0],
                _("Enter this side too, in the same way. Write “none” if none hang there."),
            )

    def _unlikely(self):
        """Return what to ask of each entry that few nets have, by field."""
        told = {
            name: guards.question(sort, self.cleaned_data[name])
            for name, sort in guards.OF_A_NET.items()
            if self.cleaned_data.get(name) is not None
        }
        return {name: words for name, words in told.items() if words}

    def _failed(self, *names):
        return any(name in self.errors for name in names)

    def _check_reach(self, name, wing):
        """Refuse places that lie beyond the wing end."""
        bosom, places = self.cleaned_data.get("bosom"), self.cleaned_data.get(name)
        if not places or bosom is None or wing is None:
            return
        is_corner = self.cleaned_data.get("dropper_from") == FROM_CORNERS
        inward, end = (bosom / 2, wing) if is_corner else (0.0, bosom / 2 + wing)
        if max(places) > end + ROUNDING:
            self.add_error(
                name,
                _(
                    "{feet_inches} is past the wing end, which is {feet_inches2} from the "
                    "{start}. Check this place, the bosom and the wing."
                ).format(
                    feet_inches=feet_inches(max(places), 4),
                    feet_inches2=feet_inches(end, 4),
                    start=_("corner") if is_corner else _("center"),
                ),
            )
        elif -min(places) > inward + ROUNDING:
            self.add_error(
                name, _("A place with a minus is past the center. List it on the other side.")
            )

    @property
    def has_ropes(self):
        """Whether enough could be read to draw the net."""
        return {"bosom", "port_wing", "headrope"} <= getattr(self, "cleaned_data", {}).keys()


class NetNameForm(forms.Form):
    """A net's name alone."""

    name = forms.CharField(
        label=gettext_lazy("Name of this net"),
        max_length=80,
    )


class RiggingForm(forms.Form):
    """
    On which day a net was rigged as planned.

    ``net`` is the one, and ``seen`` the stamp of it by the plan that its owner saw.
    """

    key = forms.UUIDField(widget=forms.HiddenInput)
    day = DayField(label=gettext_lazy("Day it was rigged"))

    def __init__(self, *args, net=None, seen=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.net, self.seen = net, seen
        self.fields["key"].initial = uuid.uuid4
        self.fields["day"].initial = timezone.localdate

    def clean_day(self):
        day = self.cleaned_data["day"]
        if day > timezone.localdate():
            raise forms.ValidationError(_("That date is in the future. Check it."))
        return day

    def clean(self):
        cleaned = super().clean()
        if self.net is None or not {"key", "day"} <= set(cleaned):
            return cleaned
        said = self.net.riggings.filter(key=cleaned["key"]).first()
        if said is not None and said.day != cleaned["day"]:
            self.add_error(
                "day",
                _(
                    "This form said {day} before. Open the plan again, then say the other day."
                ).format(day=long_day(said.day)),
            )
        elif said is None and self.seen and self.seen != stamp(self.net.changed):
            self.add_error(
                None,
                _(
                    "The net was changed after you opened its plan. Look at the plan as it is now. "
                    "If the net hangs like that, say so below."
                ),
            )
        return cleaned
