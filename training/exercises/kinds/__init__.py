"""The kinds of exercise, one line each."""

from .judge_rig import JudgeRig
from .pick_chain import PickChain
from .space_droppers import SpaceDroppers

KINDS = {
    kind.slug: kind
    for kind in (
        SpaceDroppers(),
        PickChain(),
        JudgeRig(),
    )
}


def get(slug):
    """Return the kind called ``slug``; raise KeyError if there is none."""
    return KINDS[slug]
