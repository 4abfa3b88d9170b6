"""What the paired tows say, in plain sentences."""

from training.fleet.evidence import ENOUGH_PAIRS
from training.fleet.plain import counted
from training.fleet.suppression import SMALLEST

from .species import BY_KEY

# Common practice: what chance alone does one time in twenty is no news.
SURE = 0.05

NEEDED = (
    f"It takes at least {ENOUGH_PAIRS} pairs of one group of species that their owners let "
    f"into sums, by more than {SMALLEST} owners and as many vessels, so that nobody can be "
    "told from them."
)

METHOD = (
    "Each pair is two tows alike in all but the sweep: one vessel, one ground, one day. For "
    "each pair the catch without the sweep is taken as a share of that with it.",
    "The dot is the middle of these shares (their geometric mean) with the interval of a "
    "paired t test on their logarithms. It takes every pair as a new one, also two pairs of "
    "one vessel, and has no place for pairs in which a tow took nothing.",
    "The diamond is all catches together. Its interval comes from drawing whole vessels again "
    "by chance (the bootstrap), so it does not mind pairs of one vessel being alike; it needs "
    "some ten vessels to be worth much.",
    "Both intervals hold the true figure 95 times in 100 if the pairs were towed as told. "
    "Nobody drew by lot which tow came first, and those who took part chose to: other vessels "
    "on other grounds may find otherwise.",
)


def percent_words(ratio):
    """Return a ratio as so many percent, to the whole percent, finer below ten."""
    return f"{ratio * 100:.0f}" if ratio >= 0.1 else f"{ratio * 100:.1f}"


def _interval(interval):
    low, high = percent_words(interval.low), percent_words(interval.high)
    return f" (likely between {low} and {high} percent)"


def sentence(key, found):
    """Return one sentence on the Comparison ``found`` of the group ``key``."""
    name = BY_KEY[key].name_within
    if found.ratio is None:
        if found.total_ratio is None:
            return f"Of {name} no tow with the sweep took anything: there is no share to tell."
        share, interval = found.total_ratio, found.total_interval
    else:
        share, interval = found.ratio, found.interval
    likely = _interval(interval) if interval else ""
    return f"Without the sweep the net took {percent_words(share)} percent of the {name}{likely}."


def chance(p):
    """Return one sentence on a two-sided p, None for no test."""
    if p is None:
        return "There is nothing to test: no two pairs differ."
    if p < 0.001:
        return "Chance alone would do this less than once in 1,000 times."
    if p < SURE:
        return f"Chance alone would do this about {_times(p)}."
    return f"This can well be chance: it alone would do as much about {_times(p)}."


def _times(p):
    in_a_thousand = round(p * 1000)
    if in_a_thousand < 10:
        return "once in 1,000 times" if in_a_thousand < 2 else f"{in_a_thousand} times in 1,000"
    times = round(p * 100)
    return "once in 100 times" if times < 2 else f"{times} times in 100"


def basis(evidence):
    """Return one sentence on what the Evidence rests on."""
    if not evidence.pairs:
        return "No paired tows go into sums yet."
    days = _day(evidence.first)
    if evidence.first != evidence.last:
        days = f"{days} to {_day(evidence.last)}"
    return (
        f"{counted(evidence.pairs, 'pair of tows', 'pairs of tows')} by "
        f"{counted(evidence.vessels, 'vessel')}, {days}."
    )


def _day(day):
    return f"{day:%B} {day.day}, {day.year}"
