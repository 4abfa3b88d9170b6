"""The kinds of exercise, one line each."""

from .choose_one import ChooseOne
from .choose_several import ChooseSeveral
from .enter_measure import EnterMeasure
from .find_fault import FindFault
from .judge_rig import JudgeRig
from .measure_drawing import MeasureDrawing
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
        ChooseOne(),
        ChooseSeveral(),
        EnterMeasure(),
        FindFault(),
        MeasureDrawing(),
    )
}


def get(slug):
    """Return the kind called ``slug``; raise KeyError if there is none."""
    return KINDS[slug]
