"""What a net's tows say, read with the rig that each was made with."""

from typing import NamedTuple

from django.utils import timezone

from . import tuning
from .plan import Plan

MOST_TOWS = 120
"""The latest tows that are looked at: what an older net did says little about this one."""


class Log(NamedTuple):
    """
    A net's tows, oldest first, its Plan, and the tuning.Tuning; None without a tow.

    ``left_out`` is how many older tows are not looked at.
    """

    plan: Plan
    tows: list
    tuning: tuning.Tuning | None
    left_out: int

    @property
    def rows(self):
        """Each tow with its TowHeights, latest first."""
        if self.tuning is None:
            return []
        return list(zip(self.tows, self.tuning.tows, strict=True))[::-1]


def read(net, on=None):
    """Return the Log of ``net`` by the rules of the date ``on``, or today's."""
    on = on or timezone.localdate()
    plan = net.plan(on)
    found = list(net.tows.there())
    tows = found[-MOST_TOWS:]
    rigs = []  # (what the net was, the rig), few of each
    read_tows = []
    for tow in tows:
        tow.net = net
        rig = next((rig for was, rig in rigs if was == tow.net_was), None)
        if rig is None:
            rig = tow.rig()
            rigs.append((tow.net_was, rig))
        read_tows.append(tow.read(rig))
    tuned = tuning.tune(plan.planned, read_tows, plan.rulebook, on) if tows else None
    return Log(plan, tows, tuned, len(found) - len(tows))
