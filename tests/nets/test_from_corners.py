"""A net told in the order of the tape: droppers counted from the corners, and what is open."""

import pytest
from django.urls import reverse

from rigs.plan.entry import dropper_places
from rigs.words.units import FOOT
from tests.nets.conftest import make_net, net_entries
from training.nets.forms import NetForm

pytestmark = pytest.mark.django_db


def feet(places):
    return [round(place / FOOT, 6) for place in places]


def places_of(**changes):
    """Return the droppers' places in feet as the form reads them; bosom 16 ft, wings 20 ft."""
    form = NetForm(net_entries(**changes))
    assert form.is_valid(), form.errors
    return feet(dropper_places(form.measures))


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        # Bosom 16 ft: the corners lie 8 ft from the center, the wing ends 28 ft.
        ({"dropper_center": "yes", "dropper_spacing": "8 ft"}, [-24, -16, -8, 0, 8, 16, 24]),
        ({"dropper_center": "no", "dropper_spacing": "8 ft"}, [-24, -16, -8, 8, 16, 24]),
        ({"dropper_center": "no", "dropper_spacing": "10 ft"}, [-28, -18, -8, 8, 18, 28]),
        (
            {"dropper_center": "yes", "starboard_wing": "12 ft", "dropper_spacing": "8"},
            [-24, -16, -8, 0, 8, 16],
        ),
        (
            {"dropper_center": "yes", "port_places": "0, 8 ft", "starboard_places": "-4, 0"},
            [-16, -8, 0, 4, 8],
        ),
        ({"dropper_center": "no", "port_places": "none", "starboard_places": "20 ft"}, [28]),
        # A list counts before an even spacing, as from the center.
        (
            {
                "dropper_center": "no",
                "dropper_spacing": "8 ft",
                "port_places": "0",
                "starboard_places": "0",
            },
            [-8, 8],
        ),
    ],
)
def test_counting_from_the_corners(told, expected):
    told = {"dropper_spacing": ""} | told
    assert places_of(dropper_from="corners", **told) == expected


def test_counting_from_the_center_is_as_before(user):
    assert places_of() == [-20, -10, 0, 10, 20]
    assert places_of(dropper_from="center", dropper_center="no") == [-20, -10, 0, 10, 20]
    # A net entered before there was a choice.
    net = make_net(user)
    net.measures.pop("dropper_from")
    assert feet(each.position for each in net.present().droppers) == [-20, -10, 0, 10, 20]


@pytest.mark.parametrize(
    ("changes", "name", "words"),
    [
        ({"dropper_from": "corners"}, "dropper_center", "Say if one hangs at the center"),
        ({"port_places": "0, 8 ft"}, "starboard_places", "Enter this side too"),
        (
            {
                "dropper_from": "corners",
                "dropper_center": "no",
                "port_places": "21 ft",
                "starboard_places": "0",
            },
            "port_places",
            "20 ft from the corner",
        ),
        (
            {
                "dropper_from": "corners",
                "dropper_center": "no",
                "port_places": "-9 ft",
                "starboard_places": "0",
            },
            "port_places",
            "past the center",
        ),
        ({"port_places": "-4", "starboard_places": "0"}, "port_places", "past the center"),
        ({"droppers": "none"}, "droppers", "there are none, and where they hang"),
        (
            {"dropper_spacing": "", "port_places": "none", "starboard_places": "none"},
            "dropper_spacing",
            "how far apart",
        ),
    ],
)
def test_what_is_half_told_is_asked_for(changes, name, words):
    form = NetForm(net_entries(**changes))
    assert not form.is_valid()
    assert words in " ".join(form.errors[name])


def test_places_told_are_droppers_whether_said_so_or_not():
    assert places_of(droppers="unknown") == [-20, -10, 0, 10, 20]


def preview(client, **entries):
    ropes = {"bosom": "16", "port_wing": "20", "headrope": "50"}
    return " ".join(
        client.post(reverse("nets:net_preview"), ropes | entries).content.decode().split()
    )


def test_what_is_not_drawn_yet_is_asked(client):
    bare = preview(client)
    for words in (
        "Is there a sweep?",
        "Are there droppers, and where?",
        "How many floats are there?",
    ):
        assert words in bare
    assert 'href="#id_has_sweep"' in bare
    assert "Not drawn yet" not in preview(client, **net_entries())
    half = preview(client, droppers="some", dropper_from="corners", dropper_spacing="8")
    assert "Does one hang at the center?" in half


def test_no_answer_about_the_sweep_is_not_a_net_without_one(client):
    """All is entered but whether there is a sweep: one thing more is open than the first tow."""
    sound = net_entries(
        dropper_from="corners",
        dropper_center="yes",
        dropper_spacing="8 ft",
        dropper_length="42",
        float_count="14",
        sweep_chain="",
        sweep_length="",
    )
    assert "1 thing is not known yet" in preview(client, **sound | {"has_sweep": "no"})
    assert "2 things are not known yet" in preview(client, **sound | {"has_sweep": ""})


def test_a_first_plan_takes_four_answers(as_user):
    """Wing, bosom, headrope and the sweep; name and rules are there already."""
    page = as_user.get(reverse("nets:net_new"))
    form = page.context["form"]
    start = {name: form[name].value() for name in form.fields if form[name].value() is not None}
    start["goal"] = form.fields["goal"].choices[0][0]
    told = {"port_wing": "20", "bosom": "16", "headrope": "50", "has_sweep": "yes"}
    assert as_user.post(reverse("nets:net_new"), start | told).status_code == 302
