"""What is noted of a call, to whom it is given, and a number to call."""

from datetime import timedelta

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.fields import DayField
from training.people.forms import PhoneField
from training.people.models import User

from ..models import CallNote
from .numbers import AGAIN_WITHIN
from .reasons import REASONS


class CalledForm(forms.Form):
    """
    That the call was made; ``key`` comes with the page, ``outcome`` with the button.

    ``reasons`` are those that the page showed: what came up since is not hidden unseen.
    """

    OUTCOMES = [(each.value, each.label) for each in CallNote.Outcome if each.value]

    key = forms.UUIDField()
    outcome = forms.ChoiceField(choices=OUTCOMES)
    reasons = forms.MultipleChoiceField(required=False)
    note = forms.CharField(
        label=gettext_lazy("What was said (optional)"),
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    again = DayField(label=gettext_lazy("Call again on (optional)"), required=False)

    def __init__(self, data=None, **options):
        super().__init__(data, **options)
        self.fields["reasons"].choices = [(each.key, each.title) for each in REASONS]

    @property
    def earliest(self):
        """The first day that can be chosen, as a date input takes it."""
        return (timezone.localdate() + timedelta(days=1)).isoformat()

    @property
    def shown_again(self):
        """The day to call again as a date input takes it: as typed, or as it was agreed."""
        day = self["again"].value() or ""
        return day if isinstance(day, str) else day.isoformat()

    def clean_again(self):
        day, today = self.cleaned_data["again"], timezone.localdate()
        if day and day <= today:
            raise forms.ValidationError(_("Choose a day after today, or leave it empty."))
        if day and day > today + timedelta(days=AGAIN_WITHIN):
            raise forms.ValidationError(
                _("Choose a day within a year, or leave it empty. Did you mean this year?")
            )
        return day


class GiveForm(forms.Form):
    """To whom of the staff a call is given; ``key`` comes with the page."""

    key = forms.UUIDField()
    to = forms.ModelChoiceField(
        User.objects.none(), label=gettext_lazy("Give this call to"), empty_label=None
    )

    def __init__(self, staff, data=None):
        """``staff`` is a list of those to choose from."""
        super().__init__(data)
        self.fields["to"].queryset = User.objects.filter(pk__in=[each.pk for each in staff])


class NumberForm(forms.Form):
    """The phone number of a person, as staff heard of it; empty takes it away."""

    phone = PhoneField(label=gettext_lazy("Phone"), required=False)
