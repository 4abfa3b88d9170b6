"""What a page shows of a net's plan, whether the net is saved or not."""

from django.utils.translation import gettext as _

from rigs.drawing.plan import plan_view
from rigs.physics import balance
from rigs.plan import QUARTER, paired
from rigs.words import units
from training.deck.drawn import drawn


def _weight_rows(weights):
    """Return the lines of the table of weights: chain off, on, and the change."""
    told = (
        (_("Sweep that comes off"), weights.off_sweep),
        (_("Droppers and offcuts that come off"), weights.off_droppers),
        (_("New chain that goes on"), weights.on_droppers),
        (_("The net gets lighter by"), None if weights.change is None else -weights.change),
    )
    if weights.change is not None and weights.change > 0:
        told = (*told[:3], (_("The net gets heavier by"), weights.change))
    return [
        {"what": what, "air": mass, "water": None if mass is None else weights.in_water(mass)}
        for what, mass in told
    ]


def _lighter(weights):
    """Return by how much the net gets lighter or heavier, in words."""
    if weights.change is None:
        return _("Not known, since not all of it was measured.")
    pounds = units.pounds(abs(weights.change), 0)
    if weights.change > 0:
        return _("{pounds} heavier, weighed in air.").format(pounds=pounds)
    return _("{pounds} lighter, weighed in air.").format(pounds=pounds)


def _store(made):
    """Return in short what the plan takes from the store."""
    if made.shopping:
        return ", ".join(item.in_short for item in made.shopping)
    return _("Measure what you have first.") if made.to_ask else _("Nothing.")


def shown(net, edit_url):
    """
    Return what nets/plan.html shows of ``net``, saved or not, as context.

    ``edit_url`` leads to the form with its entries.
    """
    made = net.plan()
    ghost = made.present if made.present.droppers else None
    names = (_("as planned"), _("as it is now"))
    scene = plan_view(made.planned, made.judged_after, ghost, names, QUARTER)
    return {
        "net": net,
        "plan": made,
        "rulebook": made.rulebook,
        "drawing": drawn(scene, "net-planned"),
        "edit_url": edit_url,
        "places": paired(made.placements),
        "cautions": dict.fromkeys(step.caution for step in made.steps if step.caution),
        "store": _store(made),
        "lighter": _lighter(made.weights),
        "weights": _weight_rows(made.weights),
        "lift": balance.balance(made.planned),
        "lift_now": balance.balance(made.present),
    }


def hanging(net, made):
    """
    Return what nets/rigged.html shows of a saved ``net`` whose plan is ``made``, as context.

    ``rigging`` is what its owner said last, None for nothing yet; ``follows`` whether what
    hangs by that is what is planned now.
    """
    rigging = net.rigged()
    return {
        "rigging": rigging,
        "follows": rigging is not None and rigging.rig() == made.planned,
        "taken_back": net.riggings.put_aside().order_by("-deleted")[:3],
    }
