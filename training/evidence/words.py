"""What the paired tows say, in plain sentences."""

from django.utils.translation import gettext as _

from rigs.statistics.paired import ENOUGH_PAIRS
from rigs.words.days import long_day
from rigs.words.say import gettext_lazy
from training.deck.plain import counted
from training.deck.suppression import SMALLEST

from .species import BY_KEY

# Common practice: what chance alone does one time in twenty is no news.
SURE = 0.05

NEEDED = gettext_lazy(
    "It takes at least {ENOUGH_PAIRS} pairs of one group of species, shared for sums, by "
    "more than {SMALLEST} owners and as many vessels. With fewer, somebody could be picked "
    "out."
).format(ENOUGH_PAIRS=ENOUGH_PAIRS, SMALLEST=SMALLEST)

METHOD = (
    gettext_lazy(
        "Each pair is two tows by one vessel, on one ground, on one day. The skipper says that "
        "they were alike in all but the sweep. For each pair, the catch without the sweep is a "
        "share of the catch with it."
    ),
    gettext_lazy(
        "The dot is the middle of these shares (their geometric mean). Its interval is that of a "
        "paired t test on their logarithms. It counts two pairs of one vessel as if they had "
        "nothing in common. It leaves out pairs in which a tow took nothing."
    ),
    gettext_lazy(
        "The diamond is all catches together, those of nothing too. Its interval draws whole "
        "vessels again by chance (the bootstrap), so pairs of one vessel may be alike. Below "
        "about ten vessels it is rough."
    ),
    gettext_lazy(
        "Both intervals are built to hold the true figure about 95 times in 100, if the pairs "
        "were towed as entered. Nobody drew lots for which tow came first, and the skippers "
        "chose to take part. Other vessels on other grounds may find something else."
    ),
)


def percent_words(ratio):
    """Return a ratio as so many percent, to the whole percent, finer below ten."""
    return f"{ratio * 100:.0f}" if ratio >= 0.1 else f"{ratio * 100:.1f}"


def _interval(interval):
    low, high = percent_words(interval.low), percent_words(interval.high)
    return _(" (likely between {low} and {high} percent)").format(low=low, high=high)


def sentence(key, found):
    """Return one sentence on the Comparison ``found`` of the group ``key``."""
    name = BY_KEY[key].name_within
    if found.ratio is None:
        if found.total_ratio is None:
            return _(
                "No tow with the sweep caught any {name}, so there is no share to show."
            ).format(name=name)
        share, interval = found.total_ratio, found.total_interval
    else:
        share, interval = found.ratio, found.interval
    likely = _interval(interval) if interval else ""
    return _(
        "Without the sweep the net took {percent_words} percent of the {name}{likely}."
    ).format(percent_words=percent_words(share), name=name, likely=likely)


def chance(p):
    """Return one sentence on a two-sided p, None for no test."""
    if p is None:
        return _("There is nothing to test: the pairs do not differ.")
    if p < 0.001:
        return _("Chance alone gives a gap this big less than once in 1,000 times.")
    if p < SURE:
        return _("Chance alone gives a gap this big about {times}.").format(times=_times(p))
    return _("No clear difference: chance alone gives a gap this big about {times}.").format(
        times=_times(p)
    )


def _times(p):
    in_a_thousand = round(p * 1000)
    if in_a_thousand < 10:
        return (
            _("once in 1,000 times")
            if in_a_thousand < 2
            else _("{in_a_thousand} times in 1,000").format(in_a_thousand=in_a_thousand)
        )
    times = round(p * 100)
    return _("once in 100 times") if times < 2 else _("{times} times in 100").format(times=times)


def basis(evidence):
    """Return one sentence on what the Evidence rests on."""
    if not evidence.pairs:
        return _("No paired tows are shared for sums yet.")
    days = long_day(evidence.first)
    if evidence.first != evidence.last:
        days = f"{days} to {long_day(evidence.last)}"
    return _("{counted} by {counted2}, {days}.").format(
        counted=counted(evidence.pairs, _("pair of tows"), _("pairs of tows")),
        counted2=counted(evidence.vessels, "vessel"),
        days=days,
    )
