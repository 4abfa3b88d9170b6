"""Codend and grate near a limit."""

from dataclasses import replace

from rigs.words.gear import DIAMOND, SQUARE
from rigs.words.units import FOOT, INCH, feet_inches, inches

from .making import listed


def mesh(making):
    """The average of a row of meshes, and at the higher levels what it is the average of."""
    rng, average = making.rng, making.reading()
    rig = making.rig.with_(codend=replace(making.rig.codend, mesh=average))
    told = f"Twenty meshes in a row are {inches(average)} on average."
    if making.level == 1:
        return rig, (told,)
    smallest, largest = (average + sign * rng.randint(2, 5) * INCH / 16 for sign in (-1, 1))
    return rig, (
        told,
        f"The smallest of them is {inches(smallest)}, the largest {inches(largest)}.",
    )


_VESSEL = ((11, 20), (5, 10), (1, 4))  # feet from the length at which the rule changes, by level


def mesh_count(making):
    """How far the mesh runs, and the vessel, which decides how far it has to."""
    requirement, rng = making.requirement, making.rng
    off = rng.randint(*_VESSEL[making.level - 1]) * FOOT
    longer = requirement.vessel_over is not None
    vessel = requirement.vessel_over + off if longer else requirement.vessel_up_to - off
    counted = round(making.reading())
    hanging = rng.choice([DIAMOND, DIAMOND, SQUARE]) if making.level > 1 else DIAMOND
    count, what = (2 * counted, "bars of square mesh") if hanging == SQUARE else (counted, "meshes")
    # In two parts, since a count of more digits would tell that there are enough.
    behind = round(count * rng.uniform(0.3, 0.7))
    codend = replace(making.rig.codend, counted=count, hanging=hanging)
    return making.rig.with_(codend=codend, vessel_length=vessel), (
        f"The vessel is {feet_inches(vessel)} long.",
        f"From the terminus, one piece of netting runs {behind} {what}.",
        f"The next, of the same mesh, runs {count - behind} more.",
    )


def bar_gap(making):
    """Three spaces between the grate's bars, the widest among them."""
    gaps = making.mixed(worst := making.reading(), *making.beside(worst, 2))
    rig = making.rig.with_(grate=replace(making.rig.grate, bar_gap=worst))
    told = listed([making.requirement.say(gap) for gap in gaps])
    return rig, (f"The widest spaces between the grate's bars are {told}.",)


def outlet(making):
    """The grate's width and the outlet's, to be held against each other."""
    width = making.rng.randint(120, 168) * INCH / 4
    grate = replace(making.rig.grate, width=width, outlet_width=width + making.reading())
    return making.rig.with_(grate=grate), (
        f"The grate is {inches(grate.width)} wide where it is attached.",
        f"The edge of the outlet next to it is {inches(grate.outlet_width)} wide.",
    )
