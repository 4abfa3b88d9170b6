"""The form for one pair of tows, and the one by which staff name whose pair it is."""

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.fields import DayField, MassField
from training.deck.forms import DeckForm
from training.people import sight
from training.people.models import User
from training.register.models import Vessel

from .models import PairedTows
from .species import BY_KEY, SPECIES, WITH, WITHOUT

HEAVIEST = 50_000  # kg in one tow: more is a slip of the thumb
# Shown without being asked: what is wanted, and what the sweep is blamed for.
ALWAYS_SHOWN = ("hake", "flatfish", "lobster")


class CatchField(MassField):
    """The weight of one group in one tow; cleans to kilograms, None if it was not weighed."""

    def check(self, measure):
        if measure > HEAVIEST:
            raise forms.ValidationError(_("That is more than one tow can hold. Check the unit."))


def field_name(key, tow):
    """Return the name of the field for the group ``key`` in the ``tow``, WITHOUT or WITH."""
    return f"{key}_{tow}"


class PairForm(DeckForm):
    """
    Two tows alike in all but the sweep: vessel, day, and what each of them caught.

    ``owner`` is whose pair it is; ``pair`` the one that is changed, None for a new one.
    """

    KEPT_APART = ("key", "vessel", "day", "note")

    vessel = forms.ModelChoiceField(Vessel.objects.none(), required=False)
    day = DayField(label=gettext_lazy("Day of the two tows"))
    note = forms.CharField(
        label=gettext_lazy("Ground, time towed, weather (optional)"),
        required=False,
        max_length=500,
        widget=forms.Textarea(attrs={"rows": 2}),
    )

    def __init__(self, *args, owner, pair=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.owner, self.pair = owner, pair
        theirs = Vessel.objects.filter(crew__user=owner, crew__until=None)
        if pair is not None and pair.vessel_id:
            theirs = theirs | Vessel.objects.filter(pk=pair.vessel_id)
        vessel = self.fields["vessel"]
        vessel.queryset = theirs.distinct()
        vessel.empty_label = _("Not on this list")
        if pair is None and not self.is_bound:
            vessel.initial = theirs.first()
            self.fields["day"].initial = timezone.localdate
        for species in SPECIES:
            for tow in (WITH, WITHOUT):
                self.fields[field_name(species.key, tow)] = CatchField(
                    label=_("{tow} the sweep").format(tow=tow.capitalize()), required=False
                )

    @property
    def sections(self):
        self.SECTIONS = (
            (_("The two tows"), "", ("vessel", "day", "note"), True),
            *(
                (
                    species.name,
                    _("{examples}. Pounds if you give no unit.").format(
                        examples=species.examples.capitalize()
                    )
                    if species.examples
                    else _("Pounds if you give no unit."),
                    [field_name(species.key, tow) for tow in (WITH, WITHOUT)],
                    species.key in ALWAYS_SHOWN,
                )
                for species in SPECIES
            ),
        )
        return super().sections

    @property
    def catches(self):
        """The weighed groups: dict of key to (without, with) in kg and what was typed."""
        found = {}
        for key in BY_KEY:
            names = {tow: field_name(key, tow) for tow in (WITHOUT, WITH)}
            weights = [self.cleaned_data.get(name) for name in names.values()]
            if None not in weights:
                found[key] = (*weights, {tow: self.typed[name] for tow, name in names.items()})
        return found

    def clean_day(self):
        day = self.cleaned_data["day"]
        if day > timezone.localdate():
            raise forms.ValidationError(_("That date is in the future. Check it."))
        return day

    def clean_key(self):
        key = self.cleaned_data["key"]
        if PairedTows.objects.filter(key=key).exclude(owner=self.owner).exists():
            raise forms.ValidationError(
                _("This form was used already. Open it again and enter the pair again.")
            )
        return key

    def clean(self):
        cleaned = super().clean()
        for key in BY_KEY:
            names = [field_name(key, tow) for tow in (WITH, WITHOUT)]
            there = [name for name in names if cleaned.get(name) is not None]
            if len(there) == 1:
                (missing,) = set(names) - set(there)
                if missing not in self.errors:
                    self.add_error(missing, _("Enter this tow too. Write 0 if it caught none."))
        if not self.errors and not self.catches:
            self.add_error(
                field_name(SPECIES[0].key, WITH),
                _("Enter what both tows caught of at least one group."),
            )
        return cleaned


class OwnerForm(forms.Form):
    """For whom a member of staff, ``user``, enters a pair."""

    email = forms.EmailField(label=gettext_lazy("Email of the fisherman who asked you"))

    def __init__(self, *args, user, **kwargs):
        super().__init__(*args, **kwargs)
        self.user = user

    def clean_email(self):
        people = sight.rows(User.objects.filter(is_active=True), self.user)
        try:
            self.owner = people.get(email__iexact=self.cleaned_data["email"])
        except User.DoesNotExist:
            raise forms.ValidationError(
                _("None of your people has this email. Check the spelling.")
            ) from None
        return self.cleaned_data["email"]
