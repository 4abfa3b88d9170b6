"""What a net's tows say, read with the rig that each was made with."""

from typing import NamedTuple

from django.utils import timezone

from rigs import tuning
from rigs.plan import Plan
from rigs.rules.lapse import day_for
from rigs.words.gear import Rig

from .models import Rigging

MOST_TOWS = 120
"""The latest tows that are looked at: what an older net did says little about this one."""

RECENT = 10
"""The latest tows on which advice rests, so that it answers to how the net flies now."""


class Log(NamedTuple):
    """
    A net's tows, oldest first, with the TowHeights of each, and its Plan.

    ``rigging`` is the Rigging that holds, None if nobody said that the net is rigged: then
    it is taken to hang as planned, and ``follows`` says whether it does by that word.

    ``tuning`` is the tuning.Tuning of the latest tows, None without a tow; ``bycatch``
    the tuning.Bycatch over all of them, None if no catch was weighed. ``foretold`` is the
    tuning.Foretold of the net's last change, None without a tow. ``left_out`` is how many
    older tows are not looked at.
    """

    plan: Plan
    rigging: Rigging | None
    follows: bool
    tows: list
    heights: list
    tuning: tuning.Tuning | None
    bycatch: tuning.Bycatch | None
    foretold: tuning.Foretold | None
    left_out: int

    @property
    def by_baskets(self):
        """How many of its tows had their catch counted in baskets, and not weighed."""
        return sum(tow.is_by_baskets for tow in self.tows)

    @property
    def rows(self):
        """Each tow with its TowHeights, latest first."""
        return list(zip(self.tows, self.heights, strict=True))[::-1]


def _read(net, tows):
    """Return ``tows``, rows of the log, as tuning.Tows, each with the rig it was made with."""
    rigs = []  # (what it follows from, the rig), few of each
    read = []
    for tow in tows:
        tow.net = net
        made_with = tow.made_with
        rig = next((rig for known, rig in rigs if known == made_with), None)
        if rig is None:
            rig = tow.rig()
            rigs.append((made_with, rig))
        read.append(tow.read(rig))
    return read


class Heights(NamedTuple):
    """
    How a net's tows flew: its Plan, the Rigging that holds or None, and what ``hangs`` by it.

    ``tows`` are rows, oldest first, ``told`` the same as tuning.Tows, ``heights`` their
    TowHeights; ``left_out`` is how many older ones are not looked at.
    """

    plan: Plan
    rigging: Rigging | None
    hangs: Rig
    tows: list
    told: list
    heights: list
    left_out: int


def heights(net, on):
    """Return the Heights of ``net`` by the rules of the date ``on``."""
    plan = net.plan(on)
    rigging = net.rigged(on)
    hangs = plan.planned if rigging is None else rigging.rig()
    found = list(net.tows.there())
    tows = found[-MOST_TOWS:]
    told = _read(net, tows)
    read = [tuning.heights(tow, hangs) for tow in told]
    return Heights(plan, rigging, hangs, tows, told, read, len(found) - len(tows))


def read(net, on=None):
    """Return the Log of ``net`` by the rules of the date ``on``, or today's."""
    on = on or timezone.localdate()
    plan, rigging, hangs, tows, told, flown, left_out = heights(net, on)
    catches = [tow.catch for tow in told if tow.catch and tow.catch.total]
    return Log(
        plan=plan,
        rigging=rigging,
        follows=rigging is not None and hangs == plan.planned,
        tows=tows,
        heights=flown,
        tuning=tuning.tune(hangs, told[-RECENT:], plan.rulebook, day_for(plan.rulebook, on))
        if told
        else None,
        bycatch=tuning.bycatch(catches, tuning.standard(on)) if catches else None,
        foretold=tuning.last_change(flown) if told else None,
        left_out=left_out,
    )
