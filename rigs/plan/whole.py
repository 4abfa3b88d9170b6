"""The plan as a whole."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from rigs.rules.judge import Finding, Verdict, judge
from rigs.rules.lapse import day_for, is_lapsed
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import Rig
from rigs.words.say import gettext as _

from . import limits
from .carry import Carry, carry
from .planned import Choices, Placement, placements, planned_rig
from .steps import Conversion, PlanStep, steps
from .stores import Item, Weights, shopping, to_ask, weights


@dataclass(frozen=True, slots=True)
class Plan:
    """
    The conversion of one net.

    ``present`` and ``planned`` are the rig now and as it will be; ``now`` and
    ``after`` the Verdicts on them by the gear rules, ``fishery_after`` that on the planned rig
    by the rules of a fishery as well, if one was named. ``placements`` says where each
    dropper goes, ``steps`` what to do, ``shopping`` what to buy and ``to_ask`` what to find
    out before; ``carry`` says whether the floats carry what will hang. ``lapsed``
    are those of its rule sets that have no version for the day and are followed as they were.
    """

    rulebook: Rulebook
    fishery: Rulebook | None
    choices: Choices
    present: Rig
    planned: Rig
    now: Verdict
    after: Verdict
    fishery_after: Verdict | None
    placements: tuple[Placement, ...]
    steps: tuple[PlanStep, ...]
    shopping: tuple[Item, ...]
    to_ask: tuple[str, ...]
    weights: Weights
    carry: Carry
    lapsed: tuple[Rulebook, ...] = ()

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """
        The verdicts on the planned rig: by the gear rules, then by the fishery's.

        By a rule set that has lapsed there is none.
        """
        return _verdicts(self.after, self.fishery_after, self.lapsed)

    @property
    def judged_now(self) -> Verdict | None:
        """The verdict on the net as it is now, None where its rules have lapsed."""
        return None if self.rulebook in self.lapsed else self.now

    @property
    def judged_after(self) -> Verdict | None:
        """The verdict on the planned rig by the gear rules, None where they have lapsed."""
        return None if self.rulebook in self.lapsed else self.after

    @property
    def failed(self) -> tuple[Finding, ...]:
        """Findings that the planned rig still breaks; each says how to fix it."""
        return _of(self.verdicts, "failed")

    @property
    def unknown(self) -> tuple[Finding, ...]:
        """Findings that cannot be judged until more of the net is measured."""
        return _of(self.verdicts, "not_measured")

    @property
    def legal(self) -> bool | None:
        """True, False, or None where something the regulation limits, or a rule, is not known."""
        answers = [verdict.legal for verdict in self.verdicts]
        if False in answers:
            return False
        return None if None in answers or self.lapsed else True

    @property
    def rules_checked(self) -> int:
        """How many rules the planned rig was judged by; a rule of both rule sets counts once."""
        return len({finding.key for verdict in self.verdicts for finding in verdict.regulation})

    @property
    def off_custom(self) -> tuple[Finding, ...]:
        """Findings on what the planned rig does otherwise than is the custom; none is broken."""
        return _of(self.verdicts, "off_custom")

    @property
    def limits(self) -> str:
        """What rules and custom ask of the droppers, in words."""
        return limits.of_droppers(self.rulebook)


def _verdicts(
    after: Verdict, fishery_after: Verdict | None, lapsed: Sequence[Rulebook]
) -> tuple[Verdict, ...]:
    """Return those of the verdicts there are that are by a rule set in force."""
    there = (each for each in (after, fishery_after) if each is not None)
    return tuple(each for each in there if each.rulebook not in lapsed)


def _of(verdicts: Sequence[Verdict], which: str) -> tuple[Finding, ...]:
    return tuple(finding for verdict in verdicts for finding in getattr(verdict, which))


def plan(
    present: Rig,
    rulebook: Rulebook,
    choices: Choices,
    fishery: Rulebook | None = None,
    on: date | None = None,
) -> Plan:
    """
    Return the Plan that turns the rig ``present`` into one without a sweep.

    ``rulebook`` is a gear rule set without a sweep, ``choices`` what the owner will
    hang, ``fishery`` a rule set whose gear rules (mesh) must be met as well, ``on`` the
    date to judge for. A rule set that does not hold then lays the net out, but there is no
    verdict by it. Raise ValueError for a rule set that is not one without a sweep.
    """
    if not rulebook.has("no_sweep"):
        raise ValueError(
            _("“{title}” is not a rule set for a net without a sweep.").format(title=rulebook.title)
        )
    books = tuple(book for book in (rulebook, fishery) if book is not None)
    lapsed = () if on is None else tuple(book for book in books if is_lapsed(book, on))
    now = _judged(present, rulebook, on)
    planned = planned_rig(present, rulebook, choices, now)
    after = _judged(planned, rulebook, on)
    fishery_after = None if fishery is None else _judged(planned, fishery, on)
    places = placements(present, rulebook, choices, now)
    weighed = weights(present, choices, places)
    verdicts = _verdicts(after, fishery_after, lapsed)
    return Plan(
        rulebook=rulebook,
        fishery=fishery,
        choices=choices,
        present=present,
        planned=planned,
        now=now,
        after=after,
        fishery_after=fishery_after,
        placements=places,
        steps=steps(
            Conversion(
                present,
                now,
                rulebook,
                choices,
                planned,
                places,
                weighed,
                failed=_of(verdicts, "failed"),
                unknown=_of(verdicts, "not_measured"),
            )
        ),
        shopping=shopping(present, rulebook, choices, places, now),
        to_ask=to_ask(present, rulebook, choices),
        weights=weighed,
        carry=carry(planned, choices.float_size),
        lapsed=lapsed,
    )


def _judged(rig: Rig, book: Rulebook, on: date | None) -> Verdict:
    return judge(rig, book, None if on is None else day_for(book, on))
