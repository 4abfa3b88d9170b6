"""Seeing a change to one's own net in flight before anything is cut."""

import re

import pytest
from django.urls import reverse

from rigs.tuning.altered import Alteration
from rigs.words.units import FATHOM, FOOT, KNOT, POUND
from tests.nets.conftest import make_net, make_tow
from training.nets import in_flight
from training.nets.flight_forms import TryForm
from training.nets.models import SHINE, Net

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("few_cases")]

PLACES = ("Port wing end", "Port corner", "Center", "Starboard corner", "Starboard wing end")


def flight(client, net, part="flight", **tried):
    """Return the answer to a look at ``net`` with what is ``tried``."""
    return client.get(reverse(f"nets:{part}", args=[net.pk]), tried)


def text(response):
    """Return the words of an answer, with single spaces."""
    return " ".join(re.sub(r"<[^>]*>", " ", response.content.decode()).split())


def test_more_floats_lift_the_footrope_at_all_five_places(as_user, net):
    page = flight(as_user, net, floats="4")
    assert "The footrope goes up everywhere" in text(page)
    table = text(page).split("What the change likely does")[1].split("From the side")[0]
    for name, after in zip(PLACES, (*PLACES[1:], "$"), strict=True):
        assert re.search(rf"{name} up \d+ in .*{after}", table), name


def test_a_net_whose_shine_nobody_read_shows_changes_and_no_heights(as_user, net):
    page = text(flight(as_user, net, floats="4"))
    assert "We assume that it flies as is the custom, 1 to 2 ft up" in page
    assert "in up Port corner" not in page
    assert "about" not in page.split("What the change likely does")[1].split("How sure")[0]


def test_a_float_put_on_at_one_wing_end_lifts_that_side_most(as_user, net):
    page = text(flight(as_user, net, "flight_figure", over_port_end="3"))
    assert "You try: 3 floats more over the port wing end . Start from: As planned." in page
    inches = {
        name: int(re.search(rf"{name} up (\d+) in", page)[1])
        for name in ("Port wing end", "Port corner")
    }
    far = re.search(r"Starboard wing end (?:up (\d+) in|down|hardly)", page)
    assert inches["Port wing end"] > int(far[1] or 0)


def test_what_is_tried_is_said_on_the_rig_that_it_starts_from(as_user, net):
    page = text(flight(as_user, net, "flight_figure", start="now", convert="on", over_center="1"))
    assert (
        "You try: converted as planned; 1 float more over the center . "
        "Start from: As it is now, before the plan." in page
    )


def test_a_place_at_which_floats_are_put_on_is_open_without_scripts(as_user, net):
    field = "Floats more over the starboard corner"
    page = flight(as_user, net, over_starboard_corner="1").content.decode()
    assert field in page
    assert re.search(r"<details open>\s*<summary>Floats at one place", page)
    assert not re.search(
        r"<details open>\s*<summary>Floats at one place", flight(as_user, net).content.decode()
    )


def test_a_leg_that_is_no_longer_than_it_was_is_no_change():
    form = TryForm({"floats": "1", "leg": "port top", "leg_by": "0 in"})
    assert form.is_valid(), form.errors
    assert form.alteration == Alteration(floats=1)


def test_after_a_tow_it_flies_as_its_shine_says(as_user, net):
    make_tow(
        net,
        shine_port_wing="",
        shine_starboard_wing="",
        shine_port_corner="10 in",
        shine_starboard_corner="10 in",
        shine_center="10 in",
    )
    page = text(flight(as_user, net, start="planned"))
    assert "We assume" not in page
    log = in_flight.shine_log.heights(net, net.tows.get().day)
    center = next(each for each in log.heights[0].places if each.place == "centre")
    told = int(re.search(r"Center about (\d+) in up", page)[1])
    assert abs(told - center.model / 0.0254) <= 2


def test_how_sure_it_is_counts_every_net_once(as_user, net):
    page = text(flight(as_user, net, "flight_sure", droppers="2"))
    assert re.search(r"of 4 nets that may be yours", page)
    center = page.split("Center")[1].split("Starboard corner")[0]
    counts = [int(each) for each in re.findall(r"(\d+) of 4 (?:go|hardly)", center)]
    assert sum(counts) == 4


def test_opening_the_page_waits_for_no_flight(as_user, net, monkeypatch):
    monkeypatch.setattr(in_flight, "tried", None)
    page = flight(as_user, net)
    assert page.status_code == 200
    assert "press the button" in text(page)
    assert "What it leaves out" in text(page)


def test_the_quick_answer_does_not_wait_for_how_sure_it_is(as_user, net, monkeypatch):
    monkeypatch.setattr(in_flight, "how_sure", None)
    page = flight(as_user, net, "flight_figure", floats="2")
    assert page.status_code == 200
    assert "How sure" not in text(page)
    assert "data-flight-changes" in page.content.decode()


@pytest.mark.parametrize(
    ("tried", "words"),
    [
        ({"floats": "many"}, "Enter a whole number"),
        ({"over_center": "-1"}, "greater than or equal to 0"),
        ({"floats": "99"}, "less than or equal to 12"),
        ({"headrope": "a lot"}, "not understood"),
        ({"leg": "port top"}, "Enter by how much, such as 3 in."),
        ({"leg_by": "3 in"}, "Choose the leg."),
    ],
)
def test_what_cannot_be_read_is_said_beside_its_field_and_kept(as_user, net, tried, words):
    page = flight(as_user, net, **tried)
    assert words in text(page)
    assert "What the change likely does" not in text(page)
    for value in tried.values():
        assert f'value="{value}"' in page.content.decode()
    assert flight(as_user, net, "flight_figure", **tried).status_code == 422


def test_what_was_not_entered_is_asked_for(as_user, user):
    net = make_net(user, float_count="", float_size="")
    page = text(flight(as_user, net, floats="2"))
    assert "were not measured" in page or "how many floats there are, and their size" in page
    assert "Enter more of the net" in page


def test_a_change_that_breaks_a_rule_says_which(as_user, net):
    net = Net.objects.get(pk=net.pk)
    most = next(
        each for each in net.plan().rulebook.requirements if each.key == "footrope_excess"
    ).limit
    page = text(flight(as_user, net, footrope=f"{most / FOOT + 1:.0f} ft"))
    assert "648.80(a)(9)(ii)(C)" in page


def test_a_rule_that_the_change_breaks_is_not_said_to_have_been_broken_before(as_user, net):
    leg = {"leg": "port bottom", "leg_by": "2 in"}
    page = text(flight(as_user, net, "flight_figure", **leg))
    assert "This change breaks 1 rule that the net did not break before." in page
    assert "This change adds none" not in page
    page = text(flight(as_user, net, "flight_figure", start="now", **leg))
    assert "This change breaks 1 rule that the net did not break before." in page
    assert re.search(r"The net still breaks \d+ rules? it broke before\.", page)
    page = text(flight(as_user, net, "flight_figure", start="now", floats="1"))
    assert "This change adds none." in page


def test_a_net_as_it_is_now_can_be_tried_without_its_sweep(as_user, net):
    page = text(flight(as_user, net, start="now", cut_sweep="on"))
    assert "What the change likely does" in page
    assert "With a sweep flight is a rough guess" in page
    assert "With a sweep" not in text(flight(as_user, net, "flight_figure", floats="2"))
    assert "hardly any change" not in page.split("Center")[1].split("Starboard corner")[0]


def test_the_net_as_it_is_now_is_seen_beside_what_the_plan_makes_of_it(as_user, net):
    page = text(flight(as_user, net, start="now", convert="on"))
    assert "What the change likely does" in page
    assert "Start from the net as it is now" in text(
        flight(as_user, net, start="planned", convert="on")
    )


def test_what_the_owner_measured_makes_the_guess(user):
    net = make_net(
        user,
        tow_speed="2.6 kn",
        door_spread="110 ft",
        float_lift="6.5 lb",
        leg_weight="40 lb",
        footrope_weight="56 lb",
    )
    told = in_flight.known(net, net.created.date()).told
    assert told.speed == pytest.approx(2.6 * KNOT)
    assert told.door_spread == pytest.approx(110 * FOOT)
    assert told.float_lift == pytest.approx(6.5 * POUND)
    assert told.footrope_weight == pytest.approx(56 * POUND / (56 * FOOT))
    assert told.leg_weight == pytest.approx(40 * POUND / (10 * FATHOM))


def test_nobody_sees_another_ones_net_fly(as_officer, net):
    for part in ("flight", "flight_figure", "flight_sure"):
        assert flight(as_officer, net, part).status_code == 404


def test_a_tow_without_any_shine_sets_no_height(as_user, net):
    make_tow(
        net,
        shine_port_wing="0",
        shine_port_corner="0",
        shine_center="0",
        shine_starboard_corner="0",
        shine_starboard_wing="0",
    )
    page = text(flight(as_user, net, floats="-2"))
    assert "No dropper of this net showed any shine yet" in page
    assert "about" not in page.split("What the change likely does")[1].split("From the side")[0]


def test_how_well_the_last_change_was_foretold_is_said_with_how_sure_it_is(as_user, user):
    net = make_net(user, dropper_length="42", dropper_spacing="8 ft")
    low = {"speed": "2.4 kn"} | dict.fromkeys(SHINE.values(), "30 in")
    make_tow(net, **low)
    assert "Your last change" not in text(flight(as_user, net, "flight_sure", floats="2"))
    changed = make_net(user, dropper_length="42", dropper_spacing="8 ft", float_count="18")
    net.typed, net.measures = changed.typed, changed.measures
    net.save()
    make_tow(net, **low | {"day": "2026-05-06"} | dict.fromkeys(SHINE.values(), "24 in"))
    page = text(flight(as_user, net, "flight_sure", floats="2"))
    assert re.search(r"flight would have said up \d+ in, your shine showed up \d+ in", page)
