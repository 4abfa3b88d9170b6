"""The net that a verdict is predicted on: one's own, or one drawn from a seed."""

from typing import NamedTuple

from django.utils import timezone
from django.utils.translation import gettext as _

from rigs import plan
from rigs.plan import entry
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.rules.lapse import is_lapsed
from rigs.rules.rulebook import Rulebook
from rigs.words.describe import describe
from rigs.words.gear import Rig
from training.exercises import kinds
from training.exercises.kinds.base import EASIEST
from training.exercises.kinds.judge_rig import JudgeRig

KIND = JudgeRig.slug
BOOK = "no-sweep"


class Subject(NamedTuple):
    """A rig by its Rulebook; ``lapsed`` if that has no version for today."""

    name: str
    rig: Rig
    book: Rulebook
    lapsed: bool = False

    @property
    def description(self):
        """The rig in words, as (part, what was measured)."""
        return describe(self.rig)

    @property
    def verdict(self):
        return judge(self.rig, self.book)

    @property
    def findings(self):
        """The Findings of law on it, in the rule set's order."""
        return self.verdict.regulation


def of_net(net):
    """Return the Subject that ``net``, a person's own, is as it is now."""
    today = timezone.localdate()
    book, __ = plan.books_for(net.goal, today)
    return Subject(net.name, net.present(), book, is_lapsed(book, today))


def drawn(seed):
    """Return the Subject drawn from ``seed``."""
    today = timezone.localdate()
    book = rulebook.nearest(BOOK, today)
    task = kinds.get(KIND).generate(seed, book, EASIEST)
    return Subject(_("A try net"), task.rig, book, is_lapsed(book, today))


def of_prediction(prediction):
    """Return the Subject as it was when ``prediction`` was made."""
    book = prediction.rulebook
    if prediction.measures is not None:
        return Subject(prediction.net_name, entry.rig(prediction.measures), book)
    kind = kinds.get(KIND, prediction.kind_version)
    task = kind.generate(prediction.seed, book, EASIEST)
    return Subject(_("A try net"), task.rig, book)
