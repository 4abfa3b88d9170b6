"""What every maker of a near reading is given, and the words they share."""

from dataclasses import dataclass
from random import Random

from rigs.rules.rulebook import Requirement, Rulebook
from rigs.words.gear import SIDES, Rig

from .. import sample

MOST_APART = 4  # steps between the reading that decides and the others beside it


@dataclass(frozen=True)
class Making:
    """
    One reading in the making: which rule, which side of it, how near.

    ``rig`` is a sound one to begin with.
    """

    rng: Random
    rulebook: Rulebook
    requirement: Requirement
    broken: bool
    level: int
    rig: Rig

    @property
    def limit(self):
        return self.requirement.limit

    def sound(self, rope):
        """Return another sound Rig, on the Footrope ``rope``."""
        return sample.legal_rig(self.rng, self.rulebook, self.level, rope)

    def reading(self, edge_breaks=None):
        """Return a reading in SI on the side asked for, at the distance of the level."""
        return self.requirement.measure.scale.reading(
            self.rng, self.requirement, self.broken, self.level, edge_breaks
        )

    def apart(self):
        """Return a distance of the level in SI, for limits of nothing."""
        return self.requirement.measure.scale.distance(self.rng, self.level)

    def beside(self, worst, count, most=MOST_APART):
        """
        Return ``count`` readings more, up to ``most`` steps better than ``worst``, which decides.

        They lie about it alike whether the rule is met or broken, so that how far the readings
        are spread tells nothing; which means that some of them may break the rule too.
        """
        step = self.requirement.measure.scale.step
        away = -step if self.requirement.is_upper else step
        return [worst + self.rng.randint(0, most) * away for _ in range(count)]

    def mixed(self, *values):
        """Return ``values`` as a list in an order that tells nothing."""
        mixed = list(values)
        self.rng.shuffle(mixed)
        return mixed

    def side(self):
        return self.rng.choice(SIDES)


def listed(texts):
    """Return ``texts`` as they are read out: ``8 in, 9 in and 8 1/2 in``."""
    *most, last = texts
    return f"{', '.join(most)} and {last}" if most else last
