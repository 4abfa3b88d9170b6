"""A net or a tow entry by entry, as rows that people can read."""

from typing import NamedTuple

from django import forms
from django.utils.translation import gettext as _

from rigs.tuning.log import PLACE_NAMES
from training.deck.fields import ChainField, LengthField, MassField, PlacesField, SpeedField

from .forms import NetForm
from .log_forms import TowForm
from .models import SHINE, Net, Rigging, Tow

_UNITS = (
    (ChainField, "m"),
    (LengthField, "m"),
    (PlacesField, "m"),
    (MassField, "kg"),
    (SpeedField, "m/s"),
)


class EntryRow(NamedTuple):
    """One entry: what was asked, what was typed, and that as a measure in ``unit``."""

    asked: str
    typed: str
    measure: str
    unit: str


def _measure(value, unit):
    if value is None or value == "" or not unit:
        return ""
    values = value if isinstance(value, list) else [value]
    return ", ".join(f"{each:.4g}" for each in values)


_YES_NO = {True: "yes", False: "no"}


def _typed(field, text, value):
    """Return what was typed or chosen; of what was chosen the words, from ``value`` if need be."""
    if not isinstance(field, forms.ChoiceField):
        return text or ("" if _unit(field) else str(value))
    if not text and _unit(field):
        return ""
    key = text or _YES_NO.get(value, str(value))
    return str(dict(field.choices).get(key, key))


def _unit(field):
    return next((unit for kind, unit in _UNITS if isinstance(field, kind)), "")


def _shine_fields():
    """Return the fields of the shine at each place, as a TowForm makes them for a rig."""
    asked = _("Shine, {PLACE_NAMES}")
    return {
        name: LengthField(label=asked.format(PLACE_NAMES=PLACE_NAMES[place]))
        for place, name in SHINE.items()
    }


def _rows(fields, typed, measures):
    """Yield the EntryRows of all that was answered, in the order of ``fields``."""
    for name, field in fields.items():
        text, value = typed.get(name) or "", measures.get(name)
        if text == "" and value in (None, "", []):
            continue
        unit = _unit(field)
        yield EntryRow(str(field.label), _typed(field, text, value), _measure(value, unit), unit)


def _of_net(net):
    return _rows(NetForm().fields, net.typed, net.measures)


def _of_was(was):
    """Yield the EntryRows of a net as it was planned; what was typed is not saved with it."""
    for row in _rows(NetForm().fields, {}, was["measures"]):
        yield row._replace(asked=_("The net: {asked}").format(asked=row.asked))


def _of_tow(tow):
    yield from _rows(TowForm.base_fields | _shine_fields(), tow.typed, tow.measures)
    yield from _of_was(tow.net_was)


BY_ENTRY = {Net: _of_net, Tow: _of_tow, Rigging: lambda rigging: _of_was(rigging.was)}
"""What yields the EntryRows of a row of each model."""
