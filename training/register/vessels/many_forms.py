"""The form for one stage of many vessels."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck.fields import RowsField

from .event_forms import EventForm


class ManyForm(EventForm):
    """A stage that each of some ``vessels`` reached on one day."""

    vessels = RowsField(
        None,
        label=gettext_lazy("Vessels"),
        error_messages={"required": gettext_lazy("Check at least one vessel.")},
    )

    def __init__(self, *args, vessels, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["vessels"].queryset = vessels

    def clean_vessels(self):
        found = list(self.cleaned_data["vessels"])
        if not found:
            raise forms.ValidationError(_("Check at least one vessel."))
        return found
