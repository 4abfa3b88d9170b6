"""Figures of agreement on pages."""

from django import template

from ..figures import interval_of

register = template.Library()


@register.filter
def interval(kappa):
    """Return the Interval of a Kappa, None where it tells nothing."""
    return interval_of(kappa)
