"""Figures of agreement on pages."""

from django import template

from rigs.statistics.facets import Lack
from rigs.words.say import gettext_lazy

register = template.Library()

FULL = gettext_lazy("over 0.99")

# Of a kappa; of a share right.
LACKS = {
    Lack.ONE_RIG: gettext_lazy("no range: only one rig"),
    Lack.TOP: gettext_lazy("no range: full agreement"),
    Lack.BOTTOM: gettext_lazy("no range: they never agreed"),
    Lack.ALIKE: gettext_lazy("no range: no call makes a difference"),
}
SHARE_LACKS = LACKS | {
    Lack.TOP: gettext_lazy("no range: all were right"),
    Lack.BOTTOM: gettext_lazy("no range: none was right"),
}


@register.filter
def beyond_chance(value):
    """Print a kappa to two places; only full agreement reads as 1.00, and nothing as -0.00."""
    text = f"{value:.2f}"
    if text == "1.00" and value < 1:
        return FULL
    return "0.00" if text == "-0.00" else text


@register.filter
def kappa_lack(reach):
    """Say why a kappa has no range."""
    return LACKS[reach.lack]


@register.filter
def share_lack(reach):
    """Say why a share right has no range."""
    return SHARE_LACKS[reach.lack]
