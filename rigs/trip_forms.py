"""The question: may this vessel fish here, on this day, with this gear?"""

from django import forms
from django.utils import timezone

from . import openings
from .fields import DeckField, InchesField, LengthField, MassField, YesNoField
from .forms import Section
from .gear import DIAMOND, SQUARE, Codend
from .models import Net
from .positions import EXAMPLE, parse_position
from .trip import Trip

ANY = ""
NOTHING, AS_TICKED = "nothing", "ticked"


class PositionField(DeckField):
    """A position at sea; cleans to a Position, north and west if it does not say."""

    read = staticmethod(parse_position)

    def __init__(self, **options):
        super().__init__(bare="NW", **options)


def _fisheries():
    today = timezone.localdate()
    return [
        (ANY, "Any: which may I?"),
        *((book.name, book.title) for book in openings.fisheries(today)),
    ]


def _gear():
    today = timezone.localdate()
    return [
        ("", "Go by the net: sweep or no sweep"),
        *((book.name, book.title) for book in openings.gear_books(today)),
    ]


def _species():
    return [(name, name.capitalize()) for name in openings.species(timezone.localdate())]


class TripForm(forms.Form):
    """A vessel, a day, a place and a net; all but the day can be left open."""

    SECTIONS = (
        (
            "Where and when",
            "Only the day is needed. What you leave open is answered with “not known”.",
            ("fishery", "day", "position"),
            True,
        ),
        (
            "The vessel and her gear",
            "",
            ("letter", "net", "gear", "vessel_length", "mesh", "mesh_count", "hanging"),
            False,
        ),
        (
            "The catch on board",
            "",
            ("catch", "kept", "kept_besides", "hake", "regulated", "caught"),
            False,
        ),
    )

    fishery = forms.ChoiceField(label="Fishery", choices=_fisheries, required=False)
    day = forms.DateField(
        label="Day",
        initial=timezone.localdate,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    position = PositionField(
        label="Position",
        required=False,
        help_text=f"As on the plotter, {EXAMPLE}, or in decimal degrees. North and west if you "
        "give no letters.",
    )

    letter = YesNoField(
        label="Is the letter of authorization on board?", unknown="Not known", yes="Yes", no="No"
    )
    net = forms.ModelChoiceField(
        label="Net",
        queryset=Net.objects.none(),
        empty_label="Rig not measured",
        required=False,
        help_text="One of your saved nets, as it is now.",
    )
    gear = forms.ChoiceField(label="Gear rules", choices=_gear, required=False)
    vessel_length = LengthField(label="Length of the vessel", required=False)
    mesh = InchesField(
        label="Mesh opening in the codend",
        required=False,
        help_text="Leave mesh and vessel open to take them from the net.",
    )
    mesh_count = forms.IntegerField(
        label="How many meshes from the terminus have it",
        min_value=0,
        max_value=10000,
        required=False,
        help_text="Bars, if it is hung square.",
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
    )
    hanging = forms.ChoiceField(
        label="How is it hung?", choices=[(DIAMOND, "Diamond"), (SQUARE, "Square")], required=False
    )

    catch = forms.ChoiceField(
        label="What is kept on board?",
        choices=[("", "Not known"), (NOTHING, "Nothing"), (AS_TICKED, "What is named below")],
        required=False,
    )
    kept = forms.MultipleChoiceField(
        label="Kept", choices=_species, widget=forms.CheckboxSelectMultiple, required=False
    )
    kept_besides = forms.CharField(
        label="And besides",
        max_length=200,
        required=False,
        help_text="Other kinds, with commas.",
    )
    hake = MassField(
        label="Silver and offshore hake together", required=False, help_text="Pounds, or write kg."
    )
    regulated = MassField(label="Regulated species caught, in all", required=False)
    caught = MassField(label="Whole catch", required=False)

    def __init__(self, *args, owner, **options):
        super().__init__(*args, **options)
        self.fields["net"].queryset = Net.objects.of(owner).there()

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
            raise forms.ValidationError("None of the rule sets here holds on that day.")
        return day

    def clean(self):
        cleaned = super().clean()
        self._check_fishery(cleaned)
        self._check_kept(cleaned)
        part, whole = cleaned.get("regulated"), cleaned.get("caught")
        if part is not None and whole is not None and part > whole:
            self.add_error("regulated", "That is more than the whole catch.")
        return cleaned

    def _check_fishery(self, cleaned):
        name, day = cleaned.get("fishery"), cleaned.get("day")
        if name and day and name not in {book.name for book in openings.fisheries(day)}:
            self.add_error("fishery", "Its rule set does not hold on that day.")

    def _check_kept(self, cleaned):
        named = bool(cleaned.get("kept") or cleaned.get("kept_besides"))
        if cleaned.get("catch") == NOTHING and named:
            self.add_error("catch", "You say that nothing is kept, but something is named below.")
        if cleaned.get("catch") == AS_TICKED and not named:
            self.add_error("kept", "Tick what is kept, or name it.")

    @property
    def question(self):
        """What ``openings.answers`` is to be asked, by name; of a valid form only."""
        told = self.cleaned_data
        codend = None
        if told["mesh"] is not None or told["mesh_count"] is not None:
            codend = Codend(told["mesh"], told["mesh_count"], told["hanging"] or DIAMOND)
        return {
            "trip": Trip(
                told["day"],
                told["position"],
                told["letter"],
                self._kept(),
                told["hake"],
                told["regulated"],
                told["caught"],
            ),
            "fishery": told["fishery"] or None,
            "rig": told["net"] and told["net"].present(),
            "gear": told["gear"] or None,
            "codend": codend,
            "vessel_length": told["vessel_length"],
        }

    def _kept(self):
        """Return what is kept, None if that was not told."""
        besides = [name.strip() for name in self.cleaned_data["kept_besides"].split(",")]
        kept = (*self.cleaned_data["kept"], *filter(None, besides))
        return kept if kept or self.cleaned_data["catch"] == NOTHING else None
