"""Chain masses against published figures, and what must hold for any chain."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.physics import chain
from rigs.physics.chain import STOCKS, Stock
from rigs.words.units import FOOT, INCH, POUND


def short_link(wire_mm, pitch_mm, width_mm):
    """Return short link chain by DIN 766, from memory."""
    sizes = (each / 1000 for each in (wire_mm, wire_mm, pitch_mm, width_mm))
    return Stock(f"DIN 766 {wire_mm} mm", *sizes, "short link", "DIN 766, from memory")


SHORT_LINK = {stock.name: stock for stock in (short_link(8, 24, 10), short_link(10, 28, 14))}

stocks = st.sampled_from([*STOCKS.values(), *SHORT_LINK.values()])


@pytest.mark.parametrize(
    ("name", "published"),
    # DIN 766, short link chain, mass per metre [from memory]; 10 mm is given as
    # 2.2 to 2.3 kg/m, of which this is the middle.
    [("DIN 766 8 mm", 1.4), ("DIN 766 10 mm", 2.25)],
)
def test_mass_agrees_with_din_766(name, published):
    assert chain.mass_per_metre(SHORT_LINK[name]) == pytest.approx(published, rel=0.05)


@pytest.mark.parametrize(
    ("name", "pounds_per_foot", "tolerance"),
    # Trade tables for Grade 30 proof coil [from memory]. The geometry uses the longest
    # link and narrowest width allowed, the lightest chain within the specification,
    # so the tables lie above it; for 5/16 in by a tenth.
    [("1/4 in", 0.63, 0.05), ("5/16 in", 0.93, 0.12), ("3/8 in", 1.41, 0.05)],
)
def test_mass_agrees_with_trade_tables(name, pounds_per_foot, tolerance):
    computed = chain.mass_per_metre(STOCKS[name]) * FOOT / POUND
    assert computed == pytest.approx(pounds_per_foot, rel=tolerance)
    assert computed < pounds_per_foot


def test_link_is_two_sides_and_a_ring():
    # By hand for 10 mm wire, 28 mm pitch, 14 mm inside width: 28 + 24 pi mm.
    assert chain.link_length(SHORT_LINK["DIN 766 10 mm"]) == pytest.approx(0.1033982, abs=1e-7)


def test_sea_water_leaves_0_869_of_the_weight():
    assert pytest.approx(0.869, abs=5e-4) == chain.KEPT_IN_SEA_WATER
    stock = STOCKS["3/8 in"]
    share = chain.weight_in_sea_water(stock, 1.0) / chain.weight_in_air(stock, 1.0)
    assert share == pytest.approx(0.869, abs=5e-4)


def test_two_light_against_one_heavy_says_which_ratio_is_which():
    ratios = {r.basis: r.value for r in chain.compare(chain.TWO_LIGHT, chain.ONE_HEAVY)}
    assert ratios == {
        chain.LINK_GEOMETRY: pytest.approx(1.2, abs=0.01),
        chain.NOMINAL_AREA: pytest.approx(1.39, abs=0.005),
        chain.RULE_OF_THUMB: 1.0,
    }


def test_the_saying_is_not_stretched_to_other_pairs():
    bases = [r.basis for r in chain.compare(chain.Choice(STOCKS["5/16 in"]), chain.ONE_HEAVY)]
    assert bases == [chain.LINK_GEOMETRY, chain.NOMINAL_AREA]


def test_stock_is_found_by_its_nominal_size():
    assert chain.stock_for(5 / 16 * INCH) is STOCKS["5/16 in"]
    assert chain.stock_for(0.0095) is STOCKS["3/8 in"]
    with pytest.raises(KeyError, match=r"0\.700 in"):
        chain.stock_for(0.7 * INCH)


def test_heavier_sizes_weigh_more():
    masses = [chain.mass_per_metre(stock) for stock in STOCKS.values()]
    assert masses == sorted(masses)
    assert len(set(masses)) == len(masses)


@given(stocks, st.floats(0.1, 3), st.integers(1, 4))
def test_mass_grows_with_length_and_count(stock, length, count):
    one = chain.mass(stock, length)
    assert chain.mass(stock, length, count) == pytest.approx(count * one)
    assert chain.mass(stock, 2 * length) == pytest.approx(2 * one)
    assert 0 < chain.weight_in_sea_water(stock, length) < chain.weight_in_air(stock, length)


@given(stocks, st.floats(0.2, 5))
def test_mass_goes_with_the_square_of_the_scale(stock, scale):
    scaled = replace(
        stock,
        wire=stock.wire * scale,
        pitch=stock.pitch * scale,
        inside_width=stock.inside_width * scale,
    )
    assert chain.mass_per_metre(scaled) == pytest.approx(scale**2 * chain.mass_per_metre(stock))


@given(stocks, st.floats(1.01, 2))
def test_longer_links_are_lighter_and_wider_ones_heavier(stock, factor):
    longer = replace(stock, pitch=stock.pitch * factor)
    wider = replace(stock, inside_width=stock.inside_width * factor)
    bare = chain.mass_per_metre(stock)
    assert chain.mass_per_metre(longer) < bare < chain.mass_per_metre(wider)


@pytest.mark.parametrize(
    ("bar_mm", "name"),
    [
        # Bars of Grade 30 proof coil: 7.0, 8.0, 10.0 and 13.0 mm (NACM Welded Steel Chain
        # Specifications, from memory).
        (7.0, "1/4 in"),
        (7.1, "5/16 in"),
        (8.0, "5/16 in"),
        (8.1, "3/8 in"),
        (10.0, "3/8 in"),
        (10.1, "1/2 in"),
        # Worn from 3/8 in down to the bar of 5/16 in, it is read as that.
        (7.9, "5/16 in"),
    ],
)
def test_a_bar_reads_as_the_smallest_size_that_has_one_as_thick(bar_mm, name):
    assert chain.trade_size(bar_mm / 1000) is STOCKS[name]


def test_a_bar_thicker_than_any_has_no_trade_size():
    assert chain.trade_size(0.0131) is None


@pytest.mark.parametrize("stock", STOCKS.values(), ids=lambda stock: stock.name)
def test_a_size_is_itself_by_its_name_and_by_its_bar(stock):
    for size in (stock.size, stock.wire):
        assert chain.trade_size(size) is chain.stock_for(size) is stock
    assert chain.thickest(stock.size) == stock.wire


@given(st.floats(0.001, 0.013), st.floats(0.001, 0.013))
def test_a_bar_is_no_thicker_than_a_size_just_when_it_reads_as_that_or_less(bar, size):
    """A limit halfway between two sizes is the one case in which the bar itself decides."""
    fits = chain.trade_size(bar).size <= size
    assert (bar <= chain.thickest(size)) == (fits or bar <= size)
