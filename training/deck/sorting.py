"""Lists searched and sorted as a reader asks; the order is said in the address as ``sort``."""

from collections.abc import Sequence
from typing import NamedTuple

from django import forms
from django.utils.translation import gettext_lazy

LONGEST_SEARCH = 100


class SearchField(forms.CharField):
    """Asks for words to look for; ``label`` says in what. May be left empty."""

    def __init__(self, label):
        super().__init__(
            label=label,
            required=False,
            max_length=LONGEST_SEARCH,
            widget=forms.TextInput(attrs={"type": "search", "autocomplete": "off"}),
        )


class SortBy(NamedTuple):
    """A way to sort a list: its ``key`` in the address, its words, and what it orders ``by``."""

    key: str
    words: str
    by: Sequence


class SortField(forms.ChoiceField):
    """Asks by which of ``ways`` to sort; the first one has a blank key and holds if none is."""

    def __init__(self, ways):
        self.ways = {way.key: way for way in ways}
        super().__init__(
            label=gettext_lazy("Sort by"),
            required=False,
            choices=[(way.key, way.words) for way in ways],
        )


def in_order(found, form, name="sort"):
    """Return ``found``, a queryset, in the order that ``form``, which was cleaned, asks for."""
    ways = form.fields[name].ways
    return found.order_by(*ways[form.cleaned_data.get(name, "")].by)
