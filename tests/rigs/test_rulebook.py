from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.rules import rulebook, shelf
from rigs.rules.judge import judge
from rigs.rules.rulebook import Season
from tests.rigs.rig_factory import make_rig, with_limit

SMALL = """\
name: small
version: "1"
title: A small rule set
summary: For tests.
citation: 50 CFR 648.80
effective:
  from: 2020-01-01
  to: 2020-12-31
requirements:
  - key: float_spacing
    title: Space between floats
    test: at most
    limit: 4 ft
    clause: 50 CFR 648.80(a)(9)(ii)(A)
    known: memory
    why: Even lift.
    remedy: Add floats.
"""


def test_reads_a_small_rule_set():
    book = rulebook.parse(SMALL, "small.yaml")
    requirement = book.requirement("float_spacing")
    assert requirement.limit == pytest.approx(1.2192)
    assert (requirement.limit_text, requirement.limit_metric_text) == ("4 ft", "121.9 cm")
    assert requirement.allowed_text == "at most 4 ft"


def test_the_metric_figure_beside_a_limit_keeps_it_too():
    book = rulebook.parse(SMALL.replace("limit: 4 ft", "limit: 4 ft\n    metric: 122 cm"), "small")
    requirement = book.requirement("float_spacing")
    assert requirement.limit == pytest.approx(1.2192)
    assert requirement.edge == pytest.approx(1.22)
    assert requirement.limit_metric_text == "122 cm"
    other = with_limit(requirement, 3.0)
    assert (other.edge, other.limit_metric_text) == (pytest.approx(3.0), "3 m")


@pytest.mark.parametrize(
    ("old", "new", "line", "told"),
    [
        ("citation: 50 CFR 648.80\n", "", 1, "“citation” is missing"),
        ("citation: 50 CFR 648.80\n", "citation:\n", 1, "“citation” is missing"),
        ("    clause: 50 CFR 648.80(a)(9)(ii)(A)\n", "", 10, "“clause” is missing"),
        ("    known: memory", "    basis: practice\n    known: trade", 14, "custom has no clause"),
        ("limit: 4 ft", "limit: 4 ft\n    metric: 1 m", 14, "not the limit in other units"),
        ("limit: 4 ft", "limit: 4 ft\n    metric: 122 kg", 14, "wrong unit"),
        ("    why:", "    wherefore:", 16, "unknown key “wherefore”"),
        ("limit: 4 ft", "limit: 4 lb", 13, "wrong unit"),
        ("limit: 4 ft", "limit: 4", 13, "wrong unit"),
        ("limit: 4 ft", "limit: four ft", 13, "wrong unit"),
        ("limit: 4 ft", "limit: 0 ft", 13, "“at most 0 ft” sets no limit"),
        ("remedy: Add floats.", "remedy: Add {all}.", 17, "braces"),
        ("test: at most", "test: about", 12, "not a test"),
        ("key: float_spacing", "key: hull_color", 10, "measures “hull_color”"),
        ("known: memory", "known: hearsay", 15, "not a way of knowing"),
        ("from: 2020-01-01", "from: last year", 7, "not a date"),
        ("title: A small", "title: A small\ntitle: A small", 4, "is here twice"),
        ("to: 2020-12-31", "to: 2019-12-31", 8, "comes before the first, January 1, 2020"),
        (
            "known: memory",
            "from: 2020-06-02\n    to: 2020-06-01\n    known: memory",
            16,
            "the last day, June 1, 2020, comes before the first, June 2, 2020",
        ),
        ("requirements:", "include: [common, common]\nrequirements:", 9, "included twice"),
        ("requirements:", "include: [common]\nrequirements:", 11, "“float_spacing” is here twice"),
        ("known: memory", "vessel: {over: 0 ft}\n    known: memory", 15, "longer than nothing"),
        ("name: small", "name: [small", 1, "not readable as YAML"),
    ],
)
def test_a_faulty_file_is_refused_with_its_line(old, new, line, told):
    assert old in SMALL
    with pytest.raises(rulebook.RulebookError) as refusal:
        rulebook.parse(SMALL.replace(old, new, 1), "small.yaml")
    assert told in str(refusal.value)
    # A YAML parser may only notice an open bracket further down.
    if "readable" not in told:
        assert f"small.yaml, line {line}:" in str(refusal.value)


def test_every_limit_on_file_has_its_clause_and_source():
    assert {"no-sweep", "chain-sweep", "grate"} <= set(rulebook.gear_names())
    for name in rulebook.names():
        book = rulebook.load(name)
        assert book.effective_from
        for requirement in book.requirements:
            if requirement.by_custom:
                assert (requirement.clause, requirement.known) == ("", "trade")
            else:
                assert requirement.clause
            if not requirement.by_custom and book.citation.startswith("50 CFR 648.80"):
                assert requirement.clause.startswith(
                    ("50 CFR 648.80(a)(", "50 CFR 648.80(g)(", "50 CFR 648.86(d)(1)")
                )
            assert requirement.source
            assert requirement.why
            assert requirement.remedy_text


def test_a_rule_set_is_not_used_outside_its_dates():
    book = rulebook.parse(SMALL, "small.yaml")
    rig = make_rig(rulebook.load("no-sweep", "1"))
    assert judge(rig, book, on=date(2020, 12, 31)).legal is True
    for day in (date(2019, 12, 31), date(2021, 1, 1)):
        with pytest.raises(ValueError, match="has no version for"):
            judge(rig, book, on=day)
    with pytest.raises(rulebook.RulebookError, match="have no version for January 1, 1999"):
        rulebook.in_force("no-sweep", date(1999, 1, 1))
    assert rulebook.find_in_force("no-sweep", date(1999, 1, 1)) is None
    assert rulebook.find_in_force("nothing", date(2025, 1, 1)) is None
    assert rulebook.in_force("no-sweep", date(2025, 1, 1)) == rulebook.load("no-sweep", "1")


def test_a_limit_can_hold_for_a_part_of_the_time():
    late = SMALL.replace("    known:", "    from: 2020-07-01\n    known:")
    book = rulebook.parse(late, "late.yaml")
    rig = make_rig(rulebook.load("no-sweep", "1"))
    assert judge(rig, book, on=date(2020, 6, 30)).findings == ()
    assert len(judge(rig, book, on=date(2020, 7, 1)).findings) == 1


def test_unknown_names_and_versions():
    with pytest.raises(rulebook.RulebookError, match="no rule set called"):
        rulebook.load("nothing")
    with pytest.raises(rulebook.RulebookError, match="no version"):
        rulebook.load("no-sweep", "99")
    with pytest.raises(KeyError):
        rulebook.load("no-sweep", "1").requirement("nothing")


def made(key, test, limit):
    """Return the text of a rule set with one rule."""
    return (
        SMALL.replace("float_spacing", key)
        .replace("test: at most", f"test: {test}")
        .replace("limit: 4 ft", f"limit: {limit}")
    )


@pytest.mark.parametrize(
    ("key", "test", "limit"),
    [
        ("dropper_spacing", "every", "0 ft"),
        ("dropper_length", "at least", "0 in"),
        ("dropper_stock", "at most", "0 in"),
        ("legs_equal", "at least", "0 in"),
        ("hake_weight", "at most", "0 lb"),
        ("mesh_count_long", "at least", "0 meshes"),
        ("bycatch_share", "less than", "0 percent"),
    ],
)
def test_a_limit_of_nothing_is_refused(key, test, limit):
    with pytest.raises(rulebook.RulebookError, match=f"“{test} {limit}” sets no limit"):
        rulebook.parse(made(key, test, limit), "small.yaml")


@pytest.mark.parametrize("key", ["season", "area", "kept_species"])
def test_an_empty_list_is_refused(key):
    test = {"season": "within", "area": "inside", "kept_species": "only"}[key]
    with pytest.raises(rulebook.RulebookError, match="line 13: the list of what is allowed is emp"):
        rulebook.parse(made(key, test, "[]"), "small.yaml")


@pytest.mark.parametrize(
    ("key", "test"),
    [
        ("legs_equal", "at most"),
        ("dropper_at_centre", "at most"),
        ("sweep_attachment", "at most"),
        ("footrope_longer", "more than"),
        ("grate_outlet", "at least"),
    ],
)
def test_no_difference_is_a_limit(key, test):
    book = rulebook.parse(made(key, test, "0 ft"), "small.yaml")
    assert book.requirement(key).limit == 0


def waters(*corners):
    return made("area", "inside", f"[{{title: a place, corners: {list(corners)}}}]")


@pytest.mark.parametrize(
    ("corners", "told"),
    [
        (("A, 42, 70", "B, 43, 70", "A, 43, 69"), "the corner A or its point is here twice"),
        (("A, 42, 70", "B, 43, 70", "C, 43, 69", "A, 42, 70"), "the last is joined to the first"),
        (("A, 42, 70", "B, 43, 70", "C, 43 00, 70"), "the corner C or its point is here twice"),
        (("A, 42, 70", "B, 43, 69", "C, 43, 70", "D, 42, 69"), "A to B and C to D cross"),
        (("A, 42, 70", "B, 44, 70", "C, 43, 70"), "cross or touch"),
        (("A, 42, 70", "B, 44, 70", "C, 43, 69", "D, 43, 70"), "A to B and C to D cross"),
        (("A, 91, 70", "B, 43, 70", "C, 43, 69"), "latitude must lie between 0 and 90"),
        (("A, 42, 190", "B, 43, 70", "C, 43, 69"), "longitude must lie between 0 and 180"),
        (("A, -42, 70", "B, 43, 70", "C, 43, 69"), "latitude must lie between 0 and 90"),
        (("A, 42 60, 70", "B, 43, 70", "C, 43, 69"), "not a corner"),
    ],
)
def test_an_area_that_encloses_nothing_is_refused(corners, told):
    with pytest.raises(rulebook.RulebookError, match=told):
        rulebook.parse(waters(*corners), "small.yaml")


@given(st.integers(1, 12), st.integers(1, 28), st.integers(1, 12), st.integers(1, 28))
def test_a_season_is_open_from_its_first_day_to_its_last(month, day, last_month, last_day):
    season = Season((month, day), (last_month, last_day))
    first = season.begins_after(date(2026, 6, 15))
    last = season.ends_after(first)
    assert first > date(2026, 6, 15)
    assert (first.month, first.day, last.month, last.day) == (month, day, last_month, last_day)
    assert 0 <= (last - first).days < 366
    assert season.open_on(first)
    assert season.open_on(last)
    assert season.over_new_year == (last.year > first.year)
    # Unless it is open all year, the days on both sides of it are closed.
    if (last - first).days < 364:
        assert not season.open_on(first - timedelta(days=1))
        assert not season.open_on(last + timedelta(days=1))


def test_a_season_can_run_over_new_year():
    text = made("season", "within", "[{from: 11-15, to: 02-28}]")
    (season,) = rulebook.parse(text, "small.yaml").requirement("season").limit
    assert str(season) == "November 15 to February 28"
    assert [season.open_on(date(2026, *day)) for day in ((12, 31), (1, 1), (3, 1), (11, 14))] == [
        True,
        True,
        False,
        False,
    ]


def test_a_season_that_turns_on_the_day_of_a_leap_year():
    season = Season((2, 29), (2, 29))
    assert season.begins_after(date(2026, 6, 1)) == date(2027, 3, 1)
    assert season.begins_after(date(2027, 6, 1)) == date(2028, 2, 29)
    assert Season((1, 1), (2, 29)).ends_after(date(2027, 1, 1)) == date(2027, 2, 28)


OPEN_ENDED = SMALL.replace("  to: 2020-12-31\n", "")
LATER = OPEN_ENDED.replace('version: "1"', 'version: "2"').replace(
    "from: 2020-01-01", "from: 2020-10-01"
)


@pytest.fixture
def more(monkeypatch):
    """A list of (where from, text) that the shelf holds besides its files."""
    pairs = []
    monkeypatch.setattr(shelf, "_sources", [])
    rulebook.add_source(lambda: tuple(pairs))
    return pairs


def test_a_source_adds_to_the_shelf(more):
    files = rulebook.names()
    assert "small" not in files
    more.append(("a drawer", OPEN_ENDED))
    assert rulebook.names() == tuple(sorted((*files, "small")))
    assert rulebook.load("small", "1") == rulebook.parse(OPEN_ENDED, "small.yaml")
    more.append(("a drawer", LATER))
    assert [book.version for book in rulebook.versions("small")] == ["1", "2"]
    more.clear()
    assert rulebook.names() == files
    with pytest.raises(rulebook.RulebookError, match="no rule set called"):
        rulebook.versions("small")


def test_a_later_version_takes_over_from_its_first_day(more):
    more += [("a drawer", OPEN_ENDED), ("a drawer", LATER)]
    assert rulebook.in_force("small", date(2020, 9, 30)).version == "1"
    assert rulebook.in_force("small", date(2020, 10, 1)).version == "2"
    assert rulebook.in_force("small", date(2031, 1, 1)).version == "2"
    names = [book.name for book in rulebook.everything(date(2020, 10, 1))]
    assert names == list(rulebook.names())
    assert rulebook.everything(date(1999, 1, 1)) == ()


def test_books_stay_the_same_objects_when_others_join(more):
    more.append(("a drawer", OPEN_ENDED))
    before = rulebook.load("small"), rulebook.load("no-sweep", "1")
    more.append(("a drawer", LATER))
    assert rulebook.load("small", "1") is before[0]
    assert rulebook.load("no-sweep", "1") is before[1]


def test_an_open_end_is_closed_by_the_next_first_day(more):
    ended = LATER.replace("from: 2020-10-01", "from: 2020-10-01\n  to: 2020-10-31")
    more += [("a drawer", OPEN_ENDED), ("a drawer", ended)]
    assert rulebook.in_force("small", date(2020, 10, 31)).version == "2"
    # When the second has ended the first does not come back.
    assert rulebook.find_in_force("small", date(2020, 11, 1)) is None
    assert "small" not in [book.name for book in rulebook.everything(date(2020, 11, 1))]
    assert rulebook.nearest("small", date(2020, 11, 1)).version == "2"
    assert rulebook.nearest("small", date(2019, 11, 1)).version == "1"
    assert rulebook.nearest("small", date(2020, 2, 1)).version == "1"


@pytest.mark.parametrize(
    ("begins", "told"),
    [
        ("2020-12-31", "overlaps version 1 in one.yaml"),
        ("2020-01-01", "overlaps version 1 in one.yaml"),
        ("2021-01-02", "leaves a gap after version 1 in one.yaml"),
    ],
)
def test_versions_that_do_not_join_are_refused_with_both_files_and_days(more, begins, told):
    second = LATER.replace("from: 2020-10-01", f"from: {begins}")
    more += [("two.yaml", second), ("one.yaml", SMALL)]
    with pytest.raises(rulebook.RulebookError) as refusal:
        rulebook.names()
    message = str(refusal.value)
    first_day = rulebook.date_text(date.fromisoformat(begins))
    assert message.startswith(f"two.yaml: version 2 of “small” begins on {first_day} and {told}")
    assert "from January 1, 2020 to December 31, 2020" in message
    assert "Let it begin on January 1, 2021" in message


def test_two_open_versions_may_not_begin_on_one_day(more):
    second = OPEN_ENDED.replace('version: "1"', 'version: "2"')
    more += [("one.yaml", OPEN_ENDED), ("two.yaml", second)]
    with pytest.raises(rulebook.RulebookError, match=r"two.yaml.*overlaps version 1 in one.yaml"):
        rulebook.names()


@pytest.mark.parametrize(
    ("gear", "told"),
    [("half-sweep", "there is no such rule set"), ("whiting", "no rules for a rig")],
)
def test_unknown_gear_is_refused(more, gear, told):
    more.append(("a drawer", SMALL.replace("requirements:", f"gear: [{gear}]\nrequirements:")))
    with pytest.raises(rulebook.RulebookError, match=f"a drawer: “gear” names “{gear}”.*{told}"):
        rulebook.names()


def test_a_version_may_not_stand_on_the_shelf_twice(more):
    more += [("a drawer", SMALL), ("another drawer", SMALL)]
    with pytest.raises(rulebook.RulebookError, match="another drawer: “small” has a version “1”"):
        rulebook.names()


def test_a_text_can_be_tried_before_it_is_on_the_shelf(more):
    more.append(("a drawer", OPEN_ENDED))
    with rulebook.trying("a draft", LATER):
        assert rulebook.in_force("small", date(2020, 10, 1)).version == "2"
        with ThreadPoolExecutor() as other:
            assert other.submit(rulebook.load, "small").result().version == "1"
    assert rulebook.load("small").version == "1"


def test_what_lays_out_a_whole_rig_can_be_asked_for_a_day(more):
    text = LATER.replace("float_spacing", "dropper_spacing").replace("at most", "every")
    more += [("a drawer", OPEN_ENDED), ("a drawer", text)]
    assert "small" in rulebook.gear_names()
    assert "small" in rulebook.gear_names(date(2020, 10, 1))
    assert "small" not in rulebook.gear_names(date(2020, 9, 30))


def test_rule_sets_that_say_otherwise_are_two_though_of_one_name():
    book = rulebook.load("no-sweep", "1")
    first, *others = book.requirements
    other = replace(book, requirements=(replace(first, title="Other words"), *others))
    same = replace(book)
    assert (same, hash(same)) == (book, hash(book))
    assert {book: "as it is", other: "changed"}[same] == "as it is"
    assert {book: "as it is", other: "changed"}[other] == "changed"


def test_a_rule_set_lays_out_a_rig_by_its_droppers():
    # Rule sets of an area or a season lay out nothing, and are not asked about rigs.
    books = [book for name in rulebook.names() for book in rulebook.versions(name)]
    laid_out = {book.name for book in books if book.has("dropper_spacing")}
    assert laid_out == {book.name for book in books if book.lays_out_rig}
    assert laid_out == set(rulebook.gear_names())
