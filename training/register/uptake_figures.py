"""The charts of uptake with their tables."""

from datetime import timedelta

from django.utils.translation import gettext as _

from rigs.drawing.bars import Bar, bars_view
from rigs.drawing.flow import Flow, flow_view
from rigs.drawing.stack import Band, stack_view
from rigs.words.days import long_day
from training.deck.figures import Figure
from training.deck.plain import counted
from training.deck.spreadsheet import PercentCell

from .sizes import SIZES
from .stages import Stage
from .uptake_sums import grouped

MOST_BARS = 12
"""As many harbors as a chart shows; the table has them all."""

# The furthest first: it lies at the foot of the chart, on a straight line.
_FROM_THE_FOOT = (*[stage for stage in reversed(Stage) if stage != Stage.BACK], Stage.BACK)
# What went back is of another color than all that goes on.
_SHADES = tuple(f"band-{number}" for number in (1, 2, 3, 4, 5, 6, 8, 7))


def month_name(month):
    """Return a month as ``Jul 2026``."""
    return f"{month:%b %Y}"


def stock(uptake, daily, words):
    """
    Return the Figure of how many vessels stood at each stage.

    Drawn day by day from ``daily``, a StageDays; the table has each month's end of ``uptake``.
    """
    numbers = {stage: number for number, stage in enumerate(Stage, 1)}
    bands = [
        Band(numbers[stage], words[stage], daily.stocks[stage], shade, stage == Stage.BACK)
        for shade, stage in zip(_SHADES, _FROM_THE_FOOT, strict=True)
    ]
    latest = "; ".join(
        f"{numbers[stage]} {words[stage]} {daily.stocks[stage][-1]}" for stage in Stage
    )
    return Figure(
        "uptake-stock",
        _("Vessels at each stage"),
        stack_view(
            _("Vessels at each stage, day by day"),
            _("{first} to {last}. Latest: {latest}.").format(
                first=long_day(daily.days[0]), last=long_day(daily.until), latest=latest
            ),
            daily.days,
            daily.until,
            bands,
        ),
        ("month", *(f"{numbers[stage]} {name}" for stage, name in words.items())),
        [
            (month_name(month), *(uptake.rows[stage].stock[i] for stage in words))
            for i, month in enumerate(uptake.months)
        ],
        _(
            "Each vessel is counted once, at the furthest stage it has reached. Vessels that no "
            "longer fish stay at their last stage. The table has the end of each month, the last "
            "one so far."
        ),
    )


def flow(uptake, today, words, stage):
    """Return the Figure of how many vessels came to ``stage`` and left it each month."""
    shown = uptake.latest()
    row = shown.rows[stage]
    name = words[stage]
    return Figure(
        "uptake-flow",
        _("Vessels entering and leaving: {name}").format(name=name),
        flow_view(
            _("Vessels that entered and left “{name}”, month by month").format(name=name),
            _("{span} {counted} entered it, {counted2} left it.").format(
                span=_span(shown),
                counted=counted(sum(row.entered), "vessel"),
                counted2=counted(sum(row.left), "vessel"),
            ),
            [(month, min(_last_of(month), today)) for month in shown.months],
            Flow(row.entered, row.left, ("entered", _("left, to go on or back"))),
        ),
        ("month", *(f"{words[each]}: {way}" for each in words for way in ("entered", "left"))),
        [
            (
                month_name(month),
                *(
                    count
                    for each in words
                    for count in (uptake.rows[each].entered[i], uptake.rows[each].left[i])
                ),
            )
            for i, month in enumerate(uptake.months)
        ],
        _("A vessel that moves on leaves the stage before. The last month is so far."),
    )


def compared(found, field):
    """Return the Figure of how many vessels of each harbor or size fish without a sweep."""
    groups = grouped(found, field)
    names = {size.key: size.words for size in SIZES} if field == "size" else {}
    rows = [
        (names.get(key, key), vessels, converted, PercentCell(converted / vessels))
        for key, (vessels, converted) in groups.items()
    ]
    drawn = sorted(rows, key=lambda row: -row[1])[:MOST_BARS]
    bars = [
        Bar(name, converted, vessels, f"{converted} of {vessels}")
        for name, vessels, converted, __ in rows
        if len(rows) <= MOST_BARS or any(name == each[0] for each in drawn)
    ]
    what = "harbor" if field == "harbor" else _("size of vessel")
    left_out = len(rows) - len(bars)
    remark = (
        _("{counted}: in the table only.").format(counted=counted(left_out, _("smaller harbor")))
        if left_out
        else ""
    )
    words = "; ".join(f"{bar.name}: {bar.words}" for bar in bars)
    return Figure(
        f"uptake-by-{field}",
        _("Without a sweep, by {what}").format(what=what),
        bars_view(
            _("Vessels that fish without a sweep, by {what}").format(what=what),
            f"{words}.",
            bars,
            remark,
        ),
        (what, "vessels", _("without a sweep"), "share"),
        rows,
    )


def _last_of(month):
    return (month + timedelta(days=31)).replace(day=1) - timedelta(days=1)


def _span(shown):
    first, last = shown.months[0], shown.months[-1]
    if first == last:
        return f"{month_name(last)}."
    return f"{month_name(first)} to {month_name(last)}."
