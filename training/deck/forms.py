"""Forms in the words and units of the deck, shown section by section."""

import uuid
from typing import NamedTuple

from django import forms


def posted(request):
    """Return what was sent to ``request`` to fill a form with; None if it was only looked at."""
    return request.POST if request.method == "POST" else None


class Section(NamedTuple):
    """A part of a form: its heading, what to know before filling it in, its fields."""

    title: str
    lede: str
    fields: list
    always: bool

    @property
    def is_open(self):
        """Whether to show the fields without being asked."""
        return self.always or any(field.errors for field in self.fields)

    @property
    def said(self):
        """How many of its fields were answered."""
        return sum(_said(field) for field in self.fields)


def _said(field):
    """Return whether a bound field holds more than what it starts with."""
    value = field.value()
    choices = getattr(field.field, "choices", None)
    return value not in ("", None) and not (choices and str(value) == choices[0][0])


class DeckForm(forms.Form):
    """
    A form whose entries are kept both as typed and in SI.

    ``KEPT_APART`` names the fields that are no entries; ``SECTIONS`` says in which parts
    the fields are shown, as (title, lede, names, always shown).
    """

    KEPT_APART = ("key",)
    SECTIONS = ()

    key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["key"].initial = uuid.uuid4

    @property
    def _entries(self):
        return [name for name in self.fields if name not in self.KEPT_APART]

    @property
    def typed(self):
        """What was typed, by field."""
        return {name: self[name].data or "" for name in self._entries}

    @property
    def measures(self):
        """The same in SI, by field: only what could be read."""
        cleaned = getattr(self, "cleaned_data", {})
        return {name: cleaned[name] for name in self._entries if name in cleaned}

    @property
    def sections(self):
        """The Sections of the form, in order."""
        return [
            Section(title, lede, [self[name] for name in names], always)
            for title, lede, names, always in self.SECTIONS
        ]
