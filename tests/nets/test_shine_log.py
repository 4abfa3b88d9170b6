"""Writing tows down and reading what they say."""

import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from rigs.tuning import standard
from rigs.words.units import FOOT, INCH, KNOT, POUND
from tests.certification.certificate_factory import move_on
from tests.nets.conftest import make_net, make_tow, tow_entries
from training.nets import shine_log
from training.nets.models import Tow

pytestmark = pytest.mark.django_db


def test_a_tow_is_kept_as_typed_and_in_si(as_user, net):
    as_user.post(reverse("nets:tow_new", args=[net.pk]), tow_entries())
    tow = Tow.objects.get()
    assert tow.typed["shine_port_corner"] == "14"
    assert tow.measures["shine_port_corner"] == pytest.approx(14 * INCH)
    assert tow.measures["speed"] == pytest.approx(2.8 * KNOT)
    assert tow.catch.target == pytest.approx(900 * POUND)
    assert tow.catch.share == pytest.approx(30 / 930)


def test_the_same_tow_sent_twice_is_one(as_user, net):
    entries = tow_entries()
    for _ in range(2):
        response = as_user.post(reverse("nets:tow_new", args=[net.pk]), entries)
        assert response.status_code == 302
    assert Tow.objects.count() == 1


@pytest.mark.parametrize(
    ("changes", "name", "words"),
    [
        ({"speed": "fast"}, "speed", "not understood"),
        ({"speed": "30 kn"}, "speed", "Nobody tows faster"),
        ({"speed": "0"}, "speed", "too slow for a tow"),
        ({"speed": ""}, "speed", "required"),
        ({"shine_center": "50 in"}, "shine_center", "At the center"),
        ({"day": "2999-01-01"}, "day", "in the future"),
        ({"catch_bottom": ""}, "catch_bottom", "0 if there was none"),
        ({"baskets": "9"}, "bottom_baskets", "both counts"),
        ({"baskets": "3", "bottom_baskets": "4"}, "bottom_baskets", "more than all"),
        (
            {
                f"shine_{place}": ""
                for place in (
                    "center",
                    "port_wing",
                    "port_corner",
                    "starboard_wing",
                    "starboard_corner",
                )
            },
            "shine_port_wing",
            "one place at least",
        ),
    ],
)
def test_what_cannot_be_is_told_beside_the_field(as_user, net, changes, name, words):
    response = as_user.post(reverse("nets:tow_new", args=[net.pk]), tow_entries(**changes))
    assert response.status_code == 200
    assert words in " ".join(response.context["form"].errors[name])
    assert response.context["form"]["shine_port_corner"].value() == tow_entries(**changes).get(
        "shine_port_corner"
    )
    assert not Tow.objects.exists()


def test_the_log_shows_heights_sides_and_advice(as_user, net):
    make_tow(net)
    page = as_user.get(reverse("nets:log", args=[net.pk])).content.decode()
    tuning = shine_log.read(net).tuning
    assert page.count("<svg") == 2
    assert "the port side flew lower" in page
    assert tuning.uneven
    assert tuning.advice
    for advice in tuning.advice:
        assert advice.text in page
    assert standard().allowed_text in page
    assert "3.2 percent" in page  # 30 lb in 930 lb


def log_page(as_user, net):
    return " ".join(as_user.get(reverse("nets:log", args=[net.pk])).content.decode().split())


def shines(**places):
    """Return the entries of a tow with this shine, and none anywhere else."""
    blank = {name: "" for name in tow_entries() if name.startswith("shine_")}
    return blank | {f"shine_{place}": size for place, size in places.items()}


EVERYWHERE = ("center", "port_wing", "port_corner", "starboard_wing", "starboard_corner")


@pytest.mark.parametrize(
    ("entries", "says", "never"),
    [
        (shines(center="30 in"), ["Read the shine again", "One dropper cannot tell"], ["float"]),
        (
            shines(port_wing="30 in", port_corner="30 in"),
            ["Read the shine again", "Read the same place on both sides to compare"],
            ["flew level", "Try this first"],
        ),
        (
            shines(**dict.fromkeys(EVERYWHERE, "0")),
            ["No dropper showed any shine", "at least", "0 in"],
            ["Try this first", "Leave it as it is"],
        ),
        (
            shines(**dict.fromkeys(EVERYWHERE, "14 in")),
            ["flew level, as closely as shine can show", "Leave it as it is", "no source"],
            ["lower on", "Try this first"],
        ),
        (
            shines(port_corner="2 in", starboard_corner="9 in"),
            [
                "Look at this first",
                "both sides against each other",
                "starboard side flew lower",
                "the mean of two sides that differ",
            ],
            ["Leave it as it is", "space all", "Worked out under tow it is"],
        ),
        (
            shines(**dict.fromkeys(EVERYWHERE, "30 in")),
            [
                "Try this first",
                "space all",
                "It may rise hardly at all, or by as much as",
                "Check the changed net against the rules before you tow it",
                "How this is worked out",
            ],
            ["keeps every rule", "legal net"],
        ),
    ],
)
def test_what_the_page_says_of_a_single_tow(as_user, net, entries, says, never):
    make_tow(net, speed="2.4 kn", **entries)
    page = log_page(as_user, net)
    for words in says:
        assert words in page
    advice = page[page.index("<h1>") : page.index("Bottom animals in the catch</h2>")]
    for words in never:
        assert words not in advice
    assert "no change of this net yet" in page


def test_the_page_says_what_is_broken_and_never_that_it_is_not(as_user, user):
    net = make_net(user, top_leg="10 fm", bottom_leg="9 fm 3 ft")
    make_tow(net, **shines(**dict.fromkeys(EVERYWHERE, "30 in")))
    page = log_page(as_user, net)
    assert "Measure the legs and cables first" in page
    assert "3 ft apart" in page
    assert "Try this first" not in page


def test_a_fall_overnight_is_a_snag_until_it_was_looked_for(as_user, net):
    for day, size in (("2026-05-04", "12 in"), ("2026-05-05", "12 in"), ("2026-05-06", "28 in")):
        make_tow(net, day=day, **shines(**dict.fromkeys(EVERYWHERE, size)))
    page = log_page(as_user, net)
    assert "Look at this first" in page
    assert "something snagged, and for crushed or lost floats" in page
    assert "Try this first" not in page


def test_the_bottom_makes_the_range_smaller(user):
    net = make_net(user)
    tows = [
        make_tow(net, bottom=bottom, **shines(**dict.fromkeys(EVERYWHERE, "14 in")))
        for bottom in ("", "sand")
    ]
    assert [tow.measures["bottom"] for tow in tows] == ["", "sand"]
    wide, narrow = shine_log.read(net).heights
    assert wide.low < narrow.low < narrow.high < wide.high
    assert wide.model == pytest.approx(narrow.model)


def test_the_last_change_is_compared_with_what_was_foretold(as_user, net):
    level = {name: "20 in" for name in tow_entries() if name.startswith("shine_")}
    for _ in range(2):
        make_tow(net, **level)
    assert "no change of this net yet" in log_page(as_user, net)
    net.measures = net.measures | {"float_count": 15}
    net.save()
    net = type(net).objects.get(pk=net.pk)
    make_tow(net, **level | {"shine_center": "12 in"})
    assert "2 before it, 1 after it" in log_page(as_user, net)
    make_tow(net, **dict.fromkeys(level, "12 in"))
    page = log_page(as_user, net)
    assert "The last change: expected up" in page


def test_a_deleted_tow_says_nothing_more(as_user, net):
    level = dict.fromkeys(EVERYWHERE, "14 in")
    make_tow(net, day="2026-05-04", **shines(**level))
    odd = make_tow(net, day="2026-05-05", **shines(**dict.fromkeys(EVERYWHERE, "30 in")))
    assert "Look at this first" in log_page(as_user, net)
    odd.put_aside()
    page = log_page(as_user, net)
    assert "Leave it as it is" in page
    assert "Restore" in page


def test_advice_never_breaks_a_rule_that_is_kept(user):
    net = make_net(user)
    for shine in ("2 in", "8 in", "20 in", "36 in"):
        entries = {name: shine for name in tow_entries() if name.startswith("shine_")}
        make_tow(net, **entries)
        log = shine_log.read(net)
        for advice in log.tuning.advice:
            assert not advice.verdict.missed_keys - log.plan.after.missed_keys


def test_a_tow_is_read_with_the_net_as_the_rules_of_its_day_wanted_it(net, monkeypatch):
    today = timezone.localdate()
    tows = [
        make_tow(net, day=str(today - timedelta(days=back)), key=str(uuid.uuid4()))
        for back in (2, 1, 0)
    ]
    before = [tow.rig() for tow in tows]
    move_on(monkeypatch, today - timedelta(days=1), limits={"dropper_spacing": 5 * FOOT})
    after = [tow.rig() for tow in tows]
    assert after[0] == before[0]
    assert len(after[1].droppers) > len(before[1].droppers)
    assert after[1] == after[2] == net.plan().planned
    assert [each.tow.rig for each in shine_log.read(net).heights] == after


def test_a_tow_older_than_all_rules_is_read_by_those_of_today(net):
    tow = make_tow(net, day="1999-05-04")
    assert tow.rig() == net.plan().planned


def test_a_log_without_tows_asks_for_the_first(as_user, net):
    page = as_user.get(reverse("nets:log", args=[net.pk])).content.decode()
    assert "Add the first tow" in page


def test_a_later_change_of_the_net_leaves_old_heights_alone(user):
    net = make_net(user)
    make_tow(net)
    before = shine_log.read(net).tuning
    net.measures = net.measures | {"plan_length": 48 * INCH}
    net.save()
    net = type(net).objects.get(pk=net.pk)
    after = shine_log.read(net).tuning
    assert after.tows[0].model == pytest.approx(before.tows[0].model)
    assert before.used
    assert not after.used


def test_a_log_of_another_rig_alone_asks_for_a_tow(as_user, user):
    net = make_net(user)
    make_tow(net)
    net.measures = net.measures | {"plan_length": 48 * INCH}
    net.save()
    page = log_page(as_user, net)
    assert "Tow the net as it is now" in page
    assert "No tow has been made yet with the net as it is now" in page
    for words in ("How it flies", "What to do, first", "Leave it as it is", "From 0"):
        assert words not in page


def test_a_small_net_asks_only_where_it_has_droppers(as_user, user):
    net = make_net(user, bosom="6 ft", port_wing="4 ft", headrope="10 ft", sweep_length="20 ft")
    page = as_user.get(reverse("nets:tow_new", args=[net.pk])).content.decode()
    assert "shine_center" in page
    assert "shine_port_wing" not in page


def test_counted_baskets_give_an_exact_interval(as_user, user):
    net = make_net(user)
    make_tow(net, baskets="40", bottom_baskets="1")
    page = as_user.get(reverse("nets:log", args=[net.pk])).content.decode()
    assert "By count of baskets" in page


def test_changing_deleting_and_putting_back(as_user, net):
    tow = make_tow(net)
    page = as_user.get(reverse("nets:tow_edit", args=[tow.pk])).content.decode()
    assert 'value="2.8 kn"' in page
    as_user.post(reverse("nets:tow_edit", args=[tow.pk]), tow_entries(speed="3 kn"))
    tow.refresh_from_db()
    assert tow.measures["speed"] == pytest.approx(3 * KNOT)
    as_user.post(reverse("nets:tow_delete", args=[tow.pk]))
    assert shine_log.read(net).tuning is None
    as_user.post(reverse("nets:tow_restore", args=[tow.pk]))
    assert len(shine_log.read(net).tows) == 1


def test_others_find_no_tow(as_staff, net):
    tow = make_tow(net)
    assert as_staff.get(reverse("nets:tow_edit", args=[tow.pk])).status_code == 404
    for name in ("tow_delete", "tow_restore"):
        assert as_staff.post(reverse(f"nets:{name}", args=[tow.pk])).status_code == 404
    url = reverse("nets:tow_new", args=[net.pk])
    assert as_staff.post(url, tow_entries(key=str(uuid.uuid4()))).status_code == 404


def test_advice_rests_on_the_latest_tows_and_the_share_on_all(user):
    net = make_net(user)
    for number in range(shine_log.RECENT + 3):
        make_tow(net, catch_bottom="0" if number else "930 lb")
    log = shine_log.read(net)
    assert len(log.heights) == log.bycatch.tows == shine_log.RECENT + 3
    assert len(log.tuning.tows) == shine_log.RECENT


def test_tows_are_drawn_in_the_order_they_were_made(user):
    net = make_net(user)
    today = timezone.localdate()
    for back in (1, 9, 4):
        make_tow(net, day=(today - timedelta(days=back)).isoformat())
    days = [tow.day for tow in shine_log.read(net).tows]
    assert days == sorted(days)


def test_the_share_of_bottom_animals_is_told_with_its_range_or_that_it_cannot_be(as_user, net):
    make_tow(net)
    assert "Too few tows to tell." in log_page(as_user, net)
    for _ in range(3):
        make_tow(net, catch_bottom="0")
    # Mostly clean, which an ordinary interval would take for proof.
    page = log_page(as_user, net)
    assert "Too few tows to tell." in page
    assert "By weight, tow by tow: 0.8 percent, with too few tows to say how high" in page
    assert "under the standard" not in page.replace("said to be under", "")
    for _ in range(16):
        make_tow(net, catch_bottom="1")
    page = log_page(as_user, net)
    assert "As far as these tows can show, the share is under" in page
    assert "By weight, tow by tow: 0.3 percent, likely between" in page
    for number in range(6):
        make_tow(net, catch_bottom=str(2000 + number))
    page = log_page(as_user, net)
    assert "No single trip breaks a rule by being over it." in page


def test_a_height_lies_between_the_bottom_and_the_chain_s_length(user):
    net = make_net(user)
    make_tow(net)
    for place in shine_log.read(net).tuning.tows[0].places:
        assert 0 <= place.low <= place.model <= place.high <= place.rule + 1e-9 < 3.5 * FOOT
