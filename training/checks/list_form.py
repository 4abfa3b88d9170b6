"""The form that narrows down and sorts the list of check sheets."""

from django import forms
from django.db.models import Q
from django.utils.translation import gettext_lazy

from training.deck.sorting import SearchField, SortBy, SortField, in_order

SORTED = (
    SortBy("", gettext_lazy("day, latest first"), ("-day", "-created", "-pk")),
    SortBy("oldest", gettext_lazy("day, earliest first"), ("day", "created", "pk")),
    SortBy("vessel", gettext_lazy("vessel"), ("vessel_name", "-day", "-pk")),
)
TURNED_IN, OPEN, OUTSIDE = "turned-in", "open", "outside"
STATES = {
    TURNED_IN: ~Q(finished=None),
    OPEN: Q(finished=None),
    OUTSIDE: Q(outside__gt=0),
}


class SheetFilterForm(forms.Form):
    """Which check sheets to list, and in which order; everything may be left empty."""

    text = SearchField(gettext_lazy("Vessel or harbor"))
    state = forms.ChoiceField(
        label=gettext_lazy("Show"),
        required=False,
        choices=[
            ("", gettext_lazy("All")),
            (TURNED_IN, gettext_lazy("Turned in")),
            (OPEN, gettext_lazy("Not turned in yet")),
            (OUTSIDE, gettext_lazy("Something outside")),
        ],
    )
    sort = SortField(SORTED)

    def found(self, sheets):
        """Return those of ``sheets``, a queryset, that fit; what is not understood is left out."""
        self.full_clean()
        for word in self.cleaned_data.get("text", "").split():
            sheets = sheets.filter(Q(vessel_name__icontains=word) | Q(harbor__icontains=word))
        if state := self.cleaned_data.get("state"):
            sheets = sheets.filter(STATES[state])
        return in_order(sheets, self)

    @property
    def narrows(self):
        """Whether anything is asked for but an order."""
        return bool(self.cleaned_data.get("text") or self.cleaned_data.get("state"))
