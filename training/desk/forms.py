"""How staff narrow down a list of people."""

from django import forms
from django.utils.translation import gettext_lazy

from training.deck.sorting import SearchField
from training.people.models import Group, Role


class FilterForm(forms.Form):
    """Which of the people who train to show; everything may be left empty."""

    group = forms.ModelChoiceField(
        Group.objects.none(),
        required=False,
        empty_label=gettext_lazy("All groups"),
        error_messages={
            "invalid_choice": gettext_lazy("There is no such group any more. Choose another.")
        },
    )
    name = SearchField(gettext_lazy("Name or email"))

    def __init__(self, data, groups):
        """``groups`` is a queryset of those to choose from."""
        super().__init__(data)
        self.fields["group"].queryset = groups

    def chosen(self):
        """Return (group or None, text); what was not understood counts as left empty."""
        self.full_clean()
        return self.cleaned_data.get("group"), self.cleaned_data.get("name", "")


class WayForm(forms.Form):
    """Whose way to show; everything may be left empty."""

    TRACKS = [(role.value, role.label + "s") for role in (Role.TRAINEE, Role.OFFICER)]

    role = forms.ChoiceField(label=gettext_lazy("Way of"), choices=TRACKS, required=False)
    group = forms.ModelChoiceField(
        Group.objects.none(),
        required=False,
        empty_label=gettext_lazy("All groups"),
        error_messages={
            "invalid_choice": gettext_lazy("There is no such group any more. Choose another.")
        },
    )

    def __init__(self, data, groups):
        """``groups`` is a queryset of those to choose from."""
        super().__init__(data)
        self.fields["group"].queryset = groups

    def chosen(self):
        """Return (group or None, role); what was not understood counts as left empty."""
        self.full_clean()
        role = self.cleaned_data.get("role") or Role.TRAINEE
        return self.cleaned_data.get("group"), role
