"""Asking whether a vessel may fish here: the form, the answer in careful words, the chart."""

import re
from html import unescape
from io import BytesIO

import pytest
from django.test import Client
from django.urls import reverse
from PIL import Image

from rigs.rules import openings, rulebook
from rigs.rules.rulebook import everything
from rigs.words.trip import Position
from rigs.words.units import FOOT, INCH, POUND
from tests.nets.conftest import make_net
from training.nets.models import Net

pytestmark = pytest.mark.django_db

TRIP = reverse("trips:trip")
CHART = reverse("trips:trip_chart", args=["whiting"])
EAST = "42 00 N 69 45 W"
NOTHING_BROKEN = "Nothing you entered breaks a rule that this site knows."

# 50 CFR 648.80(a)(15) and 648.86(d), read in an older snapshot: all that a whiting trip needs.
FULL = {
    "fishery": "whiting",
    "day": "2025-10-01",
    "position": EAST,
    "letter": "yes",
    "letter_asked": "2025-09-01",
    "catch": "named",
    "kept": ["silver hake", "squid"],
    "hake": "900",
    "smallest_mesh": "2 1/2",
    "regulated": "10 lb",
    "caught": "1000 lb",
    "mesh": "2 1/2",
    "mesh_count": "100",
    "vessel_length": "70 ft",
}


def entries(**changes):
    """Return what a browser posts, changed as told."""
    return {"fishery": "whiting", "day": "2025-10-01"} | changes


def text(response):
    """Return what a page says, its white space made even."""
    html = re.sub(r"<(svg|script)\b.*?</\1>", " ", response.content.decode(), flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def answer_of(response):
    (shown,) = response.context["shown"]
    return shown["answer"]


@pytest.mark.parametrize("url", [TRIP, CHART])
def test_it_takes_a_person(client, url):
    response = client.post(url, entries())
    assert response.status_code == 302
    assert response.url.startswith(reverse("people:sign_in"))


@pytest.mark.parametrize("name", ["as_user", "as_officer", "as_staff"])
def test_everyone_may_ask(request, name):
    response = request.getfixturevalue(name).get(TRIP)
    assert response.status_code == 200
    assert f'href="{TRIP}" aria-current="true"' in response.content.decode()
    assert "Before you rely on this" in text(response)


def test_it_takes_a_token(user):
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(user)
    assert strict.post(TRIP, entries()).status_code == 403


def test_a_position_is_not_read_from_the_address(as_user):
    """Addresses are logged and remembered; where somebody fishes is his own business."""
    response = as_user.get(TRIP, entries(position=EAST))
    assert response.context["shown"] == []
    assert EAST not in response.content.decode()


def test_the_day_is_today_unless_it_is_changed(as_user):
    form = as_user.get(TRIP).context["form"]
    assert form["day"].value() == form.fields["day"].initial()


def test_the_choices_are_the_rule_sets(as_user):
    form = as_user.get(TRIP).context["form"]
    names = [name for name, _ in form["fishery"].field.choices]
    assert names == ["", *(book.name for book in openings.fisheries())]
    assert [name for name, _ in form["kept"].field.choices] == list(openings.species())
    assert {name for name, _ in form["gear"].field.choices} == {
        "",
        *(book.name for book in openings.gear_books()),
    }


def test_only_the_day_is_needed(as_user):
    page = as_user.post(TRIP, entries())
    assert NOTHING_BROKEN in text(page)
    unknown = len(answer_of(page).unknown)
    assert f"Not entered or not clear: {unknown}." in text(page)
    assert "No position was given" in page.content.decode()


def test_what_was_told_reaches_the_judge(as_user):
    page = as_user.post(TRIP, FULL)
    answer = answer_of(page)
    found = {f.key: f for verdict in answer.verdicts for f in verdict.findings}
    assert found["area"].measured == Position(42.0, -69.75)
    assert found["mesh_size"].measured == pytest.approx(2.5 * INCH)
    assert found["kept_species"].measured == ("silver hake", "squid")
    assert found["hake_by_mesh"].measured.mesh == pytest.approx(2.5 * INCH)
    assert found["letter_day"].measured == 30
    assert found["bycatch_share"].measured == pytest.approx(0.01)
    assert found["letter_aboard"].measured is True
    assert {f.key for f in answer.trip.unknown} == set()
    assert "mesh_count_short" not in found
    asked = page.context["form"].question
    assert asked["trip"].hake == pytest.approx(900 * POUND)
    assert asked["rigged"].vessel_length == pytest.approx(70 * FOOT)


def test_what_is_broken_is_told_with_clause_measure_limit_and_remedy(as_user):
    """Alewife is not on the list of (a)(15)(i)(B)."""
    changes = {"position": "41 00 N 69 45 W", "kept": ["silver hake", "alewife"]}
    page = text(as_user.post(TRIP, FULL | changes))
    assert "2 rules are broken." in page
    assert "The position lies outside the area that is open that day." in page
    assert "To fix it: Fish inside the lines that are open that day." in page
    assert "Not on the list: “alewife”. What may be kept: silver hake, offshore hake," in page
    assert "50 CFR 648.80(a)(15)(i)(B)" in page


def test_the_bycatch_standard_is_a_warning_sign_and_breaks_nothing(as_user):
    """(a)(8)(i): it is what the regulator weighs for a fishery."""
    page = as_user.post(TRIP, FULL | {"regulated": "60 lb"})
    assert "A warning sign, not a broken rule." in text(page)
    assert "6 percent of this catch is regulated species" in text(page)
    assert "50 CFR 648.80(a)(8)(i)" in text(page)
    assert "Broken" not in re.sub("Broken: 0", "", text(page))
    assert answer_of(page).failed == ()
    assert "warning sign" not in text(as_user.post(TRIP, FULL))


@pytest.mark.parametrize("changes", [{}, {"position": "41 N 70 W"}, {"day": "2025-02-01"}])
def test_no_conclusion_in_law_is_drawn(as_user, changes):
    page = text(as_user.post(TRIP, FULL | {"fishery": ""} | changes))
    assert not re.search(
        r"\b(?:illegal|legal|unlawful|violat\w+|guilty|offen[cs]e)\b(?! advice)", page
    )
    assert "It does not rule on the law." in page
    assert "This is training, not legal advice." in page


def test_the_version_and_date_of_each_rule_set_are_told(as_user):
    page = text(as_user.post(TRIP, FULL))
    for book in everything():
        if book.name in ("whiting", "no-sweep"):
            assert f"Rules used: {book.title}, version {book.version}, used here from" in page
    assert rulebook.load("whiting", "1").citation in page


def test_any_fishery_is_all_of_them_the_best_first(as_user):
    page = as_user.post(TRIP, FULL | {"fishery": ""})
    shown = [each["answer"].rulebook.name for each in page.context["shown"]]
    assert shown[0] == "whiting"
    assert sorted(shown) == [book.name for book in openings.fisheries()]
    assert page.content.decode().count("<svg") == 4


def test_nothing_on_board_is_not_the_same_as_not_known(as_user):
    empty = answer_of(as_user.post(TRIP, entries(catch="nothing")))
    silent = answer_of(as_user.post(TRIP, entries()))
    assert empty.fishery.finding("kept_species").outcome == "pass"
    assert silent.fishery.finding("kept_species").outcome == "not measured"


def test_other_kinds_can_be_named(as_user):
    page = as_user.post(TRIP, entries(kept=["scup"], kept_besides="lobster, , Cod "))
    finding = answer_of(page).fishery.finding("kept_species")
    assert finding.places == ("lobster", "Cod")


def test_a_name_that_is_not_known_or_not_clear_is_asked_after(as_user):
    page = as_user.post(TRIP, entries(kept_besides="greenfin wobbler, dogfish"))
    finding = answer_of(page).fishery.finding("kept_species")
    assert finding.outcome == "not measured"
    assert "Not clear" in text(page)
    assert "We do not know “greenfin wobbler”. Check the spelling" in text(page)
    assert (
        "“dogfish” can be chain dogfish, smooth dogfish or spiny dogfish. Which one is it?"
        in text(page)
    )


@pytest.mark.parametrize("written", ["Cod, fluke", "cod and fluke", "cod; Fluke", "cod & fluke"])
def test_names_are_parted_as_people_part_them(as_user, written):
    finding = answer_of(as_user.post(TRIP, entries(kept_besides=written))).fishery.finding(
        "kept_species"
    )
    assert [each.lower() for each in finding.spots] == ["cod", "fluke"]


def test_alewife_can_be_entered(as_user):
    page = as_user.post(TRIP, entries(fishery="grate", kept=["alewife"]))
    assert answer_of(page).fishery.finding("kept_species").outcome == "pass"


# Hake, letters, closures ------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"hake": "5000", "smallest_mesh": "2 1/4", "mesh": ""},
            "5,000 lb is kept; at most 3,500 lb with mesh under 2 1/2 in is allowed.",
        ),
        (
            {"hake": "5000"},
            "5,000 lb is kept; at most 7,500 lb with mesh of 2 1/2 in to under 3 in is allowed.",
        ),
        (
            {"hake": "9000", "smallest_mesh": "3", "mesh": ""},
            "at most 30,000 lb with mesh of 3 in or more, in the Gulf of Maine and Georges Bank "
            "exemption areas, is allowed.",
        ),
        # 3,402 kg, which the regulation prints beside 7,500 lb, are 7,500.1 lb.
        ({"hake": "3402.1 kg"}, "Just over 7,500 lb is kept; at most 7,500 lb"),
        ({"hake": "", "fishery": "grate"}, "Silver and offshore hake together, by mesh"),
        ({"hake": "5000", "smallest_mesh": "", "mesh": ""}, "Enter the smallest mesh on board"),
        ({"hake": ""}, "No weight was entered."),
    ],
)
def test_hake_is_told_by_mesh_and_always_with_the_caution(as_user, changes, words):
    page = text(as_user.post(TRIP, FULL | changes))
    assert words in page
    assert "A notice in season can cut this limit to 2,000 lb" in page


def test_the_letter_takes_the_whiting_rules_along(as_user):
    """(a)(15)(i)(G): the more restrictive of both sets."""
    page = as_user.post(TRIP, entries(fishery="grate", letter="yes", kept=["alewife"]))
    assert "While the vessel is on its letter" in text(page)
    assert "50 CFR 648.80(a)(15)(i)(G)" in text(page)
    assert {f.key for f in answer_of(page).failed} == {"kept_species"}
    without = as_user.post(TRIP, entries(fishery="grate", letter="no", kept=["alewife"]))
    assert "While the vessel is on its letter" not in text(without)


def test_no_area_is_open_that_day(as_user):
    page = text(as_user.post(TRIP, entries(day="2025-08-01")))
    assert "No area of this fishery is open on that day." in page
    assert "It opens next on September 1, 2025: the whole area." in page
    assert "To fix it: Wait until an area of this fishery is open." in page
    assert "Open that day: the eastern part." in text(as_user.post(TRIP, entries(day="2025-12-01")))


def test_a_closure_is_told_at_the_top_and_drawn(as_user):
    page = as_user.post(TRIP, entries(fishery="small-mesh-2", position="42 45 N 70 05 W"))
    assert "The position lies in the Western Gulf of Maine closure." in text(page)
    near = as_user.post(TRIP, entries(position="42 14.98 N 70 05 W"))
    assert "Too near a closure to say." in text(near)
    assert 'class="closure"' in near.content.decode()
    far = text(as_user.post(TRIP, entries(position=EAST)))
    assert "Inside a closure." not in far


def test_what_the_page_does_not_check_is_said(as_user):
    for page in (as_user.get(TRIP), as_user.post(TRIP, entries())):
        told = text(page)
        for words in ("monitoring", "stowed", "Other permits", "one day and one place"):
            assert words in told


# Nets ---------------------------------------------------------------------------


def test_one_of_my_nets_is_judged_by_the_rules_that_fit_its_sweep(as_user, user):
    net = make_net(user, mesh="2 in", mesh_count="100", vessel_length="70 ft")
    answer = answer_of(as_user.post(TRIP, entries(net=net.pk)))
    assert answer.gear.rulebook.name == "chain-sweep"
    assert "mesh_size" in {f.key for f in answer.failed}
    told = answer_of(as_user.post(TRIP, entries(net=net.pk, gear="no-sweep", mesh="3")))
    assert told.gear.rulebook.name == "no-sweep"
    assert "mesh_size" not in {f.key for f in told.failed}


def test_somebody_elses_net_and_a_deleted_one_are_not_offered(as_user, user, officer):
    theirs, gone = make_net(officer), make_net(user)
    gone.put_aside()
    for net in (theirs, gone):
        page = as_user.post(TRIP, entries(net=net.pk))
        assert page.context["shown"] == []
        assert page.context["form"].errors["net"]


# Slips ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "typed", "words"),
    [
        ("position", "42 61 N 70 08 W", "61 minutes"),
        ("position", "42 14.05", "half a position"),
        ("day", "", "required"),
        ("day", "yesterday", "Write it like 7/1/2026"),
        ("day", "1999-10-01", "no rules for October 1, 1999. Choose another day"),
        ("fishery", "lobster", "not one of the available choices"),
        ("vessel_length", "70 furlongs", "not a unit known here"),
        ("mesh", "2.5 lb", "not a unit known here"),
        ("mesh_count", "-1", "greater than or equal to 0"),
        ("hake", "some", "was not understood"),
        ("kept", ["lobster"], "not one of the available choices"),
        ("net", "9999", "not one of the available choices"),
    ],
)
def test_what_cannot_be_read_is_told_beside_the_field(as_user, name, typed, words):
    page = as_user.post(TRIP, FULL | {name: typed})
    form = page.context["form"]
    assert page.status_code == 200
    assert page.context["shown"] == []
    assert words in " ".join(form.errors[name])
    assert f'id="id_{name}_error"' in page.content.decode()
    assert form["letter"].value() == "yes"
    assert form[name].value() == typed


@pytest.mark.parametrize(
    ("changes", "name", "words"),
    [
        ({"catch": "nothing"}, "catch", "no fish are kept, but you name some below"),
        ({"kept": []}, "kept", "Check what is kept"),
        ({"kept": ["squid"]}, "hake", "no silver and offshore hake among the fish"),
        ({"red_hake": "10"}, "red_hake", "no red hake among the fish"),
        ({"smallest_mesh": "3"}, "smallest_mesh", "mesh in the codend is smaller"),
        ({"regulated": "2000 lb"}, "regulated", "more than the whole catch"),
    ],
)
def test_what_does_not_go_together_is_told(as_user, changes, name, words):
    form = as_user.post(TRIP, FULL | changes).context["form"]
    assert words in " ".join(form.errors[name])


# The chart ------------------------------------------------------------------------


def test_a_position_on_the_line_is_said_to_be_unsure(as_user):
    name, latitude, longitude = (
        rulebook.load("whiting", "1").requirement("area").limit[0].corners[4]
    )
    page = text(as_user.post(TRIP, entries(position=f"{latitude:.12f}, {longitude:.12f}")))
    assert "Too near the line to say. The position lies within 0.05 nautical miles" in page
    assert name in page
    assert "This site reads it as inside" in page
    assert "Ask before you rely on it." in page


def test_every_corner_is_in_the_table(as_user):
    page = as_user.post(TRIP, entries()).content.decode()
    for area in rulebook.load("whiting", "1").requirement("area").limit:
        for name, latitude, longitude in area.corners:
            row = f'<th scope="row">{name}</th><td>{Position(latitude, longitude)}</td>'
            assert row in page


def test_where_the_shore_closes_it_is_said_what_is_not_known(as_user):
    page = text(as_user.post(TRIP, entries(fishery="grate")))
    assert "The area is closed by the shoreline, between the last corner and the first" in page


def test_the_chart_as_a_picture(as_user):
    response = as_user.post(CHART, FULL)
    assert response["Content-Type"] == "image/png"
    assert response["Content-Disposition"] == 'attachment; filename="whiting-chart.png"'
    assert Image.open(BytesIO(response.content)).size[0] == 1200


def test_a_picture_of_what_cannot_be_read_shows_the_form(as_user):
    response = as_user.post(CHART, FULL | {"position": "somewhere"})
    assert "was not understood" in text(response)


def test_there_is_no_picture_of_an_unknown_fishery(as_user):
    assert as_user.post(reverse("trips:trip_chart", args=["lobster"]), FULL).status_code == 404


def test_a_picture_takes_a_post(as_user):
    assert as_user.get(CHART).status_code == 405


def test_nothing_asked_is_kept_and_few_questions_are_put_to_the_database(
    as_user, user, django_assert_max_num_queries
):
    net = make_net(user)
    before = Net.objects.values().get()
    with django_assert_max_num_queries(6):
        as_user.post(TRIP, FULL | {"fishery": "", "net": net.pk})
    assert Net.objects.values().get() == before


def test_gear_rules_without_a_version_for_the_day_are_told(as_user, monkeypatch):
    monkeypatch.setattr(openings, "gear_books", lambda on=None: ())
    page = as_user.post(TRIP, FULL | {"gear": ""})
    assert "This site has no gear rules for that day, so the gear is not checked." in text(page)
    assert "Every rule that this site knows is met." not in text(page)
    assert "notice-good" not in page.content.decode()


def test_the_page_has_the_days_ahead_and_the_rules_for_where_there_is_no_signal(
    as_user, django_assert_max_num_queries
):
    as_user.get(TRIP)
    with django_assert_max_num_queries(8):
        response = as_user.get(TRIP)
    ahead = response.context["ahead"]
    page = text(response)
    assert ahead["data"]["first"] == response.context["ahead"]["first"].isoformat()
    for fishery in ahead["fisheries"]:
        for each in fishery["spells"]:
            assert str(each["spell"]) in page
        for __, asked, clause, __ in fishery["rules"]:
            assert asked[1:] in page
            assert clause in page
    # An answer of the site is of its own day: the days ahead are not beside it.
    assert 'id="ahead"' not in as_user.post(TRIP, entries()).content.decode()
