"""
What is seen, not measured: rules that are answered by yes or no.

Each has things that are seen on a rig that meets it and things seen on one that breaks it, plain
ones and close ones. The close ones of both sides look alike: what breaks a rule is little and in
one place, and what meets it has something odd about it that no rule forbids (common practice,
no source).
"""

from dataclasses import replace
from typing import NamedTuple

from rigs.words.gear import PORT, Sweep
from rigs.words.units import INCH


class Sights(NamedTuple):
    """What is seen, as sentences; holes are filled with the side and the wire."""

    plain: tuple[str, ...]
    close: tuple[str, ...]

    def of(self, level):
        """Return those of ``level``: plain at 1, close at 3, both between."""
        return (self.plain, self.plain + self.close, self.close)[level - 1]


SIGHTS = {
    "ground_gear_bare": (
        Sights(
            plain=(
                "{Wire} is plain wire from eye to eye. So are all the others.",
                "All legs and ground cables are plain, rusty wire.",
            ),
            close=(
                "{Wire} is worn bright along the part that drags. All of it is plain wire.",
                "{Wire} is newer than its mate and freshly greased. Both are plain wire.",
                "A basket of rubber cookies is on deck. {Wire} is plain wire, as is the rest.",
                "{Wire} has an eye at each end, spliced around a steel thimble.",
            ),
        ),
        Sights(
            plain=(
                "Rubber cookies are strung along {wire} from eye to eye.",
                "Hose covers {wire} from eye to eye.",
            ),
            close=(
                "One rubber cookie is threaded on {wire}. The rest of it is plain wire.",
                "A foot of hose covers {wire} where it chafed. The rest is plain wire.",
                "A few turns of old rope are wound around {wire}, near the eye.",
                "{Wire} is newer than its mate and has a short wrapping of twine.",
            ),
        ),
    ),
    "legs_not_extended": (
        Sights(
            plain=(
                "Each leg is one wire with an eye at both ends.",
                "Each leg runs in one piece from the ground cable to the wing end.",
            ),
            close=(
                "The {side} legs are new and longer than the old ones were. Each is one wire.",
                "One shackle joins the {side} top leg to the wing end.",
                "The {side} bottom leg was cut shorter and has a new eye spliced in.",
                "A short wire with two eyes is coiled on deck. Each leg is one wire.",
            ),
        ),
        Sights(
            plain=(
                "A fathom of wire is shackled in between the {side} top leg and the wing end.",
                "The {side} bottom leg is two wires, shackled end to end.",
            ),
            close=(
                "The {side} legs each have a foot of wire shackled in, so both are alike.",
                "A short wire and two shackles join the {side} top leg to the wing end.",
                "The {side} bottom leg was cut too short and has a piece of wire shackled in.",
                "Both {side} legs have a short piece of chain shackled in at the wing end.",
            ),
        ),
    ),
    "off_bottom": (
        Sights(
            plain=(
                "Under tow the footrope flies clear above the bottom.",
                "Only the droppers reach the bottom under tow.",
            ),
            close=(
                "The last links of the droppers are worn bright. The footrope is clean.",
                "The droppers trail along the bottom under tow, with the footrope above them.",
                "Mud sticks to the lower ends of the droppers. The footrope has none.",
            ),
        ),
        Sights(
            plain=(
                "Under tow the footrope drags along the bottom from wing to wing.",
                "Weights hang on the footrope, so that it rides on the bottom.",
            ),
            close=(
                "The last links of the droppers are clean. The footrope is worn underneath.",
                "The droppers trail behind under tow, with the footrope on the bottom.",
                "Mud and shell stick to the underside of the footrope along the bosom.",
            ),
        ),
    ),
    "no_sweep": (
        Sights(
            plain=(
                "Only the droppers hang below the footrope, with their lower ends free.",
                "Each dropper ends free. Nothing runs from one to the next.",
            ),
            close=(
                "A long chain is coiled on deck. The lower ends of the droppers are free.",
                "Paint on the bottom legs shows where a sweep once was. The droppers end free.",
                "The droppers on the wings are newer than the others. All of them end free.",
            ),
        ),
        Sights(
            plain=(
                "A chain runs below the footrope from leg to leg. Every dropper ends on it.",
                "The lower end of each dropper is shackled to one long chain.",
            ),
            close=(
                "A light chain joins the lower ends of the droppers along the bosom.",
                "A short chain joins the droppers of each wing. The other droppers end free.",
                "A chain is shackled to the bottom legs and hangs slack below the droppers.",
            ),
        ),
    ),
    "dropper_bare": (
        Sights(
            plain=(
                "Every dropper is plain chain from the footrope down.",
                "The droppers are plain, rusty chain.",
            ),
            close=(
                "One dropper is new and bright. Like the rusty ones, it is plain chain.",
                "A basket of rubber cookies is on deck. The droppers are plain chain.",
                "The links of one dropper are worn thin near its end. All is plain chain.",
                "One dropper was cut from another chain than the rest. All are plain chain.",
            ),
        ),
        Sights(
            plain=(
                "Rubber cookies are strung along one dropper from the footrope down.",
                "A lead weight is wired to the end of one dropper.",
            ),
            close=(
                "One rubber cookie is threaded on one dropper. The others are plain chain.",
                "A turn of old rope is wound around one dropper, up by the footrope.",
                "A hand's length of hose covers one dropper where it rubs.",
                "One dropper has a small lead ring in its last link. The rest is plain chain.",
            ),
        ),
    ),
    "sweep_bare": (
        Sights(
            plain=(
                "The sweep is plain chain from one bottom leg to the other.",
                "Every link of the sweep is in sight, plain and rusty.",
            ),
            close=(
                "The links of the sweep are worn flat along the bosom. It is plain chain.",
                "Each dropper is shackled straight to a link of the sweep, which is plain chain.",
                "A basket of rubber cookies is on deck. The sweep is plain chain.",
            ),
        ),
        Sights(
            plain=(
                "Rubber cookies are strung along the sweep from one end to the other.",
                "The sweep is wrapped in old netting from one end to the other.",
            ),
            close=(
                "A few rubber cookies are threaded on the sweep at the middle of the bosom.",
                "A fathom of the sweep is wrapped in old netting. The rest is plain chain.",
                "A turn of rope is wound around the sweep where one dropper meets it.",
            ),
        ),
    ),
    "sweep_joins_leg": (
        Sights(
            plain=(
                "Footrope and sweep end on one shackle of the bottom leg, on both sides.",
                "One shackle of the bottom leg takes footrope and sweep, on both sides.",
            ),
            close=(
                "Sweep and footrope share a shackle. The headrope ends on another, at the top leg.",
                "On each side the footrope and the last link of the sweep share a shackle.",
                "The shackle of the {side} bottom leg is new. It takes footrope and sweep.",
            ),
        ),
        Sights(
            plain=(
                "The sweep is shackled to the bottom leg a fathom ahead of the footrope.",
                "Footrope and sweep end far apart on the bottom leg, on both sides.",
            ),
            close=(
                "Sweep and footrope end on two shackles of the {side} bottom leg, a hand apart.",
                "On each side the last link of the sweep has a shackle of its own on the leg.",
                "The {side} bottom leg has two new shackles: footrope on one, sweep on the other.",
            ),
        ),
    ),
    "mesh_top_clear": (
        Sights(
            plain=(
                "Nothing is on the top half of the net.",
                "The top half of the net is netting alone.",
            ),
            close=(
                "Chafing gear is laced under the bottom half of the codend.",
                "One splitting strap of thin line lies slack around the codend.",
                "One bull rope of thin line lies slack along the top of the codend.",
            ),
        ),
        Sights(
            plain=(
                "Chafing gear covers the whole top half of the codend.",
                "Ropes are laced back and forth across the top half of the codend.",
            ),
            close=(
                "A small sheet of chafing gear is laced to the top half of the codend.",
                "One thin line is laced through the top of the codend and draws it tight.",
                "Two ropes lie along the top of the codend and pull its meshes shut.",
            ),
        ),
    ),
    "mesh_not_blocked": (
        Sights(
            plain=(
                "Every mesh of the codend is open, with straight bars from knot to knot.",
                "One layer of netting makes the codend. Its bars run straight.",
            ),
            close=(
                "Torn meshes are repaired in twine of another color, in one layer.",
                "The codend is of double twine. The two lie side by side from knot to knot.",
                "A new panel is sewn into the codend in place of a torn one.",
            ),
        ),
        Sights(
            plain=(
                "A second bag of netting lies inside the codend, over all its meshes.",
                "The bars twist around each other at every knot of the codend.",
            ),
            close=(
                "Torn meshes are covered with a patch of netting, in two layers.",
                "The codend is of double twine. The two twist around each other at some knots.",
                "A new panel is sewn into the codend over an old one.",
            ),
        ),
    ),
    "grate_stiff": (
        Sights(
            plain=(
                "The grate is of welded steel bars.",
                "The grate is of steel. Two hands cannot bend it.",
            ),
            close=(
                "The grate is of plastic tube. It gives a little and springs straight again.",
                "The grate has two stiff halves with a hinge, so that it goes on the net drum.",
                "The frame of the grate is steel. The bars in it are plastic tube.",
            ),
        ),
        Sights(
            plain=(
                "The grate is of rope on a soft hoop. It folds when it is lifted.",
                "The bars of the grate are ropes. They sag when it is lifted.",
            ),
            close=(
                "The grate is of thin hose. It sags when lifted and stays bent.",
                "The grate is a soft mat of cords, so that it goes on the net drum.",
                "The frame of the grate is steel. The bars in it are rope.",
            ),
        ),
    ),
    "grate_position": (
        Sights(
            plain=(
                "The grate sits ahead of the codend.",
                "The grate sits ahead of the codend, across the whole net.",
            ),
            close=(
                "The grate sits just ahead of the first meshes of the codend.",
                "A funnel of netting leads to the grate. The codend begins behind it.",
                "The grate sits two fathoms ahead of the codend.",
            ),
        ),
        Sights(
            plain=(
                "The grate is lashed on deck. None is in the net.",
                "The grate sits at the very end of the codend.",
            ),
            close=(
                "The grate sits just behind the first meshes of the codend.",
                "A funnel of netting leads into the codend. The grate sits in there.",
                "The grate sits two fathoms inside the codend.",
            ),
        ),
    ),
}
"""What is seen where a rule is met and where it is broken, by its key."""


def seen(making):
    """Return a rig that meets or breaks a yes-or-no rule, and what is seen on it."""
    rng, side = making.rng, making.side()
    wire = rng.choice([f"{side} top leg", f"{side} bottom leg", f"{side} ground cable"])
    text = rng.choice(SIGHTS[making.requirement.key][making.broken].of(making.level))
    told = text.format(side=side, wire=f"the {wire}", Wire=f"The {wire}")
    rig = making.rig
    if making.broken:
        rig = _BREAKS[making.requirement.key](rig, side, wire)
    return rig, (told,)


def _on_side(parts, side, **changes):
    return tuple(replace(each, **changes) if each.side == side else each for each in parts)


def _covered(rig, side, wire):
    if wire.endswith("cable"):
        return rig.with_(ground_cables=_on_side(rig.ground_cables, side, bare_wire=False))
    return rig.with_(legs=_on_side(rig.legs, side, bare_wire=False))


def _extended(rig, side, wire):
    return rig.with_(legs=_on_side(rig.legs, side, extended=True))


def _touching(rig, side, wire):
    return rig.with_(footrope=replace(rig.footrope, off_bottom=False))


def _with_sweep(rig, side, wire):
    port, starboard = abs(rig.footrope.port_end), rig.footrope.starboard_end
    chain = rig.droppers[0].diameter
    return rig.with_(sweep=Sweep(port + 42 * INCH, starboard + 42 * INCH, chain))


def _weighted(rig, side, wire):
    index = 0 if side == PORT else len(rig.droppers) - 1
    droppers = list(rig.droppers)
    droppers[index] = replace(droppers[index], bare=False)
    return rig.with_(droppers=tuple(droppers))


def _changed(part, **changes):
    return lambda rig, side, wire: rig.with_(**{part: replace(getattr(rig, part), **changes)})


_BREAKS = {
    "ground_gear_bare": _covered,
    "legs_not_extended": _extended,
    "off_bottom": _touching,
    "no_sweep": _with_sweep,
    "dropper_bare": _weighted,
    "sweep_bare": _changed("sweep", bare=False),
    "sweep_joins_leg": _changed("sweep", joins_with_footrope=False),
    "mesh_top_clear": _changed("codend", top_clear=False),
    "mesh_not_blocked": _changed("codend", mesh_clear=False),
    "grate_stiff": _changed("grate", stiff=False),
    "grate_position": _changed("grate", ahead_of_codend=False),
}
