"""Lists in an order that a reader chooses, said in the address as ``sort``."""

from collections.abc import Sequence
from typing import NamedTuple

from django import forms
from django.utils.translation import gettext_lazy


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
