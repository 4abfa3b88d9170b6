"""Measures in SI printed in the units of the deck."""

import re

from django import template
from django.utils import timezone

from rigs.rules import lapse as lapses
from rigs.words import shares, units

register = template.Library()


def _whole(text):
    """Return ``text`` with its figures tied to their units, so that no line breaks there."""
    return re.sub(r"(?<=\d) (?=[a-z])", "\u00a0", text)


@register.filter
def feet(metres):
    """Print a length as feet and inches, to the quarter of an inch: ``3 ft 6 1/4 in``."""
    return "0" if not metres else _whole(units.feet_inches(metres, 4))


@register.filter
def about_inches(metres):
    """Print a height as whole inches, as for what is worked out, not measured: ``14 in``."""
    return _whole(units.inches(metres, 1))


@register.filter
def tape_inches(metres):
    """Print a small length as inches to the quarter, as a tape on deck is read: ``12 1/4 in``."""
    return _whole(units.inches(metres, 4))


@register.filter
def inches(metres):
    """Print a small length as inches: ``42 in``."""
    return _whole(units.inches(metres))


@register.filter
def fathoms(metres):
    """Print a depth or a long length as fathoms: ``32 fm``."""
    return _whole(units.fathoms(metres))


@register.filter
def metric(metres):
    """Print a length the metric way."""
    return _whole(units.metric(metres))


@register.filter
def pounds(kilograms):
    """Print a mass as whole pounds."""
    return _whole(units.pounds(kilograms, 0))


@register.filter
def kilograms(mass):
    """Print a mass as whole kilograms."""
    return f"{mass:.0f}\u00a0kg"


@register.filter
def lapse(book):
    """Say that the rules of ``book`` have no version for today, and what to do."""
    return f"{lapses.lapse(book, timezone.localdate())} {lapses.CHECK_IT}"


@register.filter
def lapse_in_short(book):
    """Say beside one thing that its rules have no version for today."""
    return lapses.lapse_in_short(book, timezone.localdate())


@register.filter
def knots(speed):
    """Print a speed in m/s as knots."""
    return f"{speed / units.KNOT:.1f}\u00a0kn"


@register.filter
def percent(share, decimals=0):
    """Print a share as in a sentence: ``42 percent``."""
    return shares.percent(share, decimals)


@register.filter
def percent_sign(share, decimals=0):
    """Print a share as in a table: ``42%``."""
    return shares.percent_sign(share, decimals)


@register.filter
def percent_number(share):
    """Print a share as the number before the word percent: ``42``."""
    return shares.percent_number(share)


@register.filter
def percent_range(interval):
    """Print the two ends of the interval of a share, without the word percent: ``34 to 81``."""
    return shares.percent_range(*interval)


@register.filter
def size(value):
    """Return a figure without its sign."""
    return abs(value)
