"""What staff enter of a session."""

from datetime import datetime

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.fields import DayField, TimeField
from training.people.models import Session


class SessionForm(forms.ModelForm):
    """A session on one day: from when to when, where, what for."""

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
        error_messages={
            "invalid": gettext_lazy("We could not read this time. Write it like 8:00 PM.")
        },
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

    field_order = ["key", "title", "day", "begins", "finishes", "place", "note"]

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
            begins, finishes = cleaned["begins"], cleaned["finishes"]
            if finishes <= begins:
                self.add_error("finishes", _("The end is before the start. Change one of them."))
        return cleaned

    def save(self):
        """Save the session and return it; the same form sent twice makes one."""
        cleaned = self.cleaned_data
        found = {name: cleaned[name] for name in self.Meta.fields}
        for name, time in (("starts", "begins"), ("ends", "finishes")):
            found[name] = timezone.make_aware(datetime.combine(cleaned["day"], cleaned[time]))
        uid = self.instance.uid if self.instance.pk else cleaned["key"]
        session, __ = Session.objects.update_or_create(group=self.group, uid=uid, defaults=found)
        return session
