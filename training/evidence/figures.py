"""The chart of the paired tows with its table."""

from django.utils.translation import gettext as _

from rigs.drawing.ratios import Estimate, RatioRow, ratios_view
from rigs.words.say import gettext_lazy
from training.deck.figures import Figure

from .species import BY_KEY, name_of
from .words import basis, chance, percent_words, sentence

LEAST = 0.01
"""What is drawn for less than one in a hundred, as the axis has no place for nothing."""

HEADER = (
    gettext_lazy("group of species"),
    "pairs",
    "vessels",
    gettext_lazy("middle of the shares"),
    gettext_lazy("low end"),
    gettext_lazy("high end"),
    gettext_lazy("pairs left out: a tow took nothing"),
    gettext_lazy("all catches together"),
    gettext_lazy("low end by vessel"),
    gettext_lazy("high end by vessel"),
    gettext_lazy("P, paired t test"),
    gettext_lazy("P, signed ranks"),
)


def _estimate(value, interval):
    if value is None:
        return None
    ends = (None, None) if interval is None else (max(each, LEAST) for each in interval)
    return Estimate(max(value, LEAST), *ends)


def _rounded(value):
    return None if value is None else float(f"{value:.3g}")


def _row(key, found):
    ends = found.interval or (None, None)
    ends_by_vessel = found.total_interval or (None, None)
    return (
        BY_KEY[key].name,
        found.pairs,
        found.vessels,
        *map(_rounded, (found.ratio, *ends)),
        found.left_out,
        *map(_rounded, (found.total_ratio, *ends_by_vessel, found.p, found.rank_p)),
    )


def ratios(evidence):
    """Return the Figure of the catch ratios in Evidence of which there is enough."""
    words = " ".join(
        f"{sentence(key, found)} {chance(found.p)}" for key, found in evidence.groups.items()
    )
    return Figure(
        "paired-tows",
        _("What the net took without the sweep"),
        ratios_view(
            _("Catch without the sweep, as a share of that with it"),
            f"{basis(evidence)} {words}",
            [
                RatioRow(
                    BY_KEY[key].name,
                    _estimate(found.ratio, found.interval),
                    _estimate(found.total_ratio, found.total_interval),
                )
                for key, found in evidence.groups.items()
            ],
            (_("less without the sweep"), _("more without the sweep")),
            (_("middle of the pairs' shares"), _("all catches together, by vessel")),
        ),
        HEADER,
        [_row(key, found) for key, found in evidence.groups.items()],
        _(
            "{basis} 1 means both tows caught the same. 0.5 means the tow without the sweep "
            "caught half. Lines show the likely range."
        ).format(basis=basis(evidence)),
    )


def told(evidence):
    """Return (name, sentence, sentence on chance) for each group in Evidence."""
    return [
        (BY_KEY[key].name, sentence(key, found), chance(found.p))
        for key, found in evidence.groups.items()
    ]


def pair_rows(pair):
    """Return what a pair caught, as (name, without, with, percent or words), in kg."""
    order = {key: number for number, key in enumerate(BY_KEY)}
    rows = []
    for catch in sorted(pair.catches.all(), key=lambda each: order.get(each.group, len(order))):
        share = _("no share")
        if catch.with_sweep:
            share = _("{percent_words} percent").format(
                percent_words=percent_words(catch.without_sweep / catch.with_sweep)
            )
        rows.append((name_of(catch.group), catch.without_sweep, catch.with_sweep, share))
    return rows
