"""Each tag gives what the rule module says, and refuses what it does not know."""

import re

import pytest
from django.urls import reverse

from rigs.physics import balance, chain, practice, tow
from rigs.requirements import layout
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.gear import Footrope
from rigs.words.units import FATHOM, FOOT, INCH, KNOT, inches, pounds
from tests.lessons.helpers import BODY_LINE, small, spaced, with_limits
from training.lessons.errors import LessonError
from training.lessons.tags import examples
from training.lessons.tags.grammar import TAGS


def shown(tag, **options):
    """Return the HTML that ``tag`` gives within a sentence."""
    body = spaced(small(f"So: {tag}.", **options).body)
    return body.removeprefix("<p>So: ").removesuffix(".</p>")


def block_of(tag):
    """Return the HTML of a paragraph that is nothing but ``tag``."""
    return spaced(small(tag).body).removeprefix("<p>").removesuffix("</p>")


def test_no_line_ends_between_a_figure_and_its_unit():
    assert "8\u00a0ft" in small("{{ limit dropper_spacing }}").body
    assert "3/8\u00a0in" in small("{{ limits dropper_stock }}\n: C").body


@pytest.mark.parametrize(
    ("tag", "words"),
    [
        ("{{ limit dropper_spacing }}", "8 ft*"),
        ("{{ limit dropper_spacing metric }}", "2.4 m*"),
        ("{{ limit dropper_spacing both }}", "8 ft (2.4 m)*"),
        ("{{ limit dropper_stock }}", "3/8 in*"),
        ("{{ limit dropper_stock rules=grate }}", "3/8 in"),
        ("{{ limit dropper_stock rules=chain-sweep }}", "5/16 in*"),
        ("{{ size dropper_stock rules=chain-sweep }}", "5/16 in"),
        ("{{limit door_to_wing_end}}", "40 fm*"),
        ("{{ allowed dropper_stock }}", "at most 3/8 in*"),
        ("{{ allowed dropper_length }}", "at least 42 in"),
        ("{{ mark dropper_stock }}", "*"),
        ("{{ mark dropper_stock rules=grate }}", ""),
        ('{{ over dropper_spacing by="8 in" }}', "8 ft 8 in"),
        ("{{ vessel mesh_count_long rules=whiting }}", "60 ft"),
        ("{{ vessel mesh_count_short rules=whiting }}", "60 ft"),
        ('{{ bar "5/16 in" }}', "8 mm (0.315 in)"),
        ("{{ bar dropper_stock }}", "10 mm (0.394 in)"),
        ("{{ clause dropper_spacing }}", "50 CFR 648.80(a)(9)(ii)(D)"),
        ("{{ clause dropper_length rules=grate }}", "50 CFR 648.80(a)(16)(ii)(B)"),
        ("{{ title no_sweep }}", "No sweep"),
        ("{{ limit season rules=whiting }}", "September 1 to December 31"),
        ("{{ allowed hake_weight rules=grate }}", "at most 7,500 lb"),
        ("{{ near_line }}", "0.05 nautical miles"),
        ("{{ thumb footrope_height }}", "1 to 2 ft"),
    ],
)
def test_a_tag_says_what_the_rule_module_says(tag, words):
    # The words are those of the regulation's figures, kept in tests/rigs with their source.
    assert shown(tag) == words


@pytest.mark.parametrize(
    ("part", "words"),
    [
        ("series", "20"),
        ("lacings", "5 meshes"),
        ("thick", "2.3 mm"),
        ("taper", "2 cm in 8 cm"),
        ("turn", "120 mm (4.72 in)"),
        ("light", "5 kg (11.02 lb)"),
        ("heavy", "8 kg (17.64 lb)"),
        ("strap", "3 in (7.6 cm)"),
        ("measured", "50 CFR 648.80(f)(2)"),
        ("top", "50 CFR 648.80(g)(1)"),
        ("blocked", "50 CFR 648.80(g)(2)"),
    ],
)
def test_how_mesh_is_measured_is_said_as_the_regulation_prints_it(part, words):
    """50 CFR 648.80(f)(2), (g)(1) and (g)(2), read in the 2015 edition."""
    assert shown(f"{{{{ mesh {part} }}}}") == words


def test_sentences_come_from_the_rule_set():
    book = rulebook.load("no-sweep", "1")
    spacing = book.requirement("dropper_spacing")
    assert block_of("{{ why dropper_spacing }}") == f"Why it matters on the net: {spacing.why}"
    assert block_of("{{ reads float_diameter }}") == (
        "This site reads it as: at least 8 in across, so that a bigger float passes too."
    )
    assert shown("{{ remedy dropper_spacing }}") == spacing.remedy_text.format(allowed="8 ft")
    no_source = "comes from common practice; it has no written source."
    assert block_of("{{ known dropper_length }}") == f"This one {no_source}"
    assert block_of("{{ thumb footrope_height basis }}") == f"That figure {no_source}"
    assert shown("{{ rulebook title }}") == book.title
    assert shown("{{ rulebook citation rules=grate }}") == rulebook.load("grate", "1").citation


def test_weights_come_from_the_links():
    stock = chain.STOCKS["3/8 in"]
    assert shown("{{ weight dropper_stock }}") == pounds(chain.mass(stock, FOOT))
    assert shown('{{ weight "3/8 in" length="42 in" count=2 where=sea }}') == pounds(
        chain.mass_in_sea_water(stock, 42 * INCH, 2)
    )
    ratio = chain.compare(chain.TWO_LIGHT, chain.ONE_HEAVY)
    assert shown('{{ times "2 x 5/16 in" "1 x dropper_stock" }}') == f"{ratio[0].value:.2f}"
    assert shown('{{ times "2 x 5/16 in" "1 x 3/8 in" "nominal area" }}') == f"{ratio[1].value:.2f}"


def test_lift_is_that_of_the_smallest_legal_float():
    least, _, most = balance.float_lift(8 * INCH)
    assert shown("{{ lift }}") == f"{pounds(least)[:-3]} to {pounds(most)}"
    one = chain.mass_in_sea_water(chain.STOCKS["3/8 in"], 42 * INCH)
    assert shown("{{ holds dropper_stock dropper_length }}") == f"{least / one:.1f}"


def test_words_of_a_rule_set_are_escaped():
    def load(name):
        from dataclasses import replace

        return replace(rulebook.load(name), title="<b>Rules & regulations</b>")

    assert shown("{{ rulebook title }}", load=load) == (
        "&lt;b&gt;Rules &amp; regulations&lt;/b&gt;"
    )


def test_a_tag_may_run_over_two_lines():
    assert shown("{{ limit\ndropper_spacing }}") == "8 ft*"


# Blocks -----------------------------------------------------------------------


def block(tag, caption="What it shows", **options):
    return spaced(small(f"Before.\n\n{tag}\n: {caption}\n\nAfter.", **options).body)


def test_a_block_stands_between_paragraphs():
    body = block("{{ limits dropper_spacing }}")
    assert body.startswith("<p>Before.</p>\n<div")
    assert body.endswith("</div>\n<p>After.</p>")


def test_a_block_needs_no_empty_lines_around_it():
    body = small("Before.\n{{ figure legs }}\n: Caption\nAfter.").body
    assert "<p>Before.</p>\n<figure" in body
    assert "</figure>\n<p>After.</p>" in body


def test_a_caption_may_run_over_lines_and_hold_tags():
    body = block(
        "{{ limits dropper_spacing }}", "Every {{ limit dropper_spacing }},\n: the crew's & ours"
    )
    assert "<caption>Every 8 ft*, the crew&#x27;s &amp; ours</caption>" in body


def test_a_table_of_limits_has_both_units_and_the_clause():
    body = block("{{ limits dropper_spacing no_sweep }}")
    assert '<td>one every 8 ft* <span class="small">2.4 m</span></td>' in body
    assert body.count('<span class="small">50 CFR 648.80(a)(9)(ii)(D)</span>') == 2


def test_a_limit_that_is_known_otherwise_than_from_memory_is_not_marked():
    """The grate fishery's droppers were read in (a)(16)(ii)(B); 42 in without a sweep is custom."""
    body = block("{{ limits dropper_length dropper_stock rules=grate }}")
    assert "*" not in body
    custom = block("{{ limits dropper_length }}")
    assert "*" not in custom
    assert '<span class="small">by custom</span>' in custom
    assert "648.80" not in custom


@pytest.mark.parametrize(
    ("body", "marked"),
    [
        ("{{ limit float_spacing }}", True),
        ("{{ mark off_bottom }}", True),
        ('{{ worked floats headrope="70 ft" }}\n: C', True),
        ("{{ limits sweep_stock rules=chain-sweep }}\n: C", True),
        ("{{ limit dropper_stock rules=grate }} {{ size dropper_stock }}", False),
        ("{{ limits mesh_size letter_aboard rules=whiting }}\n: C", False),
    ],
)
def test_a_lesson_knows_whether_a_limit_in_it_is_marked(body, marked):
    lesson = small(body)
    assert ("*" in lesson.body) is marked
    assert lesson.has_marks is marked


def test_a_custom_has_no_clause_to_print():
    with pytest.raises(LessonError, match="it is done by custom"):
        small("{{ clause dropper_length }}")


def test_a_comparison_shows_all_three_ratios():
    body = block('{{ compare "1 x 3/8 in" "1 x 5/16 in" "2 x 5/16 in" length="42 in" }}')
    for ratio in chain.compare(chain.TWO_LIGHT, chain.ONE_HEAVY):
        assert f"<li>{ratio.value:.2f} times as heavy by " in body
    assert "rule of thumb, with no written source" in body
    assert pounds(chain.mass(chain.STOCKS["3/8 in"], 42 * INCH)) in body


@pytest.mark.parametrize(("port", "starboard"), [(19, 19), (16, 24), (7, 8), (23, 24)])
def test_a_worked_layout_counts_as_the_layout_does(port, starboard):
    body = block(
        f'{{{{ worked layout bosom="16 ft" port="{port} ft" starboard="{starboard} ft" }}}}'
    )
    rope = Footrope(16 * FOOT, port * FOOT, starboard * FOOT)
    places = layout.dropper_places(rope, rulebook.load("no-sweep", "1"))
    assert f"<strong>{len(places)} droppers in all.</strong>" in body
    assert body.count("port wing,") + body.count("Port wing,") == port // 8 - (port % 8 == 0)
    assert body.count("right at the wing end") == (port % 8 == 0) + (starboard % 8 == 0)


def test_a_worked_layout_changes_with_the_rule_set():
    tag = '{{ worked layout bosom="16 ft" wing="19 ft" }}'
    assert "7 droppers in all" in block(tag)
    closer = block(tag, load=with_limits(dropper_spacing=4 * FOOT))
    assert "11 droppers in all" in closer
    assert "4 steps of 4 ft*, so 4 droppers" in closer


def test_worked_floats_have_both_ends_covered():
    body = block('{{ worked floats headrope="70 ft" }}')
    assert "at least 18 gaps" in body
    assert "<strong>19 floats</strong>" in body


HALF = (
    ('layout bosom="20 ft" wing="16 ft"', "7 droppers in all"),
    ('floats headrope="58 ft"', "16 floats"),
    ('ropes headrope="46 ft" bosom="20 ft" wing="24 ft"', "Broken"),
    ('wire cable="34 fm" top="8 fm" bottom="8 fm"', "Broken"),
    ('chain size="1/2 in"', "Broken"),
    ('sweep rules=chain-sweep bosom="20 ft" wing="24 ft"', "75 ft"),
    ('height chain_size=dropper_stock shine="14 in" speed="3 kn"', "28 in"),
)


@pytest.mark.parametrize(("example", "answer"), HALF)
def test_a_half_worked_example_folds_its_last_step_away(example, answer):
    whole = block(f"{{{{ worked {example} }}}}")
    assert "Worked example" in whole
    half = block(f"{{{{ half {example} }}}}")
    assert "Half worked" in half
    folded = re.sub(r"<details>.*?</details>", "", half, flags=re.DOTALL)
    assert answer in re.sub(r"<[^>]+>", "", half)
    assert answer not in re.sub(r"<[^>]+>", "", folded)
    assert answer in re.sub(r"<[^>]+>", "", whole)


def test_the_chain_of_droppers_is_judged_by_its_rule_set():
    assert "Met" in block('{{ worked chain size="3/8 in" }}')
    assert "Broken" in block('{{ worked chain size="3/8 in" rules=chain-sweep }}')


def test_worked_ropes_and_wire_are_judged():
    good = block('{{ worked ropes headrope="62 ft" bosom="20 ft" wing="24 ft" }}')
    assert "finding-fail" not in good
    assert good.count("finding-pass") == 2
    bad = block('{{ worked ropes headrope="46 ft" bosom="20 ft" wing="24 ft" }}')
    assert bad.count("finding-fail") == 1
    assert "22 ft" in bad
    wire = block('{{ worked wire cable="34 fm" top="8 fm" bottom="7 1/2 fm" }}')
    assert wire.count("finding-fail") == 2
    assert "42 fm" in wire


def test_a_worked_finding_can_be_said_as_on_an_officers_sheet():
    tag = '{{ worked ropes headrope="46 ft" bosom="20 ft" wing="24 ft" style=sheet }}'
    rope = Footrope(20 * FOOT, 24 * FOOT, 24 * FOOT)
    book = rulebook.load("no-sweep", "1")
    rig = examples.rig(book, rope, 46 * FOOT)
    body = block(tag)
    for key in ("footrope_longer", "footrope_excess"):
        assert judge(rig, book).finding(key).sheet_sentence in body
    assert body.count("Inside") == body.count("Outside") == 1
    assert "Met" not in body


def test_worked_height_shows_thumb_and_reckoning_apart():
    body = block('{{ worked height chain_size=dropper_stock shine="14 in" speed="3 kn" }}')
    report = tow.height_report(chain.ONE_HEAVY, 42 * INCH, 3 * KNOT, 14 * INCH)
    assert f"footrope at most {inches(report.rule.height, 1)} off the bottom" in body
    assert f"footrope about {inches(report.model.height, 1)} off the bottom" in body
    assert report.rule.height > report.model.height


def test_a_worked_sweep_has_its_excess_on_each_side():
    body = block('{{ worked sweep rules=chain-sweep bosom="20 ft" wing="20 ft" }}')
    assert "at least 7 ft* longer, so at least <strong>67 ft</strong>" in body
    assert "33 ft 6 in to port" in body


@pytest.mark.parametrize(
    "tag",
    [
        '{{ figure plan bosom="16 ft" wing="24 ft" }}',
        '{{ figure plan bosom="16 ft" wing="24 ft" rules=chain-sweep }}',
        '{{ figure plan bosom="16 ft" wing="24 ft" spoiled=dropper_spacing }}',
        '{{ figure side bosom="16 ft" port="20 ft" starboard="24 ft" }}',
        "{{ figure legs }}",
        '{{ figure dropper shine="12 in" }}',
        "{{ figure area rules=grate }}",
        '{{ figure area rules=whiting day=11-25 position="42 05 N 70 25 W" }}',
    ],
)
def test_a_figure_has_a_caption_and_a_text_alternative(tag):
    body = block(tag)
    assert "<figcaption>What it shows</figcaption>" in body
    assert 'role="img" aria-labelledby="figure-1-title" aria-describedby="figure-1-desc"' in body
    assert '<desc id="figure-1-desc">' in body
    assert "style=" not in body


def test_a_spoilt_figure_marks_what_is_broken():
    plain = block('{{ figure plan bosom="16 ft" wing="24 ft" }}')
    spoilt = block('{{ figure plan bosom="16 ft" wing="24 ft" spoiled=dropper_spacing }}')
    assert "Fault 1" not in plain
    assert "Fault 1" in spoilt


def test_a_table_of_what_may_be_kept_has_a_row_for_each_list():
    """50 CFR 648.80(a)(9)(i)(A), (a)(15)(i)(B) and (a)(16)(i)(A), read in an older snapshot."""
    body = block("{{ kept whiting grate small-mesh-1 small-mesh-2 }}")
    assert body.count("<tr>") == 1 + 3  # the head; both small mesh areas share a row
    assert body.count("alewife") == 1
    assert body.count("scup") == body.count("spiny dogfish") == 2
    for clause in ("(a)(9)(i)(A)", "(a)(15)(i)(B)", "(a)(16)(i)(A)"):
        assert f"50 CFR 648.80{clause}" in body


def test_a_table_by_mesh_gives_each_class_and_the_caution():
    """50 CFR 648.86(d)(1), (4) and (5), read in an older snapshot."""
    body = block("{{ by_mesh hake_by_mesh red_hake_by_mesh rules=whiting }}").replace("\xa0", " ")
    rows = re.findall(r"<tr>\s*<th scope=\"row\">(.*?)</th>(.*?)</tr>", body, re.DOTALL)
    assert [mesh for mesh, _ in rows] == [
        "under 2 1/2 in",
        "2 1/2 in to under 3 in",
        "3 in or more",
    ]
    assert [re.findall(r"at most ([\d,]+ lb)", cells) for _, cells in rows] == [
        ["3,500 lb", "3,000 lb"],
        ["7,500 lb", "3,000 lb"],
        ["30,000 lb", "3,000 lb"],
    ]
    assert "13,608 kg, in the Gulf of Maine and Georges Bank exemption areas" in body
    assert "A notice in season can cut this limit to 2,000 lb." in body
    assert "400 lb" in body


def test_closures_are_drawn_where_a_figure_asks_for_them():
    with_closures = block("{{ figure area rules=grate closures=whiting }}")
    assert 'class="closure"' in with_closures
    assert 'class="closure"' not in block("{{ figure area rules=grate }}")


def test_a_table_of_seasons_tells_days_and_waters():
    """50 CFR 648.80(a)(15) and (a)(9)(i), read in an older snapshot."""
    body = block("{{ seasons whiting small-mesh-2 }}")
    assert "September 1 to November 20: the whole area<br>" in body
    assert "November 21 to December 31: the eastern part<" in body
    assert "<td>January 1 to June 30</td>" in body
    assert "50 CFR 648.80(a)(9)(i)" in body


@pytest.mark.parametrize(
    ("day", "filled", "dashed"),
    [("first", 1, 1), ("last", 1, 1), ("after", 1, 1), ("08-31", 0, 2)],
)
def test_an_area_is_drawn_as_it_is_on_the_day(day, filled, dashed):
    body = block(f"{{{{ figure area rules=whiting day={day} }}}}")
    assert body.count('<polygon points="') - body.count('class="area-open"') == 2  # ground
    assert body.count('class="area-open"') == filled + bool(filled)  # with its key
    assert len(re.findall(r'<polyline [^>]*class="area-shut"', body)) == dashed
    west_is_open = "Area: the whole area, open that day." in body
    assert west_is_open == (day in ("first", "last"))


def test_a_way_to_a_page_is_a_link():
    body = block("{{ page trip }}", "Ask & see")
    assert (
        f'<a class="button button-quiet" href="{reverse("trips:trip")}">Ask &amp; see</a>' in body
    )


def test_figures_on_one_page_have_ids_of_their_own():
    body = small("{{ figure legs }}\n: One\n\n{{ figure legs }}\n: Two\n").body
    assert 'id="figure-1-title"' in body
    assert 'id="figure-2-title"' in body


# Refusals ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("{{ boundary dropper_spacing }}", "unknown tag “boundary”"),
        ("{{ }}", "nothing in it"),
        ("{{ limit }}", "does not fit its arguments"),
        ("{{ limit dropper_spacing metric more }}", "does not fit its arguments"),
        ("{{ limit dropper_spacing color=red }}", "does not fit its arguments"),
        ("{{ limit dropper_spacing rules=grate rules=grate }}", "is twice"),
        ("{{ limit = }}", "was not understood"),
        ("{{ limit no_such_key }}", "no requirement 'no_such_key'"),
        ("{{ limit sweep_stock }}", "no requirement 'sweep_stock'"),
        ("{{ limit dropper_spacing furlongs }}", "no way to say a limit"),
        ("{{ limit dropper_spacing rules=none }}", "no rule set called “none”"),
        ("{{ rulebook color }}", "has no “color”"),
        ("{{ vessel mesh_size rules=whiting }}", "vessels of any length"),
        ('{{ over no_sweep by="8 in" }}', "is no length"),
        ("{{ reads no_sweep }}", "nothing is read into the clause"),
        ('{{ worked wire cable="1 fm" top="1 fm" bottom="1 fm" style=x }}\n: C', "say a finding"),
        ("{{ mesh holes }}", "nothing is known of “holes”"),
        ("{{ thumb luck }}", "no rule of thumb “luck”"),
        ("{{ thumb footrope_height color }}", "has no “color”"),
        ("{{ weight '3/8 in' }}", "does not fit its arguments"),
        ('{{ weight "7/16 in" }}', "No chain is sold"),
        ('{{ weight "3/8 in" where=moon }}', "air or sea"),
        ('{{ weight "3/8 in" count=many }}', "no number of chains"),
        ("{{ weight no_sweep }}", "is no length"),
        ('{{ times "3 x 3/8 in" "1 x 3/8 in" }}', "no choice of chain"),
        ('{{ times "2 x 5/16 in" "1 x 3/8 in" "guess" }}', "no “guess”"),
        ("Words {{ figure legs }}\n: Caption", "stand alone on its line"),
        ("{{ figure legs }} words\n: Caption", "stand alone on its line"),
        ("{{ figure legs }}\n\nNo caption", "needs a caption"),
        ("{{ figure legs caption=x }}\n: Caption", "goes on the lines below"),
        ("{{ figure legs }}\n: Caption {{ figure legs }}", "cannot stand in a caption"),
        ("{{ figure legs }}\n: Caption {{ limit none }}", "no requirement 'none'"),
        ("{{ figure moon }}\n: Caption", "no drawing “moon”"),
        ("{{ figure legs wing=x }}\n: Caption", "do not fit the drawing"),
        ('{{ figure plan bosom="16 ft" }}\n: Caption', "wings' lengths are missing"),
        ('{{ figure plan bosom="x" wing="8 ft" }}\n: Caption', "no requirement 'x'"),
        ('{{ figure plan bosom="16 ells" wing="8 ft" }}\n: Caption', "not a unit known"),
        ('{{ figure plan bosom="16 ft" wing="8 ft" port="8 ft" }}\n: C', "for both sides, or"),
        ('{{ figure plan bosom="16 ft" wing="8 ft" spoiled=x }}\n: C', "cannot be spoiled"),
        ('{{ figure dropper shine="9 ft" }}\n: Caption', "part of the dropper"),
        ("{{ figure dropper count=3 }}\n: Caption", "one chain or two"),
        ("{{ figure area }}\n: Caption", "no requirement 'area'"),
        ("{{ figure area rules=grate day=13-01 }}\n: Caption", "no day like 11-25"),
        ('{{ figure area rules=grate position="here" }}\n: Caption', "was not understood"),
        ("{{ kept }}\n: Caption", "say what may be kept by which"),
        ("{{ by_mesh }}\n: Caption", "say which limits go by mesh"),
        ("{{ by_mesh season rules=grate }}\n: Caption", "say which limits go by mesh"),
        ("{{ seasons }}\n: Caption", "say the seasons of which"),
        ("{{ seasons no-sweep }}\n: Caption", "no requirement 'season'"),
        ("{{ page moon }}\n: Caption", "there is no page “moon”"),
        ("{{ worked moon }}\n: Caption", "no worked example of “moon”"),
        ("{{ worked floats }}\n: Caption", "do not fit “floats”"),
        ('{{ worked height chain_size="3/8 in" shine="9 ft" speed="3 kn" }}\n: C', "longer than"),
        ('{{ worked height chain_size="3/8 in" shine="9 in" speed="3" }}\n: C', "needs a unit"),
        ("{{ limits }}\n: Caption", "say which limits"),
        ('{{ compare length="42 in" }}\n: Caption', "say which chains"),
        ("An open {{ limit dropper_spacing", "opened or closed here, but not both"),
        ("A closed }} one", "opened or closed here, but not both"),
    ],
)
def test_a_bad_tag_is_refused_with_file_and_line(body, words):
    with pytest.raises(LessonError) as refused:
        small(f"Fine {{{{ limit dropper_spacing }}}}.\n\n{body}")
    message = str(refused.value)
    assert message.startswith(f"01-small.md, line {BODY_LINE + 2}: ")
    assert words in message


def test_every_tag_tells_what_it_gives():
    assert len(TAGS) >= 10
    for tag in TAGS.values():
        assert tag.answer.__doc__


def test_the_rule_of_thumb_for_height_says_the_lengths_it_means():
    # Practitioners' figure: common practice, no source.
    rule = practice.rule("footrope_height")
    assert (rule.low, rule.high) == (FOOT, 2 * FOOT)
    assert rule.holds(FOOT)
    assert not rule.holds(FATHOM)
