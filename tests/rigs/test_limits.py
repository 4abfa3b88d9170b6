"""
Every limit of the gear rules, at its edge and just past it.

The figures are those of 50 CFR 648.80, typed here on purpose so that a slip in a
rule set shows. Those of (a)(9)(ii) are from memory, those of (a)(15) and (a)(16)
were read in an older snapshot; both can have changed since. Beside each stands the
metric figure that the regulation prints with it.
"""

from dataclasses import replace

import pytest

from rigs.requirements.layout import floats
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.gear import Dropper, Footrope, Headrope
from rigs.words.units import FATHOM, FOOT, INCH
from tests.rigs.rig_factory import make_rig

HAIR = 0.0001  # a tenth of a millimetre, finer than any tape

A, B, C, D = (f"50 CFR 648.80(a)(9)(ii)({letter})" for letter in "ABCD")
GRATE_B = "50 CFR 648.80(a)(16)(ii)(B)"
MESH = "50 CFR 648.80(a)(16)(i)(A) and (B), which takes over (a)(15)(i)(B) and (D)"
GRATE_C = "50 CFR 648.80(a)(16)(ii)(C)"


def every(part, **make):
    """Return a change that sets fields of every member of ``part`` to a value."""

    def change(rig, value, book):
        fields = {name: as_(value) for name, as_ in make.items()}
        members = tuple(replace(each, **fields) for each in getattr(rig, part))
        return rig.with_(**{part: members})

    return change


def same(value):
    return value


def one(part, field):
    """Return a change that sets ``field`` of the only ``part``."""

    def change(rig, value, book):
        return rig.with_(**{part: replace(getattr(rig, part), **{field: value})})

    return change


def headrope_shorter_by(rig, value, book):
    head = Headrope(rig.footrope.length - value)
    return rig.with_(headrope=head, floats=floats(head, book, 8 * INCH))


def float_gap(rig, value, book):
    """Hang floats in two gaps of ``value`` on a headrope just long enough for them."""
    balls = tuple(replace(rig.floats[0], position=at) for at in (-value, 0.0, value))
    return rig.with_(headrope=Headrope(2 * value), floats=balls)


def cable_to(rig, value, book):
    cables = tuple(replace(c, length=value - 10 * FATHOM) for c in rig.ground_cables)
    return rig.with_(ground_cables=cables)


def first_wing_gap(rig, value, book):
    """Hang the first starboard wing dropper ``value`` from the corner, and one at the end."""
    rope = Footrope(16 * FOOT, 16 * FOOT, 12 * FOOT)
    corner = rope.starboard_corner
    kept = tuple(d for d in rig.droppers if d.position < corner + HAIR)
    model = rig.droppers[-1]
    more = tuple(
        replace(model, position=corner + out, sweep_position=None) for out in (value, 12 * FOOT)
    )
    return rig.with_(footrope=rope, droppers=kept + more)


def off_place(place):
    def change(rig, value, book):
        moved = []
        for each in rig.droppers:
            at_place = abs(each.position - place(rig)) < HAIR
            moved.append(replace(each, position=each.position + value) if at_place else each)
        return rig.with_(droppers=tuple(moved))

    return change


def sweep_half(side):
    def change(rig, value, book):
        return rig.with_(sweep=replace(rig.sweep, **{side: abs(rig.footrope.end(side)) + value}))

    return change


def sweep_total(rig, value, book):
    rope = Footrope(16 * FOOT, 16 * FOOT, 16 * FOOT)
    half = (rope.length + value) / 2
    return make_rig(book, footrope=rope).with_(sweep=replace(rig.sweep, port=half, starboard=half))


def lean(rig, value, book):
    moved = tuple(
        replace(d, sweep_position=d.position + value) if abs(d.position) < HAIR else d
        for d in rig.droppers
    )
    return rig.with_(droppers=moved)


def outlet_wider_by(rig, value, book):
    return rig.with_(grate=replace(rig.grate, outlet_width=rig.grate.width + value))


def mesh_count(vessel):
    def change(rig, value, book):
        return rig.with_(vessel_length=vessel, codend=replace(rig.codend, counted=value))

    return change


# The published bars of chain sold as 5/16 in and 3/8 in (NACM Welded Steel Chain
# Specifications, from memory), which are thicker than the regulation's metric figures
# of 0.8 cm and 0.95 cm.
CHAIN_5_16, CHAIN_3_8 = 0.008, 0.010

# rule set, key, clause, figure, the figure printed beside it or the chain's bar, which
# way is over the edge, how to set it
LIMITS = [
    ("no-sweep", "float_diameter", A, 8 * INCH, 0.203, -1, every("floats", diameter=same)),
    ("no-sweep", "float_spacing", A, 4 * FOOT, 1.22, 1, float_gap),
    ("no-sweep", "top_leg_wire", B, INCH / 2, 0.012, 1, every("legs", top_diameter=same)),
    ("no-sweep", "bottom_leg_wire", B, 5 / 8 * INCH, 0.016, 1, every("legs", bottom_diameter=same)),
    (
        "no-sweep",
        "ground_cable_wire",
        B,
        3 / 4 * INCH,
        0.019,
        1,
        every("ground_cables", diameter=same),
    ),
    (
        "no-sweep",
        "legs_equal",
        B,
        0.0,
        None,
        1,
        every("legs", bottom_length=lambda v: 10 * FATHOM - v),
    ),
    ("no-sweep", "door_to_wing_end", B, 40 * FATHOM, 73.0, 1, cable_to),
    ("no-sweep", "footrope_excess", C, 20 * FOOT, 6.1, 1, headrope_shorter_by),
    ("no-sweep", "dropper_stock", D, 3 / 8 * INCH, CHAIN_3_8, 1, every("droppers", diameter=same)),
    ("no-sweep", "dropper_spacing", D, 8 * FOOT, 2.4, 1, first_wing_gap),
    ("no-sweep", "dropper_at_centre", D, 0.0, None, 1, off_place(lambda rig: 0.0)),
    (
        "no-sweep",
        "dropper_at_corners",
        D,
        0.0,
        None,
        1,
        off_place(lambda rig: rig.footrope.starboard_corner),
    ),
    ("chain-sweep", "sweep_stock", D, 5 / 16 * INCH, CHAIN_5_16, 1, one("sweep", "diameter")),
    (
        "chain-sweep",
        "dropper_stock",
        D,
        5 / 16 * INCH,
        CHAIN_5_16,
        1,
        every("droppers", diameter=same),
    ),
    ("chain-sweep", "dropper_length", D, 42 * INCH, 1.067, -1, every("droppers", length=same)),
    ("chain-sweep", "dropper_spacing", D, 8 * FOOT, 2.4, 1, first_wing_gap),
    ("chain-sweep", "sweep_excess", D, 7 * FOOT, 2.1, -1, sweep_total),
    ("chain-sweep", "sweep_excess_each_side", D, 3.5 * FOOT, 1.1, -1, sweep_half("port")),
    ("chain-sweep", "sweep_excess_each_side", D, 3.5 * FOOT, 1.1, -1, sweep_half("starboard")),
    ("chain-sweep", "sweep_wing_excess", D, 3.5 * FOOT, None, -1, sweep_half("starboard")),
    ("chain-sweep", "sweep_attachment", D, 0.0, None, 1, lean),
    (
        "grate",
        "dropper_stock",
        GRATE_B,
        3 / 8 * INCH,
        CHAIN_3_8,
        1,
        every("droppers", diameter=same),
    ),
    ("grate", "dropper_length", GRATE_B, 42 * INCH, 1.067, -1, every("droppers", length=same)),
    ("grate", "dropper_spacing", GRATE_B, 8 * FOOT, 2.4, 1, first_wing_gap),
    (
        "grate",
        "grate_bar_gap",
        GRATE_C,
        0.05,
        1.97 * INCH,
        1,
        one("grate", "bar_gap"),
    ),
    ("grate", "grate_outlet", GRATE_C, 0.0, None, -1, outlet_wider_by),
    (
        "grate",
        "mesh_size",
        MESH,
        2.5 * INCH,
        0.0635,
        -1,
        one("codend", "mesh"),
    ),
]


@pytest.mark.parametrize(("name", "key", "clause", "figure", "beside", "way", "change"), LIMITS)
def test_limit_at_its_edge_and_past_it(name, key, clause, figure, beside, way, change):
    book = rulebook.load(name)
    rig = make_rig(book)
    assert judge(rig, book).failed == ()
    edge = max(figure * way, beside * way) * way if beside else figure

    for reading in {figure, edge}:
        at = judge(change(rig, reading, book), book).finding(key)
        assert (at.outcome, at.clause) == ("pass", clause)
        assert at.margin == pytest.approx(0, abs=1e-9)

    under = judge(change(rig, figure - way * HAIR, book), book).finding(key)
    if figure:
        assert under.outcome == "pass"
        # Elsewhere on the rig a like part may still lie at the edge.
        assert -1e-9 < under.margin <= HAIR + 1e-9

    over = judge(change(rig, edge + way * HAIR, book), book).finding(key)
    assert (over.outcome, over.clause) == ("fail", clause)
    assert over.margin == pytest.approx(-HAIR - abs(edge - figure), abs=1e-9)
    assert over.remedy
    assert over.measured_text != over.requirement.limit_text
    # What no tape shows is not told as nothing.
    shown = "0.1 mm" if over.requirement.unit == "mm" else "a little"
    assert over.margin_text.startswith(shown) or edge != figure
    if over.margin_text.startswith("a little"):
        assert ("just " if over.requirement.limit else shown) in over.sentence


def test_footrope_must_be_longer_than_the_headrope():
    """50 CFR 648.80(a)(9)(ii)(C), from memory."""
    book = rulebook.load("no-sweep", "1")
    for shorter, outcome in ((HAIR, "pass"), (0.0, "fail"), (-HAIR, "fail")):
        rig = headrope_shorter_by(make_rig(book), shorter, book)
        finding = judge(rig, book).finding("footrope_longer")
        assert (finding.outcome, finding.clause) == (outcome, C)


@pytest.mark.parametrize(
    ("name", "key", "clause", "change"),
    [
        ("no-sweep", "ground_gear_bare", B, every("legs", bare_wire=same)),
        ("no-sweep", "ground_gear_bare", B, every("ground_cables", bare_wire=same)),
        ("no-sweep", "legs_not_extended", B, every("legs", extended=lambda v: not v)),
        ("no-sweep", "off_bottom", C, one("footrope", "off_bottom")),
        ("no-sweep", "dropper_bare", D, every("droppers", bare=same)),
        ("chain-sweep", "dropper_bare", D, every("droppers", bare=same)),
        ("chain-sweep", "sweep_bare", D, one("sweep", "bare")),
        ("chain-sweep", "sweep_joins_leg", D, one("sweep", "joins_with_footrope")),
        ("grate", "dropper_bare", GRATE_B, every("droppers", bare=same)),
        ("grate", "mesh_top_clear", "50 CFR 648.80(g)(1)", one("codend", "top_clear")),
        ("grate", "mesh_not_blocked", "50 CFR 648.80(g)(2)", one("codend", "mesh_clear")),
        ("grate", "grate_stiff", GRATE_C, one("grate", "stiff")),
        ("grate", "grate_position", GRATE_C, one("grate", "ahead_of_codend")),
    ],
)
def test_what_must_be_so(name, key, clause, change):
    book = rulebook.load(name)
    rig = make_rig(book)
    kept = judge(change(rig, True, book), book).finding(key)
    assert (kept.outcome, kept.clause) == ("pass", clause)
    broken = judge(change(rig, False, book), book).finding(key)
    assert (broken.outcome, broken.clause) == ("fail", clause)
    assert broken.remedy


@pytest.mark.parametrize(("name", "clause"), [("no-sweep", D), ("grate", GRATE_B)])
def test_no_sweep_of_any_kind(name, clause):
    book = rulebook.load(name)
    rig = make_rig(book)
    assert judge(rig, book).finding("no_sweep").outcome == "pass"
    swept = rig.with_(sweep=make_rig(rulebook.load("chain-sweep", "1")).sweep)
    finding = judge(swept, book).finding("no_sweep")
    assert (finding.outcome, finding.clause) == ("fail", clause)


@pytest.mark.parametrize(
    ("vessel", "hanging", "counted", "outcome", "key"),
    [
        # Over 60 ft (18.3 m): the first 100 meshes, or 200 bars hung square.
        (18.3 + HAIR, "diamond", 100, "pass", "mesh_count_long"),
        (18.3 + HAIR, "diamond", 99, "fail", "mesh_count_long"),
        (18.3 + HAIR, "square", 200, "pass", "mesh_count_long"),
        (18.3 + HAIR, "square", 199, "fail", "mesh_count_long"),
        # 60 ft (18.3 m) or less: the first 50 meshes, or 100 bars.
        (18.3, "diamond", 50, "pass", "mesh_count_short"),
        (60 * FOOT, "diamond", 50, "pass", "mesh_count_short"),
        (60 * FOOT, "diamond", 49, "fail", "mesh_count_short"),
        (60 * FOOT, "square", 100, "pass", "mesh_count_short"),
        (60 * FOOT, "square", 99, "fail", "mesh_count_short"),
    ],
)
def test_how_far_the_mesh_runs(vessel, hanging, counted, outcome, key):
    """50 CFR 648.80(a)(15), read in an older snapshot."""
    book = rulebook.load("grate", "1")
    rig = make_rig(book)
    rig = rig.with_(
        vessel_length=vessel, codend=replace(rig.codend, hanging=hanging, counted=counted)
    )
    verdict = judge(rig, book)
    assert verdict.finding(key).outcome == outcome
    other = {"mesh_count_long", "mesh_count_short"} - {key}
    with pytest.raises(KeyError):
        verdict.finding(other.pop())


@pytest.mark.parametrize(
    ("name", "key", "text"),
    [
        # As the regulation prints them beside the customary ones.
        ("no-sweep", "float_diameter", "20.3 cm"),
        ("no-sweep", "float_spacing", "122 cm"),
        ("no-sweep", "top_leg_wire", "1.2 cm"),
        ("no-sweep", "bottom_leg_wire", "1.6 cm"),
        ("no-sweep", "ground_cable_wire", "1.9 cm"),
        ("no-sweep", "door_to_wing_end", "73 m"),
        ("no-sweep", "footrope_excess", "6.1 m"),
        ("no-sweep", "dropper_stock", "0.95 cm"),
        ("no-sweep", "dropper_spacing", "2.4 m"),
        ("chain-sweep", "sweep_stock", "0.8 cm"),
        ("chain-sweep", "dropper_stock", "0.8 cm"),
        ("chain-sweep", "sweep_excess", "2.1 m"),
        ("chain-sweep", "sweep_excess_each_side", "1.1 m"),
        ("chain-sweep", "dropper_length", "106.7 cm"),
        ("grate", "mesh_size", "6.35 cm"),
        ("grate", "grate_bar_gap", "1.97 in"),
    ],
)
def test_the_figure_printed_beside_a_limit_is_told_as_it_is_printed(name, key, text):
    assert rulebook.load(name).requirement(key).limit_metric_text == text


def test_practice_is_told_but_does_not_make_a_rig_illegal():
    """Droppers of 42 in on a net without a sweep: common practice, no source."""
    book = rulebook.load("no-sweep", "1")
    rig = make_rig(book)
    short = every("droppers", length=same)(rig, 42 * INCH - HAIR, book)
    verdict = judge(short, book)
    assert verdict.finding("dropper_length").outcome == "fail"
    assert verdict.finding("dropper_length").basis == "practice"
    assert verdict.legal is True


def test_what_nobody_measured_is_said_and_never_called_legal():
    book = rulebook.load("no-sweep", "1")
    rig = make_rig(book)
    blind = rig.with_(
        headrope=Headrope(None),
        droppers=None,
        floats=None,
        legs=(),
        ground_cables=(),
        footrope=replace(rig.footrope, off_bottom=None),
    )
    verdict = judge(blind, book)
    assert verdict.legal is None
    assert {f.outcome for f in verdict.findings} == {"not measured", "pass"}
    assert {f.key for f in verdict.passed} == {"no_sweep"}
    one_seen = blind.with_(droppers=(Dropper(0.0, None, 1.0),))
    assert judge(one_seen, book).legal is False


def test_measuring_allowance_is_a_setting_of_the_rule_set():
    source = (rulebook.FOLDER / "no-sweep.yaml").read_text("utf-8")
    strict = rulebook.load("no-sweep", "1")
    assert set(strict.allowance.values()) == {0.0}
    assert "No measuring allowance is published" in strict.allowance_note
    lenient = rulebook.parse(source.replace("  length: 0 in", "  length: 1 in"), "lenient.yaml")
    rig = make_rig(strict)
    for value, outcome in ((INCH, "pass"), (INCH + HAIR, "fail")):
        moved = off_place(lambda rig: 0.0)(rig, value, strict)
        assert judge(moved, lenient).finding("dropper_at_centre").outcome == outcome
        assert judge(moved, strict).finding("dropper_at_centre").outcome == "fail"
