"""A rule set written out reads as the very same rule set."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.requirements.by_mesh import MeshClass
from rigs.rules import rulebook
from rigs.rules.text import dump, entries, part_at, write
from rigs.words import units
from rigs.words.units import exactly
from tests.rigs.rig_factory import with_limit

ALL = [rulebook.load(name) for name in rulebook.names()]
BOUNDS = {"in": 0.3, "ft": 30, "fm": 200, "mm": 1}  # metres, far beyond any limit on file


def again(book):
    return rulebook.parse(write(book), "written")


@pytest.mark.parametrize("book", ALL, ids=lambda book: book.name)
def test_every_rule_set_on_file_comes_back_the_same(book):
    assert again(book) == book
    assert write(again(book)) == write(book)


@pytest.mark.parametrize("book", ALL, ids=lambda book: book.name)
def test_what_was_shared_is_written_out(book):
    text = write(book)
    assert "include:" not in text
    assert text.count("- key: ") == len(book.requirements)


def _bow(steps, scale):
    """Return corners along a bow, at uneven ``steps`` west and their squares north."""
    return tuple(
        (f"B {place}", 1 + scale * step**2, -1 - step) for place, step in enumerate(sorted(steps))
    )


def _table(meshes, weights, where):
    """Return rows of a limit by mesh, every other one with the regulation's kilograms."""
    return tuple(
        MeshClass(under, most, most + 0.5 if place % 2 else None, where)
        for place, (under, most) in enumerate(zip([*meshes, None], weights, strict=False))
    )


def limits(requirement):
    """Return a strategy for limits of the sort that ``requirement`` has."""
    match requirement.measure.dimension:
        case "length":
            most = BOUNDS[requirement.unit]
            sixteenths = st.integers(1, 500).map(
                lambda n: units.parse_length(f"{n}/16 in", bare=None)
            )
            return st.one_of(sixteenths, st.floats(1e-4, most))
        case "mass":
            return st.floats(1, 1e5)
        case "count":
            return st.integers(1, 10_000)
        case "share":
            # As a typed figure makes it: some shares are no figure's hundredth.
            return st.floats(0.01, 99).map(lambda percent: percent / 100)
        case "names":
            return st.lists(
                st.sampled_from(["herring", "scup: all", "yes", "#1", "7"]), min_size=1
            ).map(tuple)
        case "days":
            season = requirement.limit[0]
            return st.sampled_from(
                [
                    (season,),
                    (season, replace(season, first=(1, 1), last=(2, 29))),
                    (replace(season, first=(11, 1), last=(2, 29)),),
                ]
            )
        case "area":
            # The corners of a convex bow, so that no sides cross: latitudes are squares
            # of the steps along it.
            steps = st.lists(st.floats(0.01, 8), min_size=3, max_size=6, unique=True)
            scale = st.floats(0.1, 1)
            return st.tuples(steps, scale).map(
                lambda drawn: (replace(requirement.limit[0], corners=_bow(*drawn)),)
            )
        case "mass by mesh":
            meshes = st.lists(st.floats(0.01, 0.3), max_size=4, unique=True).map(sorted)
            weights = st.lists(st.floats(1, 1e5), min_size=5, max_size=5)
            return st.tuples(meshes, weights, st.sampled_from(["", "in the north"])).map(
                lambda drawn: _table(*drawn)
            )
        case "day count":
            return st.integers(1, 1000)
        case "flag":
            return st.just(True)


@given(st.data())
def test_any_limit_comes_back_to_the_last_digit(data):
    book = data.draw(st.sampled_from(ALL))
    place = data.draw(st.integers(0, len(book.requirements) - 1))
    rules = list(book.requirements)
    rules[place] = with_limit(rules[place], data.draw(limits(rules[place])))
    changed = replace(book, requirements=tuple(rules))
    assert again(changed) == changed


WORDS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1).map(
    lambda text: " ".join(text.split())
)


@given(WORDS.filter(bool))
def test_any_words_come_back(words):
    book = replace(ALL[0], title=words, citation=words)
    assert again(book) == book


@given(st.floats(1e-6, 1e4), st.sampled_from(["in", "ft", "fm", "mm", "m", "yd"]))
def test_lengths_are_printed_exactly(metres, unit):
    assert units.parse_length(exactly(metres, unit), bare=None) == metres


def test_exact_lengths_are_as_short_as_can_be():
    assert exactly(8.5 * units.FOOT, "ft") == "8.5 ft"
    assert exactly(50 * 0.001, "mm") == "50 mm"
    with pytest.raises(ValueError, match="cannot be written"):
        exactly(-1.0, "ft")


def test_a_line_leads_to_its_part():
    text = write(rulebook.load("whiting", "1"))
    lines = text.splitlines()
    book = rulebook.load("whiting", "1")
    place = [rule.key for rule in book.requirements].index("area")
    corner = next(n for n, line in enumerate(lines, 1) if "RF3," in line)
    assert part_at(text, corner) == ("requirements", place, "limit", 0, "corners", 2)
    assert part_at(text, 1) == ("name",)
    start = next(n for n, line in enumerate(lines, 1) if line == "- key: area")
    assert part_at(text, start) == ("requirements", place, "key")


@pytest.mark.parametrize(
    ("key", "entry", "told", "part"),
    [
        ("dropper_spacing", ("limit", "8 lb"), "wrong unit", "limit"),
        ("dropper_spacing", ("limit", "0 ft"), "more than nothing", "limit"),
        ("legs_equal", ("to", "1999-01-01"), "comes before", "to"),
        ("dropper_spacing", ("remedy", "Hang {one}."), "braces", "remedy"),
        ("dropper_spacing", ("remedy", "Hang { one."), "braces", "remedy"),
        ("dropper_spacing", ("remedy", "Hang {allowed.real}."), "braces", "remedy"),
        ("dropper_spacing", ("known", "hearsay"), "way of knowing", "known"),
        ("no_sweep", ("from", "soon"), "not a date", "from"),
    ],
)
def test_a_refusal_tells_its_line_and_reason(key, entry, told, part):
    made = entries(rulebook.load("no-sweep", "1"))
    rule = next(each for each in made["requirements"] if each["key"] == key)
    rule |= {"from": "2020-01-01"} if entry[0] == "to" else {}
    rule[entry[0]] = entry[1]
    text = dump(made)
    with pytest.raises(rulebook.RulebookError, match=told) as refusal:
        rulebook.parse(text, "typed")
    error = refusal.value
    assert str(error) == f"typed, line {error.line}: {error.reason}"
    assert part_at(text, error.line)[2] == part
