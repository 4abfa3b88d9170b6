"""The kinds of exercise, one line each."""

from .judge_rig import JudgeRig
from .order_conversion import OrderConversion
from .pick_chain import PickChain
from .read_shine import ReadShine
from .space_droppers import SpaceDroppers

KINDS = {
    kind.slug: kind
    for kind in (
        SpaceDroppers(),
        PickChain(),
        JudgeRig(),
        ReadShine(),
        OrderConversion(),
    )
}


def get(slug):
    """Return the kind called ``slug``; raise KeyError if there is none."""
    return KINDS[slug]
