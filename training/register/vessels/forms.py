"""The forms for vessels and for who fishes on them."""

from django import forms
from django.db.models import Case, F, Value, When
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook
from training.deck.fields import LengthField
from training.deck.sorting import SearchField, SortBy, SortField
from training.people import sight
from training.people.forms import email_input
from training.people.models import Role, User

from .. import harbors
from ..models import Crew, Vessel
from ..stages import Stage
from ..table.entries import length_problem, plain_registration
from .finding import NO_CONTACT, size_choices

NAME_INPUT = {"autocomplete": "off", "spellcheck": "false"}


# The place of each stage on the way, so that those who came furthest are first; going back last.
_FURTHEST = Case(
    *(
        When(standing__stage=stage, then=Value(place))
        for place, stage in enumerate(each for each in Stage if each != Stage.BACK)
    ),
    default=Value(-1),
)
SORTED = (
    SortBy("", gettext_lazy("harbor and name"), ("harbor", "name", "pk")),
    SortBy("name", gettext_lazy("name"), ("name", "harbor", "pk")),
    SortBy("length", gettext_lazy("length, longest first"), ("-length", "harbor", "name", "pk")),
    SortBy(
        "stage", gettext_lazy("stage, furthest first"), (_FURTHEST.desc(), "harbor", "name", "pk")
    ),
    SortBy(
        "since",
        gettext_lazy("stage, latest first"),
        (F("standing__since").desc(nulls_last=True), "harbor", "name", "pk"),
    ),
)


class VesselFilterForm(forms.Form):
    """Which vessels to show, and in which order; everything may be left empty."""

    text = SearchField(gettext_lazy("Name, number, owner or captain"))
    harbor = forms.ChoiceField(label=gettext_lazy("Harbor"), required=False)
    size = forms.ChoiceField(label=gettext_lazy("Length"), required=False)
    stage = forms.ChoiceField(required=False)
    fishing = forms.ChoiceField(
        label=gettext_lazy("Still fishing"),
        required=False,
        choices=[
            ("", gettext_lazy("All")),
            ("yes", gettext_lazy("Still fishing")),
            ("no", gettext_lazy("No longer fishing")),
        ],
    )

    sort = SortField(SORTED)

    # What a count of those who came to a stage opens: no field of the page.
    came = forms.ChoiceField(required=False, choices=Stage, widget=forms.HiddenInput)
    month = forms.RegexField(r"^\d{4}-\d{2}$", required=False, widget=forms.HiddenInput)

    def __init__(self, *args, harbors, words, **kwargs):
        super().__init__(*args, **kwargs)
        self.words = words
        self.fields["harbor"].choices = [
            ("", _("All harbors")),
            *((each, each) for each in harbors),
        ]
        self.fields["size"].choices = [("", _("All lengths")), *size_choices()]
        self.fields["stage"].choices = [
            ("", _("All stages")),
            (NO_CONTACT, _("no contact yet")),
            *((stage.value, text) for stage, text in words.items()),
        ]

    def chosen(self):
        """Return what was chosen, by field; what was not understood counts as left empty."""
        self.full_clean()
        found = {name: self.cleaned_data.get(name, "") for name in self.fields if name != "sort"}
        return found | {"came": (found["came"], found.pop("month"))}

    def came_words(self):
        """Return in words when they came to which stage, "" if that was not asked for."""
        stage, month = self.chosen()["came"]
        if not (stage and month):
            return ""
        return _("Only vessels that came to “{stage}” in {month}.").format(
            stage=self.words[Stage(stage)], month=month
        )


def _gear_choices():
    books = rulebook.nearest_gear_books(timezone.localdate())
    return [("", _("Not known")), *((book.name, book.title) for book in books)]


class VesselForm(forms.ModelForm):
    """A vessel of the register, for staff who look after its harbor."""

    length = LengthField(
        label=gettext_lazy("Length over all"),
        help_text=gettext_lazy("Such as 52 ft 6 in. A number alone is feet."),
    )
    harbor = forms.ChoiceField(label=gettext_lazy("Harbor"), required=False)
    new_harbor = forms.CharField(
        label=gettext_lazy("Harbor that is not on the list (optional)"),
        required=False,
        max_length=100,
        widget=forms.TextInput(attrs=NAME_INPUT),
    )
    gear = forms.ChoiceField(
        label=gettext_lazy("Gear (optional)"), required=False, choices=_gear_choices
    )

    field_order = ["name", "harbor", "new_harbor", "length", "registration"]

    class Meta:
        model = Vessel
        fields = [
            "name",
            "harbor",
            "length",
            "registration",
            "owner",
            "captain",
            "gear",
            "is_fishing",
        ]
        labels = {
            "registration": gettext_lazy("Registration number (optional)"),
            "owner": gettext_lazy("Owner (optional)"),
            "captain": gettext_lazy("Captain (optional)"),
        }
        widgets = {
            name: forms.TextInput(attrs=NAME_INPUT)
            for name in ("name", "registration", "owner", "captain")
        }

    def __init__(self, *args, user, **kwargs):
        super().__init__(*args, **kwargs)
        own = sight.harbors_of(user)
        names = harbors.names() if own is None else sorted(own)
        self.fields["harbor"].choices = [("", _("Choose a harbor")), *((n, n) for n in names)]
        if own is not None:
            del self.fields["new_harbor"]
        if self.instance.pk:
            self.initial["length"] = self.instance.length_text

    def clean_length(self):
        length = self.cleaned_data["length"]
        # Printed to a sixteenth of an inch, so what was not touched stays as it was.
        if self.instance.pk and self.data.get(self.add_prefix("length")) == self.initial["length"]:
            return self.instance.length
        if problem := length_problem(length):
            raise forms.ValidationError(problem)
        return length

    def clean_new_harbor(self):
        # However it is written: one that is on the list is that one.
        text = " ".join(self.cleaned_data["new_harbor"].split())
        if text and not harbors.plain(text):
            raise forms.ValidationError(_("Write at least one letter, or leave it blank."))
        return text and (harbors.canonical(text) or text)

    def clean_registration(self):
        text = " ".join(self.cleaned_data["registration"].split())
        if text and not plain_registration(text):
            raise forms.ValidationError(_("Write at least one letter or digit, or leave it blank."))
        return text

    def clean(self):
        cleaned = super().clean()
        others = Vessel.objects.exclude(pk=self.instance.pk)
        harbor = cleaned["harbor"] = cleaned.get("new_harbor") or cleaned.get("harbor")
        if not harbor and "harbor" not in self.errors and "new_harbor" not in self.errors:
            self.add_error("harbor", _("Choose a harbor."))
        name = cleaned.get("name")
        if name and harbor and others.filter(name__iexact=name, harbor=harbor).exists():
            self.add_error(
                "name",
                _("{harbor} already has a vessel of this name in the register.").format(
                    harbor=harbor
                ),
            )
        number = cleaned.get("registration")
        if number and others.filter(registration__iexact=number).exists():
            self.add_error("registration", _("Another vessel in the register has this number."))
        return cleaned

    def twin(self):
        """Return the vessel that this form made a moment ago, sent twice; None if there is none."""
        # Whatever else is wrong, it was wrong the first time too.
        if self.instance.pk or not self.errors.keys() <= {"name", "registration"}:
            return None
        told = {
            name: self.cleaned_data.get(name, self.data.get(name)) for name in self._meta.fields
        }
        return Vessel.objects.filter(**told).first()


class CrewForm(forms.ModelForm):
    """Somebody with an account who fishes on ``vessel``."""

    email = forms.EmailField(
        label=gettext_lazy("Email of their account"),
        widget=email_input(),
        help_text=gettext_lazy("The one they sign in with."),
    )

    class Meta:
        model = Crew
        fields = ["part", "since"]
        widgets = {"since": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")}
        labels = {"since": gettext_lazy("Since")}

    field_order = ["email", "part", "since"]

    def __init__(self, *args, by, **kwargs):
        super().__init__(*args, **kwargs)
        self.by, self.person = by, None

    def clean_email(self):
        """Find the person; staff held to harbors do not hear whether there is one."""
        email = self.cleaned_data["email"].lower()
        people = User.objects.filter(role__in=[Role.TRAINEE, Role.OFFICER], is_active=True)
        person = people.filter(email=email).first()
        if person is None and self.by.sees_whole_fleet:
            raise forms.ValidationError(
                _(
                    "No trainee or officer has this email. Check the spelling, or give them the "
                    "code of a group, so that they can sign up."
                )
            )
        if person:
            self.instance.user = self.person = person
        return email

    def clean_since(self):
        return not_to_come(self.cleaned_data["since"])


def not_to_come(day):
    """Return ``day``; raise ValidationError if it is yet to come."""
    if day > timezone.localdate():
        raise forms.ValidationError(_("That date is in the future. Check it."))
    return day
