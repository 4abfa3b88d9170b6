"""
How long until it happens, when for many it has not happened yet: Kaplan and Meier.

Made for the time from first contact with a vessel to its fishing without a sweep. A
vessel still on the way counts for as long as it was followed; leaving such vessels out,
or taking them as done, would both mislead.

Sources, from memory: Kaplan and Meier (1958); Greenwood (1926) for the variance; the
interval is taken on the log(-log) scale (Kalbfleisch and Prentice), which keeps it
between 0 and 1.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

from rigs.words.say import gettext as _

from .interval import CONFIDENCE, Interval, z_value


@dataclass(frozen=True, slots=True)
class CurveStep:
    """
    The curve from ``time`` on, until the next step.

    ``at_risk`` were still waiting just before ``time``; ``events`` of them had it
    happen then and ``censored`` were last seen then. ``waiting`` is the share to whom
    it has not happened by then. ``error`` is Greenwood's standard error of it and
    ``interval`` its interval; both are None once nobody is left waiting, and the
    interval is None, too, before the first event (nothing has varied yet).
    """

    time: float
    at_risk: int
    events: int
    censored: int
    waiting: float
    error: float | None
    interval: Interval | None

    @property
    def happened(self) -> float:
        """The share to whom it has happened by then."""
        return 1 - self.waiting


@dataclass(frozen=True, slots=True)
class Curve:
    """
    A Kaplan-Meier curve: one CurveStep for each time at which anything was seen.

    ``median`` is the first time by which it has happened to half or more, in the unit
    of the times, None if that was never reached. ``median_interval`` holds the times at
    which the two ends of the interval of ``waiting`` reach a half; an end that is never
    reached is None.
    """

    steps: tuple[CurveStep, ...]
    median: float | None
    median_interval: tuple[float | None, float | None]


def kaplan_meier(
    times: Sequence[float], happened: Sequence[bool], confidence: float = CONFIDENCE
) -> Curve:
    """
    Return the Curve of ``times``, each to the event or, if not ``happened``, to last sight.

    An event and a last sight at one time count in that order: who was last seen then
    was still waiting when it happened to the other.

    Raises ValueError without times, for a time below nought or one that is no number,
    and for lists of different length.
    """
    if not len(times):
        raise ValueError(_("There is nobody to follow."))
    if len(times) != len(happened):
        raise ValueError(
            _("{times} times and {happened} outcomes do not match.").format(
                times=len(times), happened=len(happened)
            )
        )
    if not all(0 <= time < float("inf") for time in times):
        raise ValueError(_("A time is a number from 0 up."))
    tally: dict[float, list[int]] = {}
    for time, event in zip(times, happened, strict=True):
        tally.setdefault(time, [0, 0])[0 if event else 1] += 1
    z = z_value(confidence)
    at_risk, waiting, greenwood = len(times), 1.0, 0.0
    steps = []
    for time in sorted(tally):
        events, censored = tally[time]
        waiting *= 1 - events / at_risk
        if events < at_risk:
            greenwood += events / (at_risk * (at_risk - events))
        steps.append(
            CurveStep(
                time,
                at_risk,
                events,
                censored,
                waiting,
                waiting * sqrt(greenwood) if waiting else None,
                _interval(waiting, greenwood, z),
            )
        )
        at_risk -= events + censored
    return Curve(
        tuple(steps),
        _first_half(steps, lambda step: step.waiting),
        (
            _first_half(steps, lambda step: step.interval and step.interval.low),
            _first_half(steps, lambda step: step.interval and step.interval.high),
        ),
    )


def _interval(waiting: float, greenwood: float, z: float) -> Interval | None:
    if waiting in (0, 1):
        return None
    half = z * sqrt(greenwood) / log(waiting)
    center = log(-log(waiting))
    return Interval(exp(-exp(center - half)), exp(-exp(center + half)))


def _first_half(
    steps: Sequence[CurveStep], height: Callable[[CurveStep], float | None]
) -> float | None:
    for step in steps:
        level = height(step)
        # A half that was multiplied up can end a hair above itself.
        if level is not None and level <= 0.5 + 1e-12:
            return step.time
    return None
