"""What the paired tows say, in plain sentences."""

from django.utils.translation import gettext as _

from rigs.statistics.paired import ENOUGH_PAIRS, ENOUGH_VESSELS
from rigs.statistics.sums import Unknown
from rigs.words.days import long_day
from rigs.words.say import gettext_lazy
from training.deck import plain
from training.deck.plain import counted
from training.deck.suppression import SMALLEST

from .species import BY_KEY

# Common practice: what chance alone does one time in twenty is no news.
SURE = 0.05

# Ends of an interval beyond these are no ends to tell anybody.
LEAST, MOST = 0.005, 10
TOO_WIDE = gettext_lazy("the range is too wide to say anything")

NEEDED = gettext_lazy(
    "It takes at least {ENOUGH_PAIRS} pairs that caught some of one group of species, shared "
    "for sums, by at least {ENOUGH_VESSELS} vessels of more than {SMALLEST} owners. Fewer tell "
    "too little, and somebody could be picked out."
).format(ENOUGH_PAIRS=ENOUGH_PAIRS, ENOUGH_VESSELS=ENOUGH_VESSELS, SMALLEST=SMALLEST)

METHOD = (
    gettext_lazy(
        "Each pair is two tows by one vessel, on one ground, on one day. The skipper says that "
        "they were alike in all but the sweep."
    ),
    gettext_lazy(
        "The dot is all catches without the sweep, as a share of all catches with it, by weight. "
        "Tows that took none count too. Only pairs in which neither tow took any are left out: "
        "they say nothing of the share. A vessel that catches more weighs more."
    ),
    gettext_lazy(
        "The line is the likely range. It comes from how far the vessels' shares lie from the "
        "whole. A vessel counts as one source of chance, however many pairs it made. (Ratio of "
        "sums; variance by Royall and Cumberland, 1981; Student's t with degrees of freedom as in "
        "Bell and McCaffrey, 2002; on the logarithm. Cited from memory.)"
    ),
    gettext_lazy(
        "The range is built to hold the true figure about 95 times in 100. In trials with made-up "
        "fleets of 6 to 30 vessels it did so 93 to 97 times. Where large vessels had other shares "
        "than small ones, it was down to 90."
    ),
    gettext_lazy(
        "Where all tows of one kind took none, no range can be worked out. The chance given is "
        "then that all vessels agree (a sign test)."
    ),
    gettext_lazy(
        "Of many groups looked at together, about one in twenty differs by chance alone. So a "
        "difference is called clear only with the other groups counted in (Holm, 1979, from "
        "memory). Each range is for its group alone."
    ),
    gettext_lazy(
        "All this holds if the pairs were towed as entered. Nobody drew lots for which tow came "
        "first, and the skippers chose to take part. Other vessels on other grounds may find "
        "something else."
    ),
)


def percent_words(ratio):
    """Return a ratio as so many percent: whole ones, and never nothing for a little."""
    return plain.ratio_number(ratio)


def likely(interval):
    """Return the Interval of a ratio in words, within a sentence."""
    low, high = (
        percent_words(interval.low),
        percent_words(interval.high if interval.high < MOST else MOST),
    )
    if interval.low < LEAST and interval.high > MOST:
        return str(TOO_WIDE)
    if interval.low < LEAST:
        return _("likely at most {high} percent").format(high=high)
    if interval.high > MOST:
        return _("likely at least {low} percent").format(low=low)
    return _("likely between {low} and {high} percent").format(low=low, high=high)


_WHY = {
    Unknown.ONE_SOURCE: gettext_lazy(
        "Only one vessel caught any with the sweep, so there is no range."
    ),
    Unknown.ALIKE: gettext_lazy(
        "All vessels had the same share. That does not show how far others may differ, so there "
        "is no range."
    ),
}


def sentence(key, found):
    """Return what the Comparison ``found`` of the group ``key`` says, in a sentence or two."""
    name, pairs = BY_KEY[key].name, counted(found.pairs, _("pair of tows"), _("pairs of tows"))
    if found.unknown is Unknown.NONE_ABOVE:
        return _(
            "{name}: all {vessels} vessels took some with the sweep and none without it, in "
            "{pairs}. That does not prove that none will ever be taken, and there is no range."
        ).format(name=name, vessels=found.vessels, pairs=pairs)
    if found.unknown is Unknown.NONE_BELOW:
        return _(
            "{name}: all {vessels} vessels took some without the sweep and none with it, in "
            "{pairs}. So there is no share to show."
        ).format(name=name, vessels=found.vessels, pairs=pairs)
    share = percent_words(found.ratio)
    if found.interval is None:
        return _(
            "{name}: without the sweep the nets took {share} percent of the weight they took with "
            "it. {why}"
        ).format(name=name, share=share, why=_WHY[found.unknown])
    return _(
        "{name}: without the sweep the nets took {share} percent of the weight they took with it "
        "({likely})."
    ).format(name=name, share=share, likely=likely(found.interval))


def chance(p, adjusted=None, tests=1):
    """
    Return one sentence on a two-sided p, None for no test.

    ``adjusted`` is the p with the other groups counted in, of which there are ``tests``
    together.
    """
    if p is None:
        return _("So nothing can be tested.")
    adjusted = p if adjusted is None else adjusted
    if adjusted < SURE:
        if tests > 1:
            return _(
                "Chance alone gives a gap this big {odds} times: a clear difference, even with "
                "{tests} groups tested."
            ).format(odds=plain.chance(p), tests=tests)
        return _("Chance alone gives a gap this big {odds} times: a clear difference.").format(
            odds=plain.chance(p)
        )
    if p < SURE:
        return _(
            "No clear difference, as {tests} groups were tested: chance alone gives this one a "
            "gap this big {odds} times, and it has {tests} tries."
        ).format(odds=plain.chance(p), tests=tests)
    return _("No clear difference: chance alone gives a gap this big {odds} times.").format(
        odds=plain.chance(p)
    )


def together(evidence):
    """Return one sentence on the groups in Evidence looked at together, empty for one."""
    count = len(evidence.groups)
    if count < 2:
        return ""
    return _(
        "{count} groups are looked at together: of so many, about one in twenty would differ by "
        "chance alone. “No clear difference” has that counted in."
    ).format(count=count)


def basis(evidence):
    """Return one sentence on what the Evidence rests on."""
    if not evidence.pairs:
        return _("No paired tows that could be shown are shared for sums yet.")
    days = long_day(evidence.first)
    if evidence.first != evidence.last:
        days = _("{first} to {last}").format(first=days, last=long_day(evidence.last))
    return _("{counted} by {counted2}, {days}.").format(
        counted=counted(evidence.pairs, _("pair of tows"), _("pairs of tows")),
        counted2=counted(evidence.vessels, "vessel"),
        days=days,
    )
