"""Readings off rigs, legal ones and near misses, for questions that offer a choice."""

from dataclasses import dataclass

from rigs import faults, sample
from rigs.gear import Rig
from rigs.judge import judge
from rigs.measures import MEASURES
from rigs.rulebook import Requirement

# One number does not tell of these whether the rule is kept: whether a gap lies at the
# wing end, what the outlet is held against, how long the vessel is.
NOT_TOLD_ALONE = {
    "dropper_spacing",
    "footrope_longer",
    "grate_outlet",
    "mesh_count_long",
    "mesh_count_short",
}


@dataclass(frozen=True)
class Reading:
    """One requirement as read off a rig, which keeps or breaks it."""

    requirement: Requirement
    rig: Rig
    rulebook: object

    @property
    def finding(self):
        """The rule module's Finding on it."""
        return judge(self.rig, self.rulebook).finding(self.requirement.key)

    @property
    def text(self):
        """What was read, in the words of the deck."""
        return self.finding.measured_text

    @property
    def full_text(self):
        """What was read and off what."""
        return f"{self.requirement.title}: {self.text}"


def told_alone(rulebook):
    """Return the keys of ``rulebook`` of which one reading tells whether they are kept."""
    return tuple(key for key in faults.spoilable(rulebook) if key not in NOT_TOLD_ALONE)


def measured(rulebook):
    """Return those of ``told_alone`` that are measured, not merely looked at."""
    return tuple(key for key in told_alone(rulebook) if MEASURES[key].dimension != "flag")


def draw(rng, rulebook, difficulty, key, broken):
    """Return a Reading of the requirement ``key``, ``broken`` or kept."""
    while True:
        rig = sample.legal_rig(rng, rulebook, difficulty)
        try:
            if broken:
                rig = faults.spoil(rig, key, rng, rulebook, difficulty)
        except faults.CannotSpoil:
            continue
        return Reading(rulebook.requirement(key), rig, rulebook)
