"""The kinds of exercise, one line each."""

from .choose_one import ChooseOne
from .choose_several import ChooseSeveral
from .enter_measure import EnterMeasure
from .find_fault import FindFault
from .judge_rig import JudgeRig
from .measure_drawing import MeasureDrawing
from .one_reading import OneReading
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
        OneReading(),
    )
}


# Kinds as they were, by slug and version, for the tasks that were set by them.
EARLIER = {}


def get(slug, version=None):
    """
    Return the kind called ``slug``, the newest or that of ``version``.

    Raise KeyError if there is none.
    """
    newest = KINDS[slug]
    return newest if version in (None, newest.version) else EARLIER[slug, version]
