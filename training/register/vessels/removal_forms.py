"""The forms for taking vessels off the register and for merging two that are one."""

import uuid
from difflib import SequenceMatcher

from django import forms
from django.db.models import Q
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from rigs.words.units import feet_inches
from training.deck.sorting import SearchField

from ..models import Vessel
from ..table.comparing import FIELDS
from ..table.entries import plain_registration

SEEN = 8
"""So many vessels are offered as the other one."""
NEAR = 0.6
"""From here on two names are near, of 1 for the same letters: common sense, no source."""


class RemoveForm(forms.Form):
    """That a vessel is removed; ``key`` makes a double tap remove once."""

    key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["key"].initial = uuid.uuid4


class OtherVesselForm(forms.Form):
    """Which other vessel is the same one, by any of its names."""

    text = SearchField(gettext_lazy("Name, number, owner or captain of the other one"))


class MergeForm(RemoveForm):
    """What a ``vessel`` is from now on, where the ``other``, merged into it, says otherwise."""

    def __init__(self, *args, vessel, other, gears, **kwargs):
        super().__init__(*args, **kwargs)
        self.vessel, self.other, self.gears = vessel, other, gears
        for name in FIELDS:
            here, there = getattr(vessel, name), getattr(other, name)
            if here != there:
                self.fields[name] = forms.ChoiceField(
                    label=_label(name),
                    choices=[("here", self._say(name, here)), ("there", self._say(name, there))],
                    initial="there" if here == "" else "here",
                    widget=forms.RadioSelect,
                )

    def _say(self, name, value):
        if name == "length":
            return feet_inches(value)
        if name == "gear":
            return self.gears.get(value, value)
        if name == "is_fishing":
            return _("yes") if value else _("no")
        return value or _("nothing")

    def clean(self):
        cleaned = super().clean()
        values = self.values()
        rest = Vessel.objects.exclude(pk__in=[self.vessel.pk, self.other.pk])
        name = values.get("name", self.vessel.name)
        harbor = values.get("harbor", self.vessel.harbor)
        if rest.filter(name__iexact=name, harbor=harbor).exists():
            raise forms.ValidationError(
                _(
                    "{harbor} has a third vessel called {name}. Choose the other name or harbor."
                ).format(harbor=harbor, name=name)
            )
        return cleaned

    def values(self):
        """Return what changes on the vessel, by field."""
        return {
            name: getattr(self.other, name)
            for name in FIELDS
            if self.cleaned_data.get(name) == "there"
        }


def _label(name):
    text = str(Vessel._meta.get_field(name).verbose_name)
    return _("Length") if name == "length" else f"{text[:1].upper()}{text[1:]}"


def near(vessel, vessels):
    """
    Return the ``vessels`` of a queryset most like ``vessel``, the likest first.

    By the name, wherever they lie, or by the number. One query.
    """
    number = plain_registration(vessel.registration)
    rows = vessels.exclude(pk=vessel.pk).order_by().values_list("pk", "name", "registration")
    likeness = {}
    name = vessel.name.casefold()
    for pk, other, registration in rows.iterator():
        if number and plain_registration(registration) == number:
            likeness[pk] = 2
            continue
        matcher = SequenceMatcher(None, name, other.casefold())
        if matcher.quick_ratio() >= NEAR and (ratio := matcher.ratio()) >= NEAR:
            likeness[pk] = ratio
    best = sorted(likeness, key=likeness.get, reverse=True)[:SEEN]
    found = vessels.in_bulk(best)
    return [found[pk] for pk in best]


def named(vessel, vessels, text):
    """Return those of ``vessels``, but ``vessel``, with every word of ``text`` about them."""
    found = vessels.exclude(pk=vessel.pk)
    for word in text.split():
        anywhere = Q(name__icontains=word) | Q(registration__icontains=word)
        found = found.filter(anywhere | Q(owner__icontains=word) | Q(captain__icontains=word))
    return list(found[:SEEN])
