"""The plan as a whole."""

from dataclasses import dataclass

from ..gear import Rig
from ..judge import Finding, Verdict, judge
from ..rulebook import Rulebook
from . import limits
from .carry import Carry, carry
from .planned import Choices, Placement, placements, planned_rig
from .steps import Step, steps
from .stores import Item, Weights, shopping, to_ask, weights


@dataclass(frozen=True, slots=True)
class Plan:
    """
    The conversion of one net.

    ``present`` and ``planned`` are the rig now and as it will be; ``now`` and
    ``after`` the Verdicts on them by the gear rules, ``fishery_after`` that on the planned rig
    by the rules of a fishery as well, if one was named. ``placements`` says where each
    dropper goes, ``steps`` what to do, ``shopping`` what to buy and ``to_ask`` what to find
    out before; ``carry`` says whether the floats carry what will hang.
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
    steps: tuple[Step, ...]
    shopping: tuple[Item, ...]
    to_ask: tuple[str, ...]
    weights: Weights
    carry: Carry

    @property
    def verdicts(self):
        """The verdicts on the planned rig: by the gear rules, then by the fishery's."""
        return (self.after,) if self.fishery_after is None else (self.after, self.fishery_after)

    @property
    def failed(self):
        """Findings that the planned rig still breaks; each says how to fix it."""
        return _of(self.verdicts, "failed")

    @property
    def unknown(self):
        """Findings that cannot be judged until more of the net is measured."""
        return _of(self.verdicts, "not_measured")

    @property
    def legal(self):
        """True, False, or None where something the regulation limits is not known."""
        answers = [verdict.legal for verdict in self.verdicts]
        if False in answers:
            return False
        return None if None in answers else True

    @property
    def obstacles(self):
        """The broken and unknown findings that keep the planned rig from being legal."""
        return self.failed + self.unknown

    @property
    def off_custom(self):
        """Findings on what the planned rig does otherwise than is the custom; none is broken."""
        return _of(self.verdicts, "off_custom")

    @property
    def limits(self):
        """What rules and custom ask of the droppers, in words."""
        return limits.of_droppers(self.rulebook)


def _of(verdicts, which) -> tuple[Finding, ...]:
    return tuple(finding for verdict in verdicts for finding in getattr(verdict, which))


def plan(present, rulebook, choices, fishery=None, on=None):
    """
    Return the Plan that turns the rig ``present`` into one without a sweep.

    ``rulebook`` is a gear rule set without a sweep, ``choices`` what the owner will
    hang, ``fishery`` a rule set whose gear rules (mesh) must be met as well, ``on`` the
    date to judge for. Raise ValueError for a rule set that is not one without a sweep.
    """
    if not rulebook.has("no_sweep"):
        raise ValueError(f"“{rulebook.title}” is not a rule set for a net without a sweep.")
    now = judge(present, rulebook, on)
    planned = planned_rig(present, rulebook, choices, now)
    after = judge(planned, rulebook, on)
    fishery_after = None if fishery is None else judge(planned, fishery, on)
    places = placements(present, rulebook, choices, now)
    weighed = weights(present, choices, places)
    verdicts = (after,) if fishery_after is None else (after, fishery_after)
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
            present,
            rulebook,
            choices,
            planned,
            places,
            weighed,
            now,
            _of(verdicts, "failed"),
            _of(verdicts, "not_measured"),
        ),
        shopping=shopping(present, rulebook, choices, places, now),
        to_ask=to_ask(present, rulebook, choices),
        weights=weighed,
        carry=carry(planned, choices.float_size),
    )
