"""
The sums of a plan, worked by hand: feet, inches and pounds, with nothing of the plan's.

Spacing of 8 ft, floats of 8 in at most 4 ft apart: 50 CFR 648.80(a)(9)(ii)(A) and (D), from
memory. Links: NACM Welded Steel Chain Specifications, Grade 30 proof coil, from memory. Lift
of a float: Prado, 1990, from memory. Half-inch wire for the ropes, and none to half of the
legs hanging on the net, are assumptions of the site.
"""

import random
from dataclasses import dataclass
from math import ceil, floor, pi

import pytest

from rigs.plan import CARRIED, MOVED, NEW, STAYS, TOO_HEAVY, UNSURE, Choices, plan
from rigs.rules import rulebook
from rigs.words.gear import SIDES, Dropper, Float, Footrope, Headrope, Leg, Rig, Sweep
from rigs.words.units import FATHOM, FOOT, INCH, POUND

BOOK = rulebook.load("no-sweep", "1")
SEA = 1 - 1025 / 7850  # what steel keeps of its weight in sea water

# By size: bar in mm, longest inside length and narrowest inside width of a link in inches.
LINKS = {5 / 16: (8.0, 1.29, 0.44), 3 / 8: (10.0, 1.38, 0.55)}


def pounds_a_foot(size):
    bar_mm, long, wide = LINKS[size]
    bar = bar_mm / 25.4
    bar_in_a_link = 2 * (long - wide) + pi * (wide + bar)
    cubic_inches_an_inch = pi * bar**2 / 4 * bar_in_a_link / long
    pounds_a_cubic_inch = 7850 * 0.0254**3 / 0.45359237
    return 12 * cubic_inches_an_inch * pounds_a_cubic_inch


@dataclass
class Net:
    """A net in feet, inches and fathoms, and what its owner means to hang."""

    bosom: float
    port: float
    starboard: float
    head: float
    sweep: float  # ft in all, 0 for none
    at: list  # of the droppers, ft from the center, negative to port
    length: float  # in
    bare: bool
    floats: int
    float_size: float  # in
    leg: float  # fm
    size: float  # in, of the droppers' chain now
    chosen_size: float
    chosen_count: int
    chosen_length: float

    def rig(self):
        rope = Footrope(self.bosom * FOOT, self.port * FOOT, self.starboard * FOOT)
        half = self.sweep / 2 * FOOT
        apart = self.head / (self.floats - 1)
        return Rig(
            Headrope(self.head * FOOT),
            rope,
            tuple(
                Dropper(at * FOOT, self.length * INCH, self.size * INCH, 1, self.bare)
                for at in self.at
            ),
            tuple(
                Float((i * apart - self.head / 2) * FOOT, self.float_size * INCH)
                for i in range(self.floats)
            ),
            tuple(
                Leg(side, self.leg * FATHOM, self.leg * FATHOM, INCH / 2, INCH / 2)
                for side in SIDES
            ),
            sweep=Sweep(half, half, 3 / 8 * INCH) if self.sweep else None,
        )

    def plan(self):
        choices = Choices(
            self.chosen_size * INCH, self.chosen_count, self.chosen_length * INCH, 8 * INCH
        )
        return plan(self.rig(), BOOK, choices)


def wanted(net):
    """Return where droppers must hang, ft from the center."""
    corner = net.bosom / 2
    port = [-corner - 8 * step for step in range(1, floor(net.port / 8) + 1)]
    starboard = [corner + 8 * step for step in range(1, floor(net.starboard / 8) + 1)]
    return sorted([0, -corner, corner, *port, *starboard])


def make_net(seed):
    rng = random.Random(seed)
    bosom = rng.randrange(8, 40) / 2
    port, starboard = (rng.choice([rng.randrange(0, 60) / 2, 16, 24]) for _ in range(2))
    size = rng.choice([5 / 16, 3 / 8])
    net = Net(
        bosom=bosom,
        port=port,
        starboard=starboard,
        head=max(6, bosom + port + starboard - rng.randrange(1, 20)),
        sweep=rng.choice([0, bosom + port + starboard + 7]),
        at=[],
        length=rng.choice([12, 42, 42, 45, 48]),
        bare=rng.random() < 0.8,
        floats=rng.randrange(2, 14),
        float_size=rng.choice([6, 8, 8, 10]),
        leg=rng.randrange(4, 16),
        size=size,
        chosen_size=rng.choice([size, size, 5 / 16, 3 / 8]),
        chosen_count=rng.choice([1, 1, 1, 2]),
        chosen_length=rng.choice([42, 45]),
    )
    right = wanted(net)
    wrong = [place + 1.5 for place in right]
    net.at = sorted(rng.sample(right, len(right) // 2) + rng.sample(wrong, len(right) // 3))
    return net


NETS = {seed: make_net(seed) for seed in range(10)}


@pytest.fixture(params=NETS, ids="net {}".format)
def net(request):
    return NETS[request.param]


def good(net):
    """Return whether the droppers it has do for the plan: they are all alike."""
    return (
        net.bare
        and net.chosen_count == 1
        and net.size == net.chosen_size
        and net.length >= net.chosen_length
    )


def counts(net):
    """Return how many droppers stay, are moved and are new."""
    places = wanted(net)
    stay = sum(at in places for at in net.at) if good(net) else 0
    moved = min(len(net.at) - stay, len(places) - stay) if good(net) else 0
    return stay, moved, len(places) - stay - moved


def test_where_droppers_go_and_where_they_come_from(net):
    made = net.plan()
    assert [place.position / FOOT for place in made.placements] == pytest.approx(wanted(net))
    sources = [place.source for place in made.placements]
    assert tuple(sources.count(source) for source in (STAYS, MOVED, NEW)) == counts(net)


def test_what_to_buy(net):
    bought = {item.key: item for item in net.plan().shopping}
    *_, new = counts(net)
    assert ("chain" in bought) == (new > 0)
    if new:
        pieces = new * net.chosen_count
        _, link, _ = LINKS[net.chosen_size]
        feet = ceil(pieces * (net.chosen_length + 2 * link) / 12)
        assert bought["chain"].count == pieces
        assert bought["chain"].metres / FOOT == pytest.approx(feet)
        pounds = feet * pounds_a_foot(net.chosen_size)
        assert bought["chain"].mass / POUND == pytest.approx(pounds)
        assert bought["shackles"].count == new
    needed = ceil(net.head / 4) + 1
    have = net.floats if net.float_size >= 8 else 0
    assert bought["floats"].count == needed - have if have < needed else "floats" not in bought


@pytest.mark.parametrize("shorter", [1, 0.95, 0.89, 0.8, 0.71])
def test_what_is_bought_hangs_every_dropper_at_its_length(net, shorter):
    for item in net.plan().shopping:
        if item.key != "chain":
            continue
        _, link, _ = LINKS[net.chosen_size]
        link *= shorter  # the specification gives the longest: a maker's can be shorter
        left = floor(item.metres / INCH / link + 1e-9)
        for _ in range(item.count):
            left -= ceil(net.chosen_length / link)  # the next whole link past the mark
            assert left >= 0
            left -= 1  # the link that is cut through


def test_weight_off_and_on(net):
    weights = net.plan().weights
    stay, moved, new = counts(net)
    assert weights.off_sweep / POUND == pytest.approx(net.sweep * pounds_a_foot(3 / 8))
    inches_off = (len(net.at) - stay - moved) * net.length
    _, link, _ = LINKS[net.chosen_size]
    if net.length - net.chosen_length >= link:
        inches_off += (stay + moved) * (net.length - net.chosen_length)
    assert weights.off_droppers / POUND == pytest.approx(inches_off / 12 * pounds_a_foot(net.size))
    inches_on = new * net.chosen_count * net.chosen_length
    on = inches_on / 12 * pounds_a_foot(net.chosen_size)
    assert weights.on_droppers / POUND == pytest.approx(on)
    assert weights.in_water(weights.on_droppers) / POUND == pytest.approx(on * SEA)


def test_whether_the_floats_carry_what_hangs(net):
    made = net.plan()
    needed = ceil(net.head / 4) + 1
    have = net.floats if net.float_size >= 8 else 0
    apart = net.head / (net.floats - 1)
    if have and apart <= 4:
        needed = have  # they break no rule and stay as they are
    new = max(0, needed - have)
    eights = have * (net.float_size / 8) ** 3 + new
    least, most = (eights * kilograms / 0.45359237 for kilograms in (2.9, 3.1))
    assert made.carry.lift.least / POUND == pytest.approx(least)
    assert made.carry.lift.most / POUND == pytest.approx(most)

    # Wire weighs 1.68 lb a foot for a square inch: wire rope makers' tables, from memory.
    wire = 1.68 * 0.5**2 * SEA
    ropes = (net.bosom + net.port + net.starboard + net.head) * wire
    stay, moved, fresh = counts(net)
    used = net.length if net.length - net.chosen_length < LINKS[net.size][1] else net.chosen_length
    chain = (
        (stay + moved) * used * pounds_a_foot(net.size)
        + fresh * net.chosen_count * net.chosen_length * pounds_a_foot(net.chosen_size)
    ) / 12
    light = ropes + chain * SEA
    heavy = light + 4 * net.leg * 6 / 2 * wire
    assert made.carry.weight.least / POUND == pytest.approx(light)
    assert made.carry.weight.most / POUND == pytest.approx(heavy)

    answer = CARRIED if least >= heavy else TOO_HEAVY if most < light else UNSURE
    assert made.carry.answer == answer
    pound_a_float = [kilograms / 0.45359237 for kilograms in (2.9, 3.1)]
    at_least = max(0, ceil((light - most) / pound_a_float[1] - 1e-9))
    at_most = max(0, ceil((heavy - least) / pound_a_float[0] - 1e-9))
    assert (made.carry.least_to_add, made.carry.most_to_add) == (at_least, at_most)
    if answer == CARRIED:
        assert "The floats carry what hangs." in made.carry.text
    else:
        assert f"{at_most} float" in made.carry.text
        assert "8 in across" in made.carry.text


def test_the_nets_differ_enough_to_mean_something():
    came = {counts(net) for net in NETS.values()}
    assert any(stay for stay, _, _ in came)
    assert any(moved for _, moved, _ in came)
    assert any(new for _, _, new in came)
    answers = {net.plan().carry.answer for net in NETS.values()}
    assert {CARRIED, UNSURE} <= answers or {TOO_HEAVY, UNSURE} <= answers
