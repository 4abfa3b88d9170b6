"""The question: may this vessel fish here, on this day, with this gear?"""

from django import forms
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import openings
from rigs.rules.openings import Rigged
from rigs.words import species
from rigs.words.gear import DIAMOND, SQUARE, Codend
from rigs.words.positions import EXAMPLE, parse_position
from rigs.words.trip import Trip
from training.deck.fields import (
    DayField,
    DeckField,
    InchesField,
    LengthField,
    MassField,
    YesNoField,
)
from training.deck.forms import Section
from training.nets.models import Net
from training.people import sight

ANY = ""
NOTHING, AS_NAMED = "nothing", "named"


class PositionField(DeckField):
    """A position at sea; cleans to a Position, north and west if it does not say."""

    read = staticmethod(parse_position)

    def __init__(self, **options):
        super().__init__(bare="NW", **options)


def _fisheries():
    today = timezone.localdate()
    return [
        (ANY, _("Show me all of them")),
        *((book.name, book.title) for book in openings.fisheries(today)),
    ]


def _gear():
    today = timezone.localdate()
    return [
        ("", _("Use my net's rules")),
        *((book.name, book.title) for book in openings.gear_books(today)),
    ]


def _species():
    today = timezone.localdate()
    return [(name, f"{name[0].upper()}{name[1:]}") for name in openings.species(today)]


class TripForm(forms.Form):
    """A vessel, a day, a place and a net; all but the day can be left empty."""

    SECTIONS = (
        (
            gettext_lazy("Where and when"),
            gettext_lazy("Only the day is needed. What you leave empty shows as “not entered”."),
            ("fishery", "day", "position"),
            True,
        ),
        (
            gettext_lazy("Vessel and gear"),
            "",
            (
                *("letter", "letter_asked", "net", "gear", "vessel_length"),
                *("mesh", "mesh_count", "hanging", "smallest_mesh"),
            ),
            False,
        ),
        (
            gettext_lazy("The catch on board"),
            "",
            ("catch", "kept", "kept_besides", "hake", "red_hake", "regulated", "caught"),
            False,
        ),
    )

    fishery = forms.ChoiceField(label=gettext_lazy("Fishery"), choices=_fisheries, required=False)
    day = DayField(
        label=gettext_lazy("Day"),
        initial=timezone.localdate,
        help_text=gettext_lazy("Ask for each day of a trip: a season can close while you are out."),
    )
    position = PositionField(
        label=gettext_lazy("Position"),
        required=False,
        help_text=gettext_lazy(
            "As on the plotter, such as {EXAMPLE}, or in decimal degrees. Without "
            "letters we read north and west."
        ).format(EXAMPLE=EXAMPLE),
    )

    letter = YesNoField(
        label=gettext_lazy("Is the whiting letter of authorization on board?"),
        unknown=gettext_lazy("Not entered"),
        yes=gettext_lazy("Yes"),
        no=gettext_lazy("No"),
    )
    letter_asked = DayField(
        label=gettext_lazy("When was the letter asked for? (optional)"),
        required=False,
        help_text=gettext_lazy("The letter holds from the day after."),
    )
    net = forms.ModelChoiceField(
        label=gettext_lazy("Net"),
        queryset=Net.objects.none(),
        empty_label=gettext_lazy("No net chosen"),
        required=False,
        help_text=gettext_lazy("One of your saved nets, as it is now."),
    )
    gear = forms.ChoiceField(label=gettext_lazy("Gear rules"), choices=_gear, required=False)
    vessel_length = LengthField(label=gettext_lazy("Length of the vessel"), required=False)
    mesh = InchesField(
        label=gettext_lazy("Mesh in the codend"),
        required=False,
        help_text=gettext_lazy("Leave mesh and vessel empty to use what your net says."),
    )
    mesh_count = forms.IntegerField(
        label=gettext_lazy("How many meshes from the terminus have it"),
        min_value=0,
        max_value=10000,
        required=False,
        help_text=gettext_lazy("Count bars if the mesh is square."),
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
    )
    hanging = forms.ChoiceField(
        label=gettext_lazy("Diamond or square mesh?"),
        choices=[(DIAMOND, gettext_lazy("Diamond")), (SQUARE, gettext_lazy("Square"))],
        required=False,
    )
    smallest_mesh = InchesField(
        label=gettext_lazy("Smallest mesh on board"),
        required=False,
        help_text=gettext_lazy(
            "Of all nets, in use or not. A piece of netting that is not part of a net "
            "counts too. It sets how much hake may be kept."
        ),
    )

    catch = forms.ChoiceField(
        label=gettext_lazy("What fish are kept on board?"),
        choices=[
            ("", gettext_lazy("Not entered")),
            (NOTHING, gettext_lazy("None")),
            (AS_NAMED, gettext_lazy("What I name below")),
        ],
        required=False,
    )
    kept = forms.MultipleChoiceField(
        label=gettext_lazy("Kept"),
        choices=_species,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    kept_besides = forms.CharField(
        label=gettext_lazy("Anything else"),
        max_length=200,
        required=False,
        help_text=gettext_lazy("Other kinds, with commas between them, such as cod, lobster."),
    )
    hake = MassField(
        label=gettext_lazy("Silver and offshore hake kept, together"),
        required=False,
        help_text=gettext_lazy("In pounds, or write kg."),
    )
    red_hake = MassField(label=gettext_lazy("Red hake kept"), required=False)
    regulated = MassField(
        label=gettext_lazy("Regulated species caught, total (optional)"),
        required=False,
        help_text=gettext_lazy(
            "For the bycatch standard of the fishery. No trip breaks a rule by it."
        ),
    )
    caught = MassField(label=gettext_lazy("Whole catch (optional)"), required=False)

    def __init__(self, *args, owner, **options):
        super().__init__(*args, **options)
        self.fields["net"].queryset = sight.own(Net.objects.there(), owner)

    @property
    def sections(self):
        """The Sections of the form, in order."""
        return [
            Section(title, lede, [self[name] for name in names], always)
            for title, lede, names, always in self.SECTIONS
        ]

    def clean_day(self):
        day = self.cleaned_data["day"]
        if not openings.fisheries(day):
            raise forms.ValidationError(
                _("This site has no rules for {date_format}. Choose another day.").format(
                    date_format=date_format(day, "F j, Y")
                )
            )
        return day

    def clean(self):
        cleaned = super().clean()
        self._check_fishery(cleaned)
        self._check_kept(cleaned)
        self._check_hake(cleaned)
        mesh, smallest = cleaned.get("mesh"), cleaned.get("smallest_mesh")
        if mesh is not None and smallest is not None and mesh < smallest:
            self.add_error(
                "smallest_mesh",
                _("The mesh in the codend is smaller than that. Enter the smallest of all nets."),
            )
        part, whole = cleaned.get("regulated"), cleaned.get("caught")
        if part is not None and whole is not None and part > whole:
            self.add_error("regulated", _("That is more than the whole catch. Check both weights."))
        return cleaned

    def _check_fishery(self, cleaned):
        name, day = cleaned.get("fishery"), cleaned.get("day")
        if name and day and name not in {book.name for book in openings.fisheries(day)}:
            self.add_error(
                "fishery",
                _(
                    "This site has no rules for that fishery on {date_format}. Choose another day."
                ).format(date_format=date_format(day, "F j, Y")),
            )

    def _check_kept(self, cleaned):
        named = bool(cleaned.get("kept") or cleaned.get("kept_besides"))
        if cleaned.get("catch") == NOTHING and named:
            self.add_error(
                "catch",
                _("You say that no fish are kept, but you name some below. Change one of the two."),
            )
        if cleaned.get("catch") == AS_NAMED and not named:
            self.add_error("kept", _("Check what is kept, or name it under “Anything else”."))

    def _check_hake(self, cleaned):
        kept = self._kept(cleaned)
        if kept is None:
            return
        for name, group in (("hake", species.SILVER_AND_OFFSHORE), ("red_hake", species.RED)):
            if cleaned.get(name) and not any(species.may_be(kind, group) for kind in kept):
                self.add_error(
                    name,
                    _(
                        "You enter a weight, but no {group} among the fish that are kept. Check "
                        "what is kept, or clear the weight."
                    ).format(group=group),
                )

    @property
    def question(self):
        """What ``openings.answers`` is to be asked, by name; of a valid form only."""
        told = self.cleaned_data
        codend = None
        if told["mesh"] is not None or told["mesh_count"] is not None:
            hanging = told["hanging"] or DIAMOND
            codend = Codend(told["mesh"], told["mesh_count"], hanging, None, None)
        return {
            "trip": Trip(
                day=told["day"],
                position=told["position"],
                letter_aboard=told["letter"],
                letter_asked=told["letter_asked"],
                kept=self._kept(told),
                hake=told["hake"],
                red_hake=told["red_hake"],
                smallest_mesh=told["smallest_mesh"],
                regulated=told["regulated"],
                caught=told["caught"],
            ),
            "fishery": told["fishery"] or None,
            "rigged": Rigged(
                told["net"] and told["net"].present(),
                told["gear"] or None,
                codend,
                told["vessel_length"],
            ),
        }

    @staticmethod
    def _kept(cleaned):
        """Return what is kept by the ``cleaned`` entries, None if that was not entered."""
        besides = species.split_names(cleaned.get("kept_besides", ""))
        kept = (*cleaned.get("kept", ()), *besides)
        return kept if kept or cleaned.get("catch") == NOTHING else None
