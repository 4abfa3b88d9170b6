"""What to change on a net, ranked, from the shine and the catch of one or more tows."""

from dataclasses import dataclass

from .. import chain
from ..gear import PORT, SIDES, STARBOARD, Rig
from ..judge import Verdict, judge
from ..practice import FOOTROPE_HEIGHT, RuleOfThumb
from ..tow import hang, line
from ..tow.shape import FASTEST
from ..units import INCH, inches
from . import proposals
from .catch import OVER, Bycatch, bycatch
from .log import TowHeights, heights
from .uplift import Effect

TOO_LOW, IN_WINDOW, TOO_HIGH = "too low", "in the window", "too high"
CANNOT_TELL = "cannot tell"

EVEN = 3 * INCH
"""Port and starboard that differ by less are even: shine is not read any finer. No source."""


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
        return _status(self.low, self.window) == _status(self.high, self.window)

    @property
    def uneven(self):
        """Whether port and starboard differ by more than can be a misreading."""
        return self.difference is not None and abs(self.difference) > EVEN


def _status(height, window):
    if height < window.low:
        return TOO_LOW
    return TOO_HIGH if height > window.high else IN_WINDOW


def _mean(values):
    known = [value for value in values if value is not None]
    return sum(known) / len(known) if known else None


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
    speed = _mean(each.tow.speed for each in used)
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
        """Whether nothing fails that did not before, and what was legal still is."""
        if verdict.failed_keys - self.present.failed_keys:
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


def _reach(used):
    """Return how far below the footrope the droppers that were read reach, metres."""
    return _mean(
        hang(line(chain.stock_for(place.dropper.diameter)), place.dropper.length, tow.speed).height
        for tow, place in ((each.tow, place) for each in used for place in each.places)
    )


def _notes(rig, used, window, status, rule_status, difference, shown, caught):
    notes = []
    reach = _reach(used)
    if status != rule_status and CANNOT_TELL not in (status, rule_status):
        notes.append(
            f"By length minus shine the net flies {_say(rule_status)}, by the chain in the "
            f"current {_say(status)}. The advice goes by the current: under tow a dropper "
            "trails, so length minus shine is the most the height can be."
        )
    if all(each.at_least for each in used):
        notes.append(
            "No dropper showed any shine, so the footrope may fly higher than it is shown here."
        )
    if rig.sweep is not None:
        notes.append(
            "This net has a sweep. Droppers that end on a sweep do not hang free, so heights "
            "from their shine are rough and no effect is predicted."
        )
    elif not shown.known(None):
        notes.append(
            "How hard the net pulls up cannot be told from this shine, so no effect is "
            "predicted. Make the smallest change and read the shine again."
        )
    if status == TOO_LOW and reach < window.low:
        notes.append(
            f"At this speed the droppers reach only {inches(reach, 1)} below the footrope, so "
            "they cannot hold it in the window however hard the net pulls up: hang longer ones."
        )
    if difference is not None and abs(difference) > EVEN:
        side = PORT if difference < 0 else STARBOARD
        notes.append(f"The {side} side flies {inches(abs(difference), 1)} lower than the other.")
    if caught is not None and caught.verdict == OVER and status != TOO_LOW:
        notes.append(
            "The catch holds more bottom animals than the standard, though the shine does not "
            "say that the net is low: read the shine again, and look at the ground fished."
        )
    return tuple(notes)


_NO_ADVICE = (
    "No change looked at brings the net nearer to the window within the rules: each does too "
    "little, too much, or would break one."
)


def _say(status):
    return {IN_WINDOW: "at the right height"}.get(status, status)


def _hung_status(height, window, at_least):
    status = _status(height, window)
    return CANNOT_TELL if at_least and status != TOO_HIGH else status


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
    caught = bycatch(catches) if catches else None
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
    height = _mean(each.model for each in used)
    rule = _mean(each.rule for each in used)
    difference = _mean(each.difference for each in used)
    by_side = {side: _mean(each.side(side) for each in used) for side in SIDES}
    at_least = all(each.at_least for each in used)
    status = _hung_status(height, window, at_least)
    rule_status = _hung_status(rule, window, at_least)
    shown = _shown(rig, used)
    notes = _notes(rig, used, window, status, rule_status, difference, shown, caught)
    sides = by_side if None not in by_side.values() else {}
    advisor = _Advisor(rig, rulebook, on, window, sides, height)
    advice = advisor.ranked(_kinds(rig, shown, rulebook, status, difference))
    if not advice and status in (TOO_LOW, TOO_HIGH):
        notes += (_NO_ADVICE,)
    if difference is not None and abs(difference) > EVEN:
        advice = (_measure(advisor), *advice)
    return Tuning(
        tows=read,
        used=used,
        window=window,
        height=height,
        low=_mean(each.low for each in used),
        high=_mean(each.high for each in used),
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
