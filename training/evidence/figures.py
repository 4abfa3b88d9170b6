"""The chart of the paired tows with its table."""

from math import inf

from django.utils.translation import gettext as _

from rigs.drawing.ratios import Estimate, RatioRow, ratios_view
from rigs.statistics.sums import Unknown
from rigs.words.say import gettext_lazy
from training.deck.figures import Figure

from .species import BY_KEY, name_of
from .words import LEAST, MOST, TOO_WIDE, basis, chance, percent_words, sentence, together

HEADER = (
    gettext_lazy("group of species"),
    gettext_lazy("pairs that caught some"),
    gettext_lazy("of these, none without the sweep"),
    gettext_lazy("of these, none with the sweep"),
    "vessels",
    gettext_lazy("all catches without the sweep, % of those with it"),
    gettext_lazy("low end, %"),
    gettext_lazy("high end, %"),
    gettext_lazy("no range because"),
    "P",
    gettext_lazy("P, other groups counted in"),
)

NO_RANGE = {
    Unknown.NONE_BELOW: gettext_lazy("none with the sweep"),
    Unknown.NONE_ABOVE: gettext_lazy("none without the sweep"),
    Unknown.ONE_SOURCE: gettext_lazy("only one vessel caught any with the sweep"),
    Unknown.ALIKE: gettext_lazy("all vessels have the same share"),
}


def _rounded(value, times=1):
    return None if value is None else float(f"{value * times:.3g}")


def _ends(interval):
    """Return the ends of an Interval that tell something, and why one does not, in words."""
    if interval is None:
        return None, None, ""
    low = interval.low if interval.low >= LEAST else None
    high = interval.high if interval.high <= MOST else None
    return low, high, str(TOO_WIDE) if low is high is None else ""


def _row(key, found, adjusted):
    low, high, why = _ends(found.interval)
    return (
        BY_KEY[key].name,
        found.pairs,
        found.none_without,
        found.none_with,
        found.vessels,
        *(_rounded(each, 100) for each in (found.ratio, low, high)),
        str(NO_RANGE[found.unknown]) if found.unknown else why,
        *map(_rounded, (found.p, adjusted)),
    )


def _drawn(key, found):
    """Return the RatioRow of a group; where nothing was caught with the sweep, beyond all."""
    ratio = inf if found.ratio is None else found.ratio
    note = _("no range: {why}").format(why=NO_RANGE[found.unknown]) if found.unknown else ""
    return RatioRow(BY_KEY[key].name, Estimate(ratio, *(found.interval or (None, None))), note)


def ratios(evidence):
    """Return the Figure of the catch ratios in Evidence of which there is enough."""
    words = " ".join(f"{said} {odds}" for __, said, odds in told(evidence))
    adjusted = evidence.adjusted
    return Figure(
        "paired-tows",
        _("What the net took without the sweep"),
        ratios_view(
            _("Catch without the sweep, as a share of that with it"),
            f"{basis(evidence)} {words}",
            [_drawn(key, found) for key, found in evidence.groups.items()],
            (_("less without the sweep"), _("more without the sweep")),
            (_("all catches together, and its likely range"), _("goes on beyond the edge")),
        ),
        HEADER,
        [_row(key, found, adjusted[key]) for key, found in evidence.groups.items()],
        " ".join(
            filter(
                None,
                (
                    basis(evidence),
                    _(
                        "100% means both tows caught the same weight. 50% means the tow without "
                        "the sweep caught half. Lines show the likely range."
                    ),
                    together(evidence),
                ),
            )
        ),
    )


def told(evidence):
    """Return (name, sentence, sentence on chance) for each group in Evidence."""
    adjusted = evidence.adjusted
    return [
        (
            BY_KEY[key].name,
            sentence(key, found),
            chance(found.p, adjusted[key], evidence.tests),
        )
        for key, found in evidence.groups.items()
    ]


def pair_rows(pair):
    """Return what a pair caught, as (name, without, with, % or words), in kg."""
    order = {key: number for number, key in enumerate(BY_KEY)}
    rows = []
    for catch in sorted(pair.catches.all(), key=lambda each: order.get(each.group, len(order))):
        share = _("no share")
        if catch.with_sweep:
            share = f"{percent_words(catch.without_sweep / catch.with_sweep)}%"
        rows.append((name_of(catch.group), catch.without_sweep, catch.with_sweep, share))
    return rows
