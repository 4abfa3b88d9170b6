"""What a skipper writes down of a tow: where, how deep, how fast over what, baskets, changes."""

from datetime import timedelta
from math import sqrt

import pytest
from django.urls import reverse
from django.utils import timezone

from rigs.physics.tow.report import SPEED_SPREAD
from rigs.tuning import through_water
from rigs.words.units import FATHOM, KNOT, POUND
from tests.nets.conftest import make_tow, tow_entries
from training.nets import shine_log
from training.nets.log_forms import TowForm
from training.nets.models import Tow

pytestmark = pytest.mark.django_db

# A whole catch in baskets: 9 of 80 lb, one of them bottom animals.
BASKETS = {
    "catch_target": "",
    "catch_bottom": "",
    "catch_other": "",
    "baskets": "9",
    "bottom_baskets": "1",
    "basket_weight": "80 lb",
}
GROUND = {"speed": "2.8", "speed_over": "ground"}


def knots(speed):
    return round(speed / KNOT, 6)


@pytest.mark.parametrize(
    ("tide", "strength", "expected", "wider"),
    [
        # Each worked by hand: ground = water + tide, in knots; across by the right triangle.
        ("with", 0.8, 2.0, 0),
        ("against", 0.7, 3.5, 0),
        ("across", 2.1, 3.5, 0),
        ("slack", None, 2.8, 0),
        ("", None, 2.8, 1),
        ("", 0.4, 2.8, 0.4),
        ("with", None, 2.3, 0.5),
        ("against", None, 3.3, 0.5),
        ("across", None, (2.8 + sqrt(2.8**2 + 1)) / 2, (sqrt(2.8**2 + 1) - 2.8) / 2),
        ("with", 0, 2.8, 0),
    ],
)
def test_the_net_feels_the_water(tide, strength, expected, wider):
    found = through_water(2.8 * KNOT, tide, None if strength is None else strength * KNOT)
    assert knots(found.speed) == pytest.approx(expected, abs=1e-6)
    assert knots(found.spread - SPEED_SPREAD) == pytest.approx(wider, abs=1e-6)


def test_a_speed_over_the_ground_is_read_with_its_tide(as_user, net):
    told = GROUND | {"tide": "with", "tide_speed": "0.8"}
    as_user.post(reverse("nets:tow_new", args=[net.pk]), tow_entries(**told))
    make_tow(net, speed="2.0", speed_over="water")
    by_ground, by_water = shine_log.read(net).heights
    assert by_ground.model == pytest.approx(by_water.model)
    assert by_ground.low == pytest.approx(by_water.low)
    make_tow(net, **GROUND)
    page = " ".join(as_user.get(reverse("nets:log", args=[net.pk])).content.decode().split())
    assert "(worked out from 2.8 kn over the ground, tide not noted)" in page
    unknown = shine_log.read(net).heights[-1]
    plain = make_tow(net, speed="2.8").read(net.plan().planned)
    assert unknown.tow.speed == pytest.approx(plain.speed)
    assert unknown.high - unknown.low > by_water.high - by_water.low


def test_a_tow_from_before_there_was_a_choice_is_through_the_water(as_user, net):
    tow = make_tow(net)
    del tow.measures["speed_over"], tow.typed["speed_over"]
    tow.save()
    assert tow.through_water == (tow.measures["speed"], SPEED_SPREAD)
    form = as_user.get(reverse("nets:tow_edit", args=[tow.pk])).context["form"]
    assert form["speed_over"].value() == "water"


@pytest.mark.parametrize(
    ("changes", "name", "words"),
    [
        ({"speed_over": ""}, "speed_over", "required"),
        ({"tide": "with"}, "speed_over", "Is this one?"),
        (GROUND | {"tide": "with", "tide_speed": "2.7"}, "tide_speed", "too slow for a tow"),
        (GROUND | {"tide": "slack", "tide_speed": "0.5"}, "tide_speed", "does not run"),
        ({"tow_number": "0"}, "tow_number", "greater than or equal to 1"),
        ({"depth": "0"}, "depth", "more than zero"),
        (BASKETS | {"basket_weight": ""}, "basket_weight", "what a full basket weighs"),
        (BASKETS | {"bottom_baskets": ""}, "bottom_baskets", "both counts"),
    ],
)
def test_what_cannot_be_is_told_beside_the_field(net, changes, name, words):
    form = TowForm(tow_entries(**changes), rig=net.plan().planned)
    assert not form.is_valid()
    assert words in " ".join(form.errors[name])


def test_baskets_will_do_for_weights(as_user, net):
    tow = make_tow(net, **BASKETS)
    assert tow.catch.total == pytest.approx(720 * POUND)
    assert tow.catch.share == pytest.approx(1 / 9)
    page = " ".join(as_user.get(reverse("nets:log", args=[net.pk])).content.decode().split())
    assert "The catch of 1 tow was counted in baskets" in page
    assert "11.1 percent" in page
    weighed = make_tow(net, baskets="9", bottom_baskets="1", basket_weight="80")
    # What was weighed counts by its weight, whatever the baskets make of it.
    assert weighed.catch.total == pytest.approx(930 * POUND)
    assert shine_log.read(net).by_baskets == 1


def test_no_baskets_and_no_weights_are_no_catch(net):
    nothing = dict.fromkeys(BASKETS, "")
    assert make_tow(net, **nothing).catch is None
    assert make_tow(net, **nothing | {"basket_weight": "80"}).catch is None


def test_where_and_what_was_changed_is_in_the_log(as_user, net):
    told = {"tow_number": "2", "ground": "Gull ledge", "depth": "32", "changed": "Two floats <off>"}
    as_user.post(reverse("nets:tow_new", args=[net.pk]), tow_entries(**told))
    tow = Tow.objects.get()
    assert tow.measures["depth"] == pytest.approx(32 * FATHOM)
    page = " ".join(as_user.get(reverse("nets:log", args=[net.pk])).content.decode().split())
    for words in (", tow 2", "Gull ledge, 32 fm", "Changed: Two floats &lt;off&gt;"):
        assert words in page


def test_the_next_tow_starts_from_the_last(as_user, net):
    def start(day):
        make_tow(net, day=day.isoformat(), ground="Gull ledge", **GROUND, **BASKETS)
        form = as_user.get(reverse("nets:tow_new", args=[net.pk])).context["form"]
        names = ("tow_number", "ground", "speed_over", "basket_weight", "speed", "shine_center")
        return [form[name].value() for name in names]

    today = timezone.localdate()
    earlier = start(today - timedelta(days=1))
    assert earlier == [None, None, "ground", "80 lb", None, None]
    assert start(today) == [2, "Gull ledge", "ground", "80 lb", None, None]
