"""How staff narrow down the pages of uptake."""

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.people import sight

from .models import Vessel
from .sizes import SIZES
from .stages import Stage


class UptakeForm(forms.Form):
    """
    Which vessels to look at, and which stage's comings and goings.

    ``user`` is who looks: only harbors that he looks after are offered. ``words`` are
    those of the stages.
    """

    harbor = forms.ChoiceField(label=gettext_lazy("Harbor"), required=False)
    size = forms.ChoiceField(label=gettext_lazy("Size of vessel"), required=False)
    stage = forms.ChoiceField(label=gettext_lazy("Entering and leaving"), required=False)

    def __init__(self, *args, user, words, **kwargs):
        super().__init__(*args, **kwargs)
        harbors = sight.rows(Vessel.objects.all(), user).order_by("harbor")
        names = harbors.values_list("harbor", flat=True).distinct()
        self.fields["harbor"].choices = [("", _("All harbors")), *((name, name) for name in names)]
        self.fields["size"].choices = [
            ("", _("All sizes")),
            *((size.key, size.words.capitalize()) for size in SIZES),
        ]
        self.fields["stage"].choices = [(each.value, words[each].capitalize()) for each in Stage]
        self.fields["stage"].initial = Stage.CONVERTED.value

    def chosen(self):
        """Return (harbor, size, Stage); what was not understood counts as left empty."""
        self.full_clean()
        told = getattr(self, "cleaned_data", {})
        return (
            told.get("harbor", ""),
            told.get("size", ""),
            Stage(told.get("stage") or Stage.CONVERTED),
        )


class CompareForm(forms.Form):
    """By what to set curves side by side."""

    BY = (("harbor", gettext_lazy("Harbor")), ("size", gettext_lazy("Size of vessel")))

    by = forms.ChoiceField(label=gettext_lazy("Side by side by"), choices=BY, required=False)

    def chosen(self):
        """Return ``harbor`` or ``size``."""
        self.full_clean()
        return getattr(self, "cleaned_data", {}).get("by") or "harbor"
