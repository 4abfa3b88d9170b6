"""What staff enter of a session."""

from datetime import UTC, datetime, timedelta

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.fields import DayField, TimeField
from training.people.models import Session

LONGEST = timedelta(hours=12)
"""What takes longer was mistyped rather than meant to end on the next day (by custom)."""


class SessionForm(forms.ModelForm):
    """
    A session: from when to when, where, what for.

    One that ends at an earlier time of day than it begins ends on the next day. One that
    would be over already is asked about: ``gone`` says that it took place.
    """

    key = forms.UUIDField(widget=forms.HiddenInput)
    day = DayField(label=gettext_lazy("Day"))
    begins = TimeField(
        label=gettext_lazy("From"),
        error_messages={
            "invalid": gettext_lazy("We could not read this time. Write it like 6:30 PM.")
        },
    )
    finishes = TimeField(
        label=gettext_lazy("To"),
        help_text=gettext_lazy("After midnight is on the next day."),
        error_messages={
            "invalid": gettext_lazy("We could not read this time. Write it like 8:00 PM.")
        },
    )

    gone = forms.BooleanField(
        label=gettext_lazy("It took place already: save it as a past session"), required=False
    )

    class Meta:
        model = Session
        fields = ["title", "place", "note"]
        labels = {
            "title": gettext_lazy("What it is"),
            "place": gettext_lazy("Where (optional)"),
            "note": gettext_lazy("What to bring, or anything else (optional)"),
        }
        widgets = {"note": forms.Textarea(attrs={"rows": 3})}

    asks_gone = False  # whether the box about the past is shown

    field_order = ["key", "title", "day", "begins", "finishes", "place", "note", "gone"]

    def __init__(self, *args, group, **kwargs):
        super().__init__(*args, **kwargs)
        self.group = group
        if self.instance.starts:
            starts, ends = map(timezone.localtime, (self.instance.starts, self.instance.ends))
            self.initial |= {"day": starts.date(), "begins": starts.time(), "finishes": ends.time()}

    def clean_key(self):
        key = self.cleaned_data["key"]
        if Session.objects.filter(uid=key).exclude(group=self.group).exists():
            raise forms.ValidationError(_("This form was used already. Open it again."))
        return key

    def clean(self):
        cleaned = super().clean()
        if {"day", "begins", "finishes"} <= cleaned.keys():
            cleaned |= dict(zip(("starts", "ends"), self._times(cleaned), strict=True))
            self._check_length(cleaned["starts"], cleaned["ends"])
            self._check_gone(cleaned)
        return cleaned

    @staticmethod
    def _times(cleaned):
        """
        Return (start, end) in UTC, the end on the next day if it is the earlier time of day.

        In UTC since times of one zone are compared by the clock on the wall, which is put
        forward and back.
        """
        day, begins, finishes = (cleaned[name] for name in ("day", "begins", "finishes"))
        last = day + timedelta(days=1) if finishes < begins else day
        return (
            timezone.make_aware(datetime.combine(day, begins)).astimezone(UTC),
            timezone.make_aware(datetime.combine(last, finishes)).astimezone(UTC),
        )

    def _check_length(self, starts, ends):
        if ends <= starts:
            self.add_error("finishes", _("The end is the same as the start. Change one of them."))
        elif ends - starts > LONGEST:
            self.add_error(
                "finishes", _("That is longer than 12 hours. Check AM and PM in both times.")
            )

    def _check_gone(self, cleaned):
        """Ask about a time that has gone by, unless it is that of the session as it was saved."""
        gone = cleaned["ends"] < timezone.now()
        was = (self.instance.starts, self.instance.ends)
        self.asks_gone = gone and was != (cleaned["starts"], cleaned["ends"])
        if self.asks_gone and not cleaned["gone"]:
            self.add_error(
                "day",
                _("This has gone by. Change the day, or check the box below if it took place."),
            )

    def save(self):
        """Save the session and return it; the same form sent twice makes one."""
        cleaned = self.cleaned_data
        found = {name: cleaned[name] for name in self.Meta.fields}
        found |= {name: cleaned[name] for name in ("starts", "ends")}
        uid = self.instance.uid if self.instance.pk else cleaned["key"]
        session, __ = Session.objects.update_or_create(group=self.group, uid=uid, defaults=found)
        return session


class OthersForm(forms.Form):
    """How many came who have no account."""

    others = forms.IntegerField(
        label=gettext_lazy("Came without an account"),
        required=False,
        min_value=0,
        max_value=500,
        help_text=gettext_lazy("Leave it empty if nobody counted."),
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )
