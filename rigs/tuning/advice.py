"""What to change on a net, ranked, from the shine and the catch of one or more tows."""

from dataclasses import dataclass

from .. import chain
from ..gear import PORT, SIDES, STARBOARD, Rig
from ..judge import Verdict, judge
from ..practice import FOOTROPE_HEIGHT, RuleOfThumb
from ..tow import hang, line
from ..tow.shape import FASTEST
from ..units import INCH
from . import proposals
from .catch import Bycatch, bycatch, standard
from .log import TowHeights, heights
from .remarks import NO_ADVICE, remarks
from .uplift import Effect
from .window import CANNOT_TELL, EVEN, TOO_HIGH, TOO_LOW, mean_of, status_of, status_shown


@dataclass(frozen=True, slots=True)
class Advice:
    """
    One thing to try, with the heights it should give.

    ``effect`` is on the whole footrope, or on ``side`` alone; None where it cannot be
    told. ``port`` and ``starboard`` are the heights after it in metres, None where not
    read or not known. ``good`` says that both sides then fly in the window, evenly.
    ``rig`` is the changed rig and ``verdict`` the judge's word on it.
    """

    kind: str
    text: str
    pieces: int
    effect: Effect | None
    side: str | None
    port: float | None
    starboard: float | None
    good: bool
    rig: Rig
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Tuning:
    """
    How the net flies and what to do about it; heights in metres.

    ``tows`` holds every tow's heights and ``used`` those made with the rig as it is now,
    on which all else rests. ``height``, ``low`` and ``high`` are by the model and its
    spread, ``rule`` by length minus shine; ``difference`` is port less starboard by the
    model. ``status`` and ``rule_status`` hold height and rule against ``window``, the
    practice of the trade. ``advice`` is best first.
    """

    tows: tuple[TowHeights, ...]
    used: tuple[TowHeights, ...]
    window: RuleOfThumb
    height: float | None
    low: float | None
    high: float | None
    rule: float | None
    port: float | None
    starboard: float | None
    difference: float | None
    status: str
    rule_status: str
    bycatch: Bycatch | None
    verdict: Verdict
    advice: tuple[Advice, ...]
    notes: tuple[str, ...]

    @property
    def sure(self):
        """Whether the whole spread of the model gives the same status."""
        if self.status == CANNOT_TELL:
            return False
        return status_of(self.low, self.window) == status_of(self.high, self.window)

    @property
    def uneven(self):
        """Whether port and starboard differ by more than can be a misreading."""
        return self.difference is not None and abs(self.difference) > EVEN


def _weighable(rig):
    """Whether every dropper of ``rig`` was measured and is of a chain known here."""
    sizes = {stock.size for stock in chain.STOCKS.values()}
    return all(
        each.length is not None
        and each.diameter is not None
        and any(abs(each.diameter - size) < INCH / 64 for size in sizes)
        for each in rig.droppers
    )


def _shown(rig, used):
    speed = mean_of(each.tow.speed for each in used)
    places = [(each.tow, place) for each in used for place in each.places]

    def height(condition, side):
        found = []
        for tow, place in places:
            if side is not None and place.side != side:
                continue
            hung = place.dropper
            at = min(FASTEST, max(0.0, tow.speed + condition.speed - speed))
            found.append(
                hang(
                    line(chain.stock_for(hung.diameter)),
                    hung.length,
                    at,
                    place.shine,
                    condition.friction,
                ).height
            )
        return sum(found) / len(found)

    weighable = _weighable(rig)

    def known(side):
        # On a sweep no dropper hangs free, and the sweep weighs on the footrope besides.
        return (
            weighable
            and rig.sweep is None
            and any(
                0 < place.shine < place.dropper.length
                for _, place in places
                if side is None or place.side == side
            )
        )

    return proposals.Shown(speed, height, known)


class _Advisor:
    """Sifts proposals for one net: legal, helpful, the best amount of each kind."""

    def __init__(self, rig, rulebook, on, window, sides, height):
        self.rig, self.rulebook, self.on = rig, rulebook, on
        self.present = judge(rig, rulebook, on)
        self.window, self.sides, self.height = window, sides, height
        quarter = (window.high - window.low) / 4
        self.aim = (window.low + quarter, window.high - quarter)

    def keeps_the_rules(self, verdict):
        """Whether nothing is missed that was not before, custom included, nor less is legal."""
        if verdict.missed_keys - self.present.missed_keys:
            return False
        return verdict.legal is True or self.present.legal is not True

    def after(self, proposal):
        """Return the heights by side after ``proposal``; under None if no side was read."""
        found = dict(self.sides) or {None: self.height}
        for side, height in found.items():
            if proposal.side is None or proposal.side == side:
                found[side] = max(0.0, height + proposal.effect.change)
        return found

    def badness(self, by_side):
        """Return the metres by which heights miss the middle of the window and each other."""
        low, high = self.aim
        missed = [max(0.0, low - h, h - high) for h in by_side.values()]
        apart = max(by_side.values()) - min(by_side.values())
        return sum(missed) / len(missed) + max(0.0, apart - EVEN)

    def good(self, by_side):
        apart = max(by_side.values()) - min(by_side.values())
        return apart <= EVEN and all(self.window.holds(h) for h in by_side.values())

    def advice(self, proposal, verdict):
        by_side = self.after(proposal) if proposal.effect else {}
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
        )

    def best(self, offered):
        """Return (rank, Advice) of the amount that serves best among ``offered``, or None."""
        now = self.badness(dict(self.sides) or {None: self.height})
        best = None
        for proposal in offered:
            verdict = judge(proposal.rig, self.rulebook, self.on)
            if not self.keeps_the_rules(verdict):
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

    def ranked(self, kinds):
        """Return the best Advice of each of ``kinds``, best first."""
        found = [best for best in map(self.best, kinds) if best]
        return tuple(advice for _, advice in sorted(found, key=lambda each: each[0]))


def _kinds(rig, shown, rulebook, status, difference):
    """Return the makers of proposals that answer to ``status`` and ``difference``."""
    kinds = []
    floats = rig.headrope.length is not None and any(each.diameter for each in rig.floats or ())
    if status == TOO_LOW and floats:
        kinds += [proposals.add_floats(rig, shown), proposals.lengthen_headrope(rig, shown)]
    if status == TOO_HIGH:
        kinds.append(proposals.add_droppers(rig, shown))
        if rig.headrope.length is not None:
            kinds.append(proposals.lengthen_footrope(rig, shown, rulebook))
    if difference is not None and abs(difference) > EVEN:
        low, high = (STARBOARD, PORT) if difference > 0 else (PORT, STARBOARD)
        if floats and status != TOO_HIGH:
            kinds.append(proposals.lift_side(rig, shown, low))
        if status != TOO_LOW:
            kinds.append(proposals.hold_side(rig, shown, high))
    return kinds


def _measure(advisor):
    proposal = proposals.Proposal(
        proposals.MEASURE,
        "Measure warps, ground cables and legs on both sides against each other first",
        0,
        advisor.rig,
        None,
    )
    return advisor.advice(proposal, advisor.present)


def tune(rig, tows, rulebook, on=None, window=FOOTROPE_HEIGHT):
    """
    Return the Tuning of ``rig`` from ``tows``, judged by ``rulebook`` on the date ``on``.

    Tows made with another rig count for the trend and, like the others, for the catch,
    but not for the height now. No advice makes a rig fail a requirement that it now
    keeps. Raise ValueError, in plain words, for no tows or a tow that cannot be read.
    """
    read = tuple(heights(tow, rig) for tow in tows)
    if not read:
        raise ValueError("No tow was written down.")
    catches = [each.tow.catch for each in read if each.tow.catch and each.tow.catch.total > 0]
    caught = bycatch(catches, standard(on)) if catches else None
    used = tuple(each for each in read if each.tow.rig is None or each.tow.rig == rig)
    if not used:
        return Tuning(
            tows=read,
            used=(),
            window=window,
            **dict.fromkeys(("height", "low", "high", "rule", "port", "starboard", "difference")),
            status=CANNOT_TELL,
            rule_status=CANNOT_TELL,
            bycatch=caught,
            verdict=judge(rig, rulebook, on),
            advice=(),
            notes=("No tow has been made yet with the net as it is now.",),
        )
    height = mean_of(each.model for each in used)
    rule = mean_of(each.rule for each in used)
    difference = mean_of(each.difference for each in used)
    by_side = {side: mean_of(each.side(side) for each in used) for side in SIDES}
    at_least = all(each.at_least for each in used)
    status = status_shown(height, window, at_least)
    rule_status = status_shown(rule, window, at_least)
    shown = _shown(rig, used)
    notes = remarks(rig, used, window, status, rule_status, difference, shown, caught)
    sides = by_side if None not in by_side.values() else {}
    advisor = _Advisor(rig, rulebook, on, window, sides, height)
    advice = advisor.ranked(_kinds(rig, shown, rulebook, status, difference))
    if not advice and status in (TOO_LOW, TOO_HIGH):
        notes += (NO_ADVICE,)
    if difference is not None and abs(difference) > EVEN:
        advice = (_measure(advisor), *advice)
    return Tuning(
        tows=read,
        used=used,
        window=window,
        height=height,
        low=mean_of(each.low for each in used),
        high=mean_of(each.high for each in used),
        rule=rule,
        port=by_side[PORT],
        starboard=by_side[STARBOARD],
        difference=difference,
        status=status,
        rule_status=rule_status,
        bycatch=caught,
        verdict=advisor.present,
        advice=advice,
        notes=notes,
    )
