"""The forms for the list of harbors."""

from django import forms
from django.utils.translation import gettext_lazy

from ..models import Harbor

NAME_INPUT = {"autocomplete": "off", "spellcheck": "false"}


class HarborForm(forms.Form):
    """The name of a harbor, new or changed."""

    name = forms.CharField(
        label=gettext_lazy("Name of the harbor"),
        max_length=100,
        widget=forms.TextInput(attrs=NAME_INPUT),
    )


class SpellingForm(forms.Form):
    """Another way in which people write it."""

    text = forms.CharField(
        label=gettext_lazy("Also written as"),
        max_length=100,
        help_text=gettext_lazy("Capitals, dots and dashes make no difference."),
        widget=forms.TextInput(attrs=NAME_INPUT),
    )


class JoinForm(forms.Form):
    """Which ``other`` harbor it really is."""

    other = forms.ModelChoiceField(
        None, label=gettext_lazy("It is the same as"), empty_label=gettext_lazy("Choose a harbor")
    )
    sure = forms.BooleanField(
        label=gettext_lazy("Move all of it there"),
        help_text=gettext_lazy("This cannot be undone."),
        error_messages={"required": gettext_lazy("Check this box to go on.")},
    )

    def __init__(self, *args, harbor, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["other"].queryset = Harbor.objects.exclude(pk=harbor.pk)
