"""A rig of a round as it is put before people."""

from django.utils.translation import gettext as _

from rigs.drawing.legs import legs_view
from rigs.drawing.plan import plan_view
from rigs.words.describe import describe, describe_beside_drawings
from training.exercises.kinds.base import Picture


def shown(rig, verdict=None):
    """
    Return what a template needs to show ``rig``, a RoundRig, as a dict.

    A drawn rig has pictures, and in words only what they leave out. With ``verdict``
    what fails is marked on them, and a described rig has pictures too.
    """
    pictures = ()
    if rig.drawn or verdict:
        pictures = (
            Picture(_("The net's mouth from above"), plan_view(rig.rig, verdict)),
            Picture(_("From door to wing end"), legs_view(rig.rig, verdict)),
        )
    lines = describe_beside_drawings(rig.rig) if rig.drawn else describe(rig.rig)
    return {"pictures": pictures, "lines": lines, "drawn": rig.drawn}
