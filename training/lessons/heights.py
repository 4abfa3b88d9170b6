"""Estimates of the footrope's height, in words for a page."""

from django.utils.translation import gettext as _

from rigs.words.units import inches


def rows(report):
    """
    Return both estimates of ``report``, a tow.HeightReport, as dicts of text.

    ``says`` goes on from "footrope": how high above the bottom it is by that estimate.
    """
    return [
        {"name": each.name, "basis": each.basis, "says": _says(each, report.at_least)}
        for each in report.estimates
    ]


def _says(estimate, at_least):
    height = inches(estimate.height, 1)
    if at_least:
        # The end hung clear, so neither way gives a most.
        if estimate.trade:
            return _("at any height: nothing touched")
        return _("at least {height} off the bottom").format(height=height)
    if estimate.trade:
        return _("at most {height} off the bottom").format(height=height)
    low, high = (inches(end, 1) for end in (estimate.low, estimate.high))
    return _("about {height} off the bottom, between {low} and {high}").format(
        height=height, low=low, high=high
    )
