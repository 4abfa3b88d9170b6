"""A version of a rule set that one of the demo's staff drafted and another is to approve."""

import uuid
from dataclasses import replace

from rigs.words.units import INCH
from training.rulesets import drafting

from . import scenario

RULE_SET, RULE = "no-sweep", "dropper_length"
LONGER = 2 * INCH
REASON = "Demo data: nobody asks for this. It is here so that there is a draft to look at."


def load(staff):
    """Have the second of ``staff`` draft and send a version that the first may approve."""
    by = staff[1]
    key = uuid.uuid5(uuid.NAMESPACE_URL, f"demo-draft-{scenario.SEED}")
    draft = drafting.start(RULE_SET, key, by)
    requirements = tuple(
        replace(each, limit=each.limit + LONGER, metric=None) if each.key == RULE else each
        for each in draft.book.requirements
    )
    draft = drafting.change(draft, replace(draft.book, requirements=requirements), REASON, by)
    drafting.submit(draft, by)
