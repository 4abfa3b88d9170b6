"""The charts of how long it takes to convert, with their tables and sentences."""

from dataclasses import replace

from django.utils.translation import gettext as _

from rigs.drawing.curve import CurveFigure, CurvePoint, curve_view
from training.deck.figures import Figure
from training.deck.plain import MONTH, counted, months, percent_sign
from training.deck.suppression import SMALLEST, shown

from .conversion import curve_of, in_months, still_followed

MOST_CURVES = 8
"""As many groups as are drawn side by side."""


def points(curve):
    """Return the steps of a survival.Curve as Points of a rising curve, in months."""
    return [
        CurvePoint(
            in_months(step.time),
            step.happened,
            None if step.interval is None else 1 - step.interval.high,
            None if step.interval is None else 1 - step.interval.low,
        )
        for step in curve.steps
    ]


def median_words(curve):
    """Return one sentence on how long it takes until half have converted."""
    if curve.median is None:
        return _("No median yet: fewer than half have converted in the time we followed them.")
    low, high = curve.median_interval
    sentence = _("Half of the vessels converted within {months} of first contact").format(
        months=months(curve.median)
    )
    if low is None:
        return f"{sentence}."
    if high is None:
        return _("{sentence}; likely more than {months}, with no sure upper end yet.").format(
            sentence=sentence, months=months(low)
        )
    return _("{sentence}; likely between {months} and {months2}.").format(
        sentence=sentence, months=months(low), months2=months(high)
    )


def figure(followed, name="", key="conversion", most=None):
    """
    Return the Figure of the time to conversion of the Followed, at least one.

    ``most`` is how many days the drawing reaches, so that several can be compared.
    """
    curve = curve_of(followed)
    most = in_months(max(most or 0, curve.steps[-1].time, MONTH))
    done = sum(each.converted for each in followed)
    where = f", {name}" if name else ""
    return Figure(
        key,
        name or _("From first contact to fishing without a sweep"),
        curve_view(
            _("Time from first contact to fishing without a sweep{where}").format(where=where),
            _("{counted} followed, {done} converted. {median_words}").format(
                counted=counted(len(followed), "vessel"),
                done=done,
                median_words=median_words(curve),
            ),
            CurveFigure(
                points(curve),
                in_months(curve.steps[-1].time),
                lambda time: still_followed(followed, time * MONTH),
                _("fishing without a sweep"),
                in_months(curve.median),
                most=most,
            ),
        ),
        (
            _("days since first contact"),
            "followed",
            _("converted then"),
            _("last seen then"),
            _("share converted"),
            _("low end"),
            _("high end"),
        ),
        [_row(step) for step in curve.steps],
        median_words(curve),
    )


def _row(step):
    ends = (None, None)
    if step.interval is not None:
        ends = (round(1 - step.interval.high, 3), round(1 - step.interval.low, 3))
    return (
        step.time,
        step.at_risk,
        step.events,
        step.censored,
        round(step.happened, 3),
        *ends,
    )


def side_by_side(found, names):
    """
    Return a Figure for each of the first MOST_CURVES groups, all with one time scale.

    ``found`` is a dict of lists of Followed, ``names`` what each key is called.
    """
    most = max((each.days for followed in found.values() for each in followed), default=0)
    return [
        figure(followed, names.get(key, key), f"conversion-{number}", most)
        for number, (key, followed) in enumerate(list(found.items())[:MOST_CURVES], 1)
    ]


def compared_rows(found, names):
    """Return a row for each group: name, followed, converted, median and its interval."""
    rows = []
    for key, followed in found.items():
        curve = curve_of(followed)
        rows.append(
            (
                names.get(key, key),
                len(followed),
                sum(each.converted for each in followed),
                *(
                    None if days is None else round(in_months(days), 1)
                    for days in (curve.median, *curve.median_interval)
                ),
            )
        )
    return rows


def yearly(followed):
    """
    Return the Figure of the time to conversion for reports, in quarters of a year.

    Read at whole quarters alone, and only as long as enough are followed, so that no step
    of it is one vessel's.
    """
    curve = curve_of(followed)
    quarter = 3 * MONTH
    read, at = [], quarter
    while still_followed(followed, at) >= SMALLEST:
        step = [each for each in curve.steps if each.time <= at]
        if step:
            read.append(replace(step[-1], time=at))
        at += quarter
    drawn = points(replace(curve, steps=tuple(read)))
    end = in_months(at - quarter)
    median = curve.median if curve.median is not None and curve.median < at - quarter else None
    words = median_words(curve) if median is not None else _no_median_by(at - quarter)
    return Figure(
        "report-conversion",
        _("From first contact to fishing without a sweep"),
        curve_view(
            _("Share of vessels that fish without a sweep, by the time since first contact"),
            words,
            CurveFigure(
                drawn,
                end,
                lambda time: _told(still_followed(followed, time * MONTH)),
                _("fishing without a sweep"),
                in_months(median),
                most=max(end, 3),
                read=True,
            ),
        ),
        (_("months since first contact"), _("share converted"), _("low end"), _("high end")),
        [
            (
                round(point.time),
                percent_sign(point.happened),
                *(None if end is None else percent_sign(end) for end in (point.low, point.high)),
            )
            for point in drawn
        ],
        words,
    )


def _no_median_by(days):
    if days <= 0:
        return _("Too few vessels were followed for three months to show how long it takes.")
    return _(
        "No median to show: less than half had converted within {months} of first contact. After "
        "that too few were followed."
    ).format(months=months(days))


def _told(count):
    return "few" if shown(count) is None else count
