"""The forms for what happened to a vessel."""

import uuid

from django import forms
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.fields import DayField

from ..stages import Known
from .forms import not_to_come


class EventForm(forms.Form):
    """
    A stage reached on a day; ``key`` makes the form sent twice record once.

    ``words`` are what the stages are called, a dict by Stage.
    """

    key = forms.UUIDField(widget=forms.HiddenInput)
    stage = forms.ChoiceField(label=gettext_lazy("What happened"), widget=forms.RadioSelect)
    day = DayField(label=gettext_lazy("Date"))
    known = forms.ChoiceField(label=gettext_lazy("How we know"), choices=Known)
    note = forms.CharField(
        label=gettext_lazy("Note (optional)"),
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    def __init__(self, *args, words, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["stage"].choices = [(stage.value, text) for stage, text in words.items()]
        self.fields["key"].initial = uuid.uuid4
        self.fields["day"].initial = timezone.localdate

    def clean_day(self):
        return not_to_come(self.cleaned_data["day"])

    def told(self):
        """Return what was entered, as ``events.record`` and ``events.correct`` take it."""
        data = self.cleaned_data
        told = {name: data[name] for name in ("stage", "day", "known", "note")}
        return {**told, "key": f"form:{data['key']}"}


class WithdrawForm(forms.Form):
    """Why an event is withdrawn."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    note = forms.CharField(
        label=gettext_lazy("Reason for withdrawing it"),
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["key"].initial = uuid.uuid4

    def told(self):
        """Return what was entered, as ``events.withdraw`` takes it."""
        return {"note": self.cleaned_data["note"], "key": f"form:{self.cleaned_data['key']}"}


class StageWordsForm(forms.Form):
    """What each stage is called; left empty, it gets back the word it came with."""

    def __init__(self, *args, words, **kwargs):
        super().__init__(*args, **kwargs)
        for stage, text in words.items():
            self.fields[stage.value] = forms.CharField(
                label=stage.label.capitalize(), required=False, max_length=60, initial=text
            )

    def clean(self):
        cleaned = super().clean()
        seen = {}
        for name, text in list(cleaned.items()):
            # Two stages of one word could not be told apart, on a page or in a table.
            if text and text.casefold() in seen:
                self.add_error(name, _("Another stage has this name. Choose another word."))
            seen[text.casefold()] = name
        return cleaned
