"""Rigs to judge: one that just keeps every limit, and Hypothesis strategies."""

from dataclasses import replace

from hypothesis import strategies as st

from rigs.requirements import layout
from rigs.rules import rulebook
from rigs.words.gear import (
    SIDES,
    Codend,
    Dropper,
    Footrope,
    Grate,
    GroundCable,
    Headrope,
    Leg,
    Rig,
    Sweep,
)
from rigs.words.units import FATHOM, FOOT, INCH


def make_rig(book, **changes):
    """Return a rig that passes ``book``, at the very limit wherever there is one."""
    rope = changes.pop("footrope", Footrope(16 * FOOT, 16 * FOOT, 20 * FOOT))
    head = changes.pop("headrope", Headrope(rope.length - 20 * FOOT))
    chain = 5 / 16 * INCH if book.has("sweep_stock") else 3 / 8 * INCH
    hung = layout.droppers(rope, book, 42 * INCH, chain)
    parts = {
        "headrope": head,
        "footrope": rope,
        "droppers": hung,
        "floats": layout.floats(head, book, 8 * INCH),
        "legs": tuple(
            Leg(side, 10 * FATHOM, 10 * FATHOM, INCH / 2, 5 / 8 * INCH) for side in SIDES
        ),
        "ground_cables": tuple(GroundCable(side, 30 * FATHOM, 3 / 4 * INCH) for side in SIDES),
    }
    if book.has("sweep_stock"):
        parts["sweep"] = Sweep(
            abs(rope.port_end) + 3.5 * FOOT, rope.starboard_end + 3.5 * FOOT, 5 / 16 * INCH
        )
        parts["droppers"] = tuple(
            Dropper(d.position, d.length, d.diameter, sweep_position=d.position) for d in hung
        )
    if book.has("mesh_size"):
        parts["codend"] = Codend(2.5 * INCH, 100)
        parts["vessel_length"] = 61 * FOOT
    if book.has("grate_bar_gap"):
        parts["grate"] = Grate(0.05, INCH * 36, INCH * 36)
    return Rig(**(parts | changes))


half_feet = lambda low, high: st.integers(low * 2, high * 2).map(lambda n: n * FOOT / 2)  # noqa: E731

footropes = st.builds(
    Footrope,
    half_feet(2, 40),
    st.one_of(half_feet(0, 70), st.floats(0, 25)),
    st.one_of(half_feet(0, 70), st.floats(0, 25)),
)

gear_books = st.sampled_from([rulebook.load(name) for name in rulebook.gear_names()])


def with_limit(rule, limit):
    """Return the Requirement with another limit: what is printed beside the old one goes."""
    return replace(rule, limit=limit, metric=None)
