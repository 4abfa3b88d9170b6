"""What would put one's own net right, by the whole of it in flight."""

import re

import pytest
from django.urls import reverse

from rigs.tuning import in_flight
from tests.nets.conftest import make_net, make_tow
from tests.nets.test_flight import text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("few_cases")]

LOW = {
    "speed": "2.4 kn",
    "shine_port_wing": "35 in",
    "shine_port_corner": "34 in",
    "shine_center": "33 in",
    "shine_starboard_corner": "34 in",
    "shine_starboard_wing": "35 in",
}
UNEVEN = LOW | {
    "shine_port_wing": "14 in",
    "shine_port_corner": "16 in",
    "shine_center": "17 in",
    "shine_starboard_corner": "18 in",
    "shine_starboard_wing": "20 in",
}
PARTS = ("flight_advice", "advice_figure", "advice_sure")


@pytest.fixture
def long_droppers(user):
    """Return a net with droppers long enough to fly at the height that is the custom."""
    return make_net(user, dropper_length="42", dropper_spacing="8 ft", legs_extended="no")


def asked(client, net, part="flight_advice", **query):
    return client.get(reverse(f"nets:{part}", args=[net.pk]), query)


def test_a_low_net_gets_changes_that_lift_it_each_with_how_sure_it_is(as_user, long_droppers):
    make_tow(long_droppers, **LOW)
    page = text(asked(as_user, long_droppers, all=1))
    assert "It flies too low" in page
    offers = page.split("best first")[1].split("Change one thing.")[0]
    assert "float" in offers
    assert re.search(r"Center and corners likely go up \d+ in", offers)
    assert "likely go down" not in offers
    assert offers.count("How sure:") == offers.count("Place by place, and by other ways")
    assert re.search(r"In \d of 4 nets that may be yours it goes up", offers)


def test_the_page_itself_waits_for_nothing(as_user, long_droppers, monkeypatch):
    make_tow(long_droppers, **LOW)
    monkeypatch.setattr(in_flight, "beliefs", None)
    page = text(asked(as_user, long_droppers))
    assert "Work it out" in page
    assert "It flies too low" not in page


def test_how_sure_one_change_is_can_be_asked_alone(as_user, long_droppers):
    make_tow(long_droppers, **LOW)
    figure = asked(as_user, long_droppers, "advice_figure").content.decode()
    key = re.search(r'data-advice-sure="([^"]+)"', figure)[1]
    assert "How sure:" not in figure
    assert "How sure:" in text(asked(as_user, long_droppers, "advice_sure", change=key))


@pytest.mark.parametrize(
    "key", ["", "floats", "floats +99", "floats nan", "nothing +1", "shift +1"]
)
def test_how_sure_is_said_only_of_what_could_be_offered(as_user, long_droppers, key):
    make_tow(long_droppers, **LOW)
    assert asked(as_user, long_droppers, "advice_sure", change=key).status_code == 404


def test_sides_that_differ_are_told_with_what_would_make_that_picture(as_user, long_droppers):
    make_tow(long_droppers, **UNEVEN)
    page = text(asked(as_user, long_droppers, "advice_figure"))
    assert "It flies lower to starboard" in page
    assert "Measure warps" in page
    causes = page.split("What would make this picture")[1]
    assert "Flight cannot see warps of two lengths" in causes
    assert "may " in causes.split("Flight cannot see")[0]


def test_a_net_without_a_tow_asks_for_one(as_user, net):
    for query in ({}, {"all": 1}):
        page = asked(as_user, net, **query)
        assert page.status_code == 200
    assert "Nothing can be said before its shine was read" in text(page)


def test_a_net_that_flies_right_is_left_as_it_is(as_user, long_droppers):
    right = dict.fromkeys((name for name in LOW if name != "speed"), "18 in")
    make_tow(long_droppers, **LOW | right)
    page = text(asked(as_user, long_droppers, all=1))
    assert "Changes that would help" not in page


def test_a_net_that_was_not_measured_says_what_is_lacking(as_user, user):
    net = make_net(user, dropper_length="42", float_count="", float_size="")
    make_tow(net, **LOW)
    page = text(asked(as_user, net, all=1))
    assert "how many floats there are, and their size" in page
    assert "Enter more of the net" in page


def test_the_log_leads_to_it_where_something_is_wrong(as_user, long_droppers):
    address = reverse("nets:flight_advice", args=[long_droppers.pk])
    log = reverse("nets:log", args=[long_droppers.pk])
    assert address not in as_user.get(log).content.decode()
    make_tow(long_droppers, **LOW)
    assert address in as_user.get(log).content.decode()


def test_nobody_sees_advice_on_another_ones_net(as_officer, long_droppers):
    make_tow(long_droppers, **LOW)
    for part in PARTS:
        answer = asked(as_officer, long_droppers, part, change="floats +4", all=1)
        assert answer.status_code == 404
