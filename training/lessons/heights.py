"""Estimates of the footrope's height, in words for a page."""

from rigs.units import inches


def rows(report):
    """Return both estimates of ``report``, a tow.HeightReport, as dicts of text."""
    return [
        {
            "name": estimate.name,
            "height": inches(estimate.height, 1),
            "basis": estimate.basis,
            "low": None if estimate.low is None else inches(estimate.low, 1),
            "high": None if estimate.high is None else inches(estimate.high, 1),
        }
        for estimate in report.estimates
    ]
