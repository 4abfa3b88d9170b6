"""What to change on a net, ranked, from the shine and the catch of one or more tows."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from rigs.physics.practice import FOOTROPE_HEIGHT, RuleOfThumb
from rigs.rules.judge import Verdict, judge
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import PORT, STARBOARD, Rig
from rigs.words.say import gettext as _

from . import looks, proposals
from .catch import Bycatch, bycatch, standard
from .doubts import doubts
from .flight import Flight
from .log import Tow, TowHeights, heights
from .proposals import Proposal
from .remarks import NO_ADVICE, NO_EFFECT, remarks, rules_said
from .shown import Shown, shown
from .uplift import Uplift
from .window import CANNOT_TELL, EVEN, IN_WINDOW, TOO_HIGH, TOO_LOW, status_of

Levels = Mapping[str | None, float]
"""Heights in metres by side, or that of the whole footrope under None."""

Rank = tuple[float, int]
"""Metres by which a change misses, and how many pieces it takes."""


@dataclass(frozen=True, slots=True)
class Advice:
    """
    One thing to do, with the heights it should give.

    ``pieces`` is how much is changed, zero where something is only to be looked at.
    ``effect`` is on the whole footrope, or on ``side`` alone; None where it cannot be
    told; ``left_out`` says what it does not count. ``port`` and ``starboard`` are the
    heights after it in metres, None where not read or not known. ``good`` says that both
    sides then fly at the right height, evenly. ``rig`` is the changed rig, ``verdict`` the
    judge's word on it and ``rules`` the same in a sentence.
    """

    kind: str
    text: str
    pieces: int
    effect: Uplift | None
    side: str | None
    port: float | None
    starboard: float | None
    good: bool
    rig: Rig
    verdict: Verdict
    left_out: str = ""

    @property
    def rules(self) -> str:
        """How the changed net stands with the rules, in words; empty if nothing changes."""
        if not self.pieces:
            return ""
        return rules_said(len(self.verdict.failed), len(self.verdict.not_measured))


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuning:
    """
    How the net flies and what to do about it; heights in metres.

    ``tows`` holds every tow's heights, ``used`` those made with the rig as it is now and
    ``run`` the last of these, since the height last changed of a sudden, on which all
    else rests. ``height``, ``low`` and ``high`` are by the model and its spread, ``rule``
    by length minus shine; ``difference`` is port less starboard by the model, and
    ``low_side`` the side that flies lower, None if they are even or it cannot be told.
    ``status`` and ``rule_status`` compare height and rule with ``window``, the practice
    of the trade. ``jump`` is a sudden change, or None. ``advice`` is what to do, first
    things first, and ``doubts`` says why nothing more can be proposed.
    """

    tows: tuple[TowHeights, ...]
    used: tuple[TowHeights, ...]
    run: tuple[TowHeights, ...]
    window: RuleOfThumb
    height: float | None = None
    low: float | None = None
    high: float | None = None
    rule: float | None = None
    port: float | None = None
    starboard: float | None = None
    difference: float | None = None
    low_side: str | None = None
    status: str = CANNOT_TELL
    rule_status: str = CANNOT_TELL
    jump: looks.Jump | None = None
    bycatch: Bycatch | None
    verdict: Verdict
    advice: tuple[Advice, ...] = ()
    notes: tuple[str, ...] = ()
    doubts: tuple[str, ...]

    @property
    def sure(self) -> bool:
        """Whether the whole spread of the model gives the same status."""
        if self.status == CANNOT_TELL or self.low is None or self.high is None:
            return False
        return status_of(self.low, self.window) == status_of(self.high, self.window)

    @property
    def uneven(self) -> bool:
        """Whether port and starboard differ by more than can be a misreading."""
        return self.low_side is not None

    @property
    def at_least(self) -> bool:
        """Whether a dropper showed no shine, so that the footrope may fly higher there."""
        return any(each.clear_places for each in self.run)

    @property
    def proposes(self) -> bool:
        """Whether some of the advice changes the net."""
        return any(each.pieces for each in self.advice)

    @property
    def flies_right(self) -> bool:
        """Whether the net is at the right height and nothing else needs a look."""
        return self.status == IN_WINDOW and not self.advice and not self.doubts


def keeps_the_rules(verdict: Verdict, present: Verdict) -> bool:
    """
    Return whether a changed net keeps what it kept.

    Nothing is missed that was not before, custom included, nor less is legal.
    """
    if verdict.missed_keys - present.missed_keys:
        return False
    return verdict.legal is True or present.legal is not True


class _Advisor:
    """Sifts proposals for one net: within the rules, helpful, the best amount of each kind."""

    def __init__(self, rig: Rig, rulebook: Rulebook, on: date | None, flight: Flight) -> None:
        self.rig, self.rulebook, self.on = rig, rulebook, on
        self.present = judge(rig, rulebook, on)
        self.window, self.levels = flight.window, flight.levels
        quarter = (self.window.high - self.window.low) / 4
        self.aim = (self.window.low + quarter, self.window.high - quarter)

    def after(self, proposal: Proposal) -> Levels:
        """Return the heights after ``proposal``, none where its effect is not known."""
        if proposal.effect is None:
            return {}
        found = dict(self.levels)
        for side, height in found.items():
            if proposal.side is None or proposal.side == side:
                found[side] = max(0.0, height + proposal.effect.change)
        return found

    def badness(self, by_side: Levels) -> float:
        """Return the metres by which heights miss the middle of the window and each other."""
        low, high = self.aim
        missed = [max(0.0, low - h, h - high) for h in by_side.values()]
        apart = max(by_side.values()) - min(by_side.values())
        return sum(missed) / len(missed) + max(0.0, apart - EVEN)

    def good(self, by_side: Levels) -> bool:
        apart = max(by_side.values()) - min(by_side.values())
        return apart <= EVEN and all(self.window.holds(h) for h in by_side.values())

    def advice(self, proposal: Proposal, verdict: Verdict) -> Advice:
        by_side = self.after(proposal)
        return Advice(
            kind=proposal.kind,
            text=proposal.text,
            pieces=proposal.pieces,
            effect=proposal.effect,
            side=proposal.side,
            port=by_side.get(PORT),
            starboard=by_side.get(STARBOARD),
            good=bool(by_side) and self.good(by_side),
            rig=proposal.rig,
            verdict=verdict,
            left_out=proposal.left_out,
        )

    def look(self, kind: str, text: str) -> Advice:
        """Return the Advice to look at something and change nothing yet."""
        return self.advice(Proposal(kind, text, 0, self.rig, None), self.present)

    def best(self, offered: Iterable[Proposal]) -> tuple[Rank, Advice] | None:
        """Return (rank, Advice) of the amount that serves best among ``offered``, or None."""
        now = self.badness(self.levels)
        best: tuple[Rank, Advice] | None = None
        for proposal in offered:
            verdict = judge(proposal.rig, self.rulebook, self.on)
            if not keeps_the_rules(verdict, self.present):
                continue
            if proposal.effect is None:
                # Nothing to choose an amount by: the smallest, and the shine read again.
                return (float("inf"), proposal.pieces), self.advice(proposal, verdict)
            if proposal.effect.clear:
                break  # from here on the droppers would hang clear of the bottom
            rank = (round(self.badness(self.after(proposal)), 4), proposal.pieces)
            if rank[0] < now and (best is None or rank < best[0]):
                best = rank, self.advice(proposal, verdict)
        return best

    def ranked(self, kinds: Iterable[Iterable[Proposal]]) -> tuple[Advice, ...]:
        """Return the best Advice of each of ``kinds``, best first."""
        found = [best for best in map(self.best, kinds) if best]
        return tuple(advice for __, advice in sorted(found, key=lambda each: each[0]))


def _whole_net(rig: Rig, shown: Shown, rulebook: Rulebook, status: str) -> list[Iterator[Proposal]]:
    """Return the makers of proposals for the whole net that answer to ``status``."""
    kinds = []
    if status == TOO_LOW and _floats_known(rig):
        kinds += [proposals.add_floats(rig, shown), proposals.lengthen_headrope(rig, shown)]
    if status == TOO_HIGH:
        kinds.append(proposals.add_droppers(rig, shown))
        if rig.headrope.length is not None:
            kinds.append(proposals.lengthen_footrope(rig, shown, rulebook))
    return kinds


def _one_side(rig: Rig, shown: Shown, status: str, low: str) -> list[Iterator[Proposal]]:
    """Return the makers of proposals that bring the side ``low`` up to the other."""
    kinds = []
    if _floats_known(rig) and status != TOO_HIGH:
        kinds.append(proposals.lift_side(rig, shown, low))
    if status != TOO_LOW:
        kinds.append(proposals.hold_side(rig, shown, STARBOARD if low == PORT else PORT))
    return kinds


def _floats_known(rig: Rig) -> bool:
    return rig.headrope.length is not None and any(each.diameter for each in rig.floats or ())


def _first(
    advisor: _Advisor, used: looks.Run, flight: Flight, jump: looks.Jump | None
) -> tuple[Advice, ...]:
    """Return the Advice on what to look at before anything is changed."""
    found = []
    legs = looks.legs_first(advisor.rig)
    if legs:
        found.append(advisor.look(proposals.MEASURE, legs))
    if jump is not None and len(flight.run) < looks.SETTLED:
        found.append(advisor.look(proposals.LOOK, jump.text))
    low = flight.low_side
    if low is not None:
        was_level = looks.was_level(used)
        kind = proposals.LOOK if was_level else proposals.MEASURE
        found.append(advisor.look(kind, looks.sides_first(advisor.rig, low, was_level)))
    return tuple(found)


def tune(
    rig: Rig,
    tows: Iterable[Tow],
    rulebook: Rulebook,
    on: date | None = None,
    window: RuleOfThumb = FOOTROPE_HEIGHT,
) -> Tuning:
    """
    Return the Tuning of ``rig`` from ``tows``, oldest first, by ``rulebook`` on the date ``on``.

    Tows made with another rig count for the trend and, like the others, for the catch,
    but not for the height now. No advice makes a rig fail a requirement that it now
    keeps, and none is given where the reading cannot tell. Raise ValueError, in plain
    words, for no tows or a tow that cannot be read.
    """
    read = tuple(heights(tow, rig) for tow in tows)
    if not read:
        raise ValueError(_("No tow was written down."))
    catches = [each.tow.catch for each in read if each.tow.catch and each.tow.catch.total > 0]
    caught = bycatch(catches, standard(on)) if catches else None
    used = tuple(each for each in read if each.tow.rig is None or each.tow.rig == rig)
    if not used:
        return Tuning(
            tows=read,
            used=(),
            run=(),
            window=window,
            bycatch=caught,
            verdict=judge(rig, rulebook, on),
            doubts=(_("No tow has been made yet with the net as it is now."),),
        )
    run, jump = looks.latest_run(used)
    flight = Flight(run, window)
    status, low_side = flight.status, flight.low_side
    advisor = _Advisor(rig, rulebook, on, flight)
    unsure = doubts(rig, flight)
    notes = remarks(flight, caught)
    first = _first(advisor, used, flight, jump)
    pull = shown(rig, run)
    more: tuple[Advice, ...] = ()
    if low_side and [each.kind for each in first] == [proposals.MEASURE]:
        if not hides_the_sides(rig, run):
            more = advisor.ranked(_one_side(rig, pull, status, low_side))
    elif not first and not unsure:
        more = advisor.ranked(_whole_net(rig, pull, rulebook, status))
        if not more and status in (TOO_LOW, TOO_HIGH):
            notes += (NO_ADVICE,)
    if any(each.effect is None for each in more):
        notes += (NO_EFFECT,)
    return Tuning(
        tows=read,
        used=used,
        run=run,
        window=window,
        height=flight.height,
        low=flight.low,
        high=flight.high,
        rule=flight.rule,
        port=flight.side(PORT),
        starboard=flight.side(STARBOARD),
        difference=flight.difference,
        low_side=low_side,
        status=status,
        rule_status=flight.rule_status,
        jump=jump,
        bycatch=caught,
        verdict=advisor.present,
        advice=(*first, *more),
        notes=notes,
        doubts=unsure,
    )


def hides_the_sides(rig: Rig, run: looks.Run) -> bool:
    """Return whether how much the sides of ``rig`` differ cannot be told from the shine."""
    return rig.sweep is not None or any(each.clear_places for each in run)
