"""Entering, keeping and changing one's own nets."""

import re
import uuid

import pytest
from django.urls import reverse

from rigs.rules.wording import FROM_MEMORY
from rigs.words.units import FATHOM, FOOT, INCH
from tests.nets.conftest import make_net, make_tow, net_entries
from training.nets.models import Net

pytestmark = pytest.mark.django_db


def test_what_was_typed_is_kept_beside_its_measure(as_user):
    response = as_user.post(reverse("nets:net_new"), net_entries())
    net = Net.objects.get()
    assert response.url == net.get_absolute_url()
    assert net.typed["headrope"] == "8 fm 2 ft"
    assert net.measures["headrope"] == pytest.approx(8 * FATHOM + 2 * FOOT)
    assert net.measures["dropper_length"] == pytest.approx(12 * INCH)
    page = as_user.get(reverse("nets:net_edit", args=[net.pk])).content.decode()
    assert 'value="8 fm 2 ft"' in page


def test_three_lengths_and_the_sweep_are_enough(as_user):
    entries = {
        name: text
        for name, text in net_entries().items()
        if name in ("key", "name", "goal", "bosom", "port_wing", "headrope", "has_sweep")
    }
    response = as_user.post(reverse("nets:net_new"), entries, follow=True)
    assert response.status_code == 200
    assert "things are still to measure" in response.content.decode()


def test_the_same_form_sent_twice_makes_one_net(as_user):
    entries = net_entries()
    first = as_user.post(reverse("nets:net_new"), entries)
    second = as_user.post(reverse("nets:net_new"), entries)
    assert first.url == second.url
    assert Net.objects.count() == 1


def test_two_people_may_make_up_the_same_key(as_user, as_officer):
    entries = net_entries()
    as_user.post(reverse("nets:net_new"), entries)
    as_officer.post(reverse("nets:net_new"), entries)
    assert Net.objects.count() == 2


def test_what_few_nets_have_is_asked_about_and_then_taken(as_user):
    told = net_entries(bosom="900 ft", headrope="900 ft")
    asked = as_user.post(reverse("nets:net_new"), told)
    form = asked.context["form"]
    assert "longer than any bosom this site has seen" in " ".join(form.errors["bosom"])
    assert "these lengths are right" in asked.content.decode()
    assert not Net.objects.exists()
    as_user.post(reverse("nets:net_new"), told | {"sure": "on"})
    net = Net.objects.get()
    assert net.measures["bosom"] == pytest.approx(900 * FOOT)
    assert "sure" not in net.typed


def test_what_is_usual_is_not_asked_about(as_user):
    page = as_user.get(reverse("nets:net_new")).content.decode()
    assert "these lengths are right" not in page
    wrong = as_user.post(reverse("nets:net_new"), net_entries(headrope="3000 ft"))
    assert "these lengths are right" not in wrong.content.decode()


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("bosom", "16 furlongs", "not a unit known here"),
        ("bosom", "0", "Enter more than zero"),
        ("headrope", "8 in", "shorter than on any net"),
        ("headrope", "3000 ft", "longer than any net"),
        ("dropper_length", "42 kg", "not a unit known here"),
        ("starboard_places", "8 ft, 40 ft", "is past the wing end"),
        ("dropper_spacing", "", "how far apart"),
        ("dropper_spacing", "1 mm", "more droppers than any net"),
        ("float_count", "-1", "greater than or equal to 0"),
        ("has_sweep", "", "required"),
        ("goal", "chain-sweep", "not one of the available choices"),
        ("sweep_chain", "9 in", "not one of the available choices"),
    ],
)
def test_what_cannot_be_read_is_told_beside_the_field(as_user, name, text, words):
    response = as_user.post(reverse("nets:net_new"), net_entries(**{name: text}))
    assert response.status_code == 200
    form = response.context["form"]
    assert words in " ".join(form.errors[name])
    page = response.content.decode()
    assert f'id="error_1_id_{name}"' in page or f'id="id_{name}_error"' in page
    # All that was typed is still there.
    assert form["top_leg"].value() == "10 fm"
    assert not Net.objects.exists()


def test_places_may_be_listed(user):
    net = make_net(user, dropper_spacing="", port_places="0, 8 ft, 16 ft", starboard_places="8 ft")
    places = [round(each.position / FOOT, 6) for each in net.present().droppers]
    assert places == [-16, -8, 0, 8]


def test_the_plan_page_says_all_of_the_plan(as_user, net):
    page = as_user.get(net.get_absolute_url()).content.decode()
    plan = net.plan()
    for step in plan.steps:
        assert step.title in page
        assert step.caution in page
    assert plan.carry.text in page
    assert " ".join(page.split()).count(FROM_MEMORY) == 1
    lines = re.findall(r'<th scope="row" role="rowheader">\s*([^<]+?)\s*<', page)
    # Of this net every place has its like on the other side, but for the center.
    assert lines[:4] == ["Center", "Both corners", "Both wings", "Both wings"]
    assert lines[4 : 4 + len(plan.shopping)] == [
        f"{item.what[0].upper()}{item.what[1:]}" for item in plan.shopping
    ]
    assert "meets every rule" in page
    assert "Before you rely on this" in page
    assert '<svg xmlns="http://www.w3.org/2000/svg"' in page


def test_a_net_that_cannot_be_made_legal_is_told_why(as_user, user):
    net = make_net(user, headrope="30 ft")
    page = as_user.get(net.get_absolute_url()).content.decode()
    assert "does not meet the rules yet: 1 thing to fix" in page
    assert net.plan().after.finding("footrope_excess").remedy in page


@pytest.mark.parametrize("goal", ["grate", "whiting", "small-mesh-1", "small-mesh-2"])
def test_every_goal_has_a_plan(as_user, user, goal):
    net = make_net(user, goal=goal, mesh="2 1/2 in", mesh_count="100", vessel_length="61 ft")
    assert as_user.get(net.get_absolute_url()).status_code == 200


def test_the_drawing_is_made_from_what_was_typed_so_far(as_user):
    url = reverse("nets:net_preview")
    nothing = as_user.post(url, {"bosom": "16"}).content.decode()
    assert "<svg" not in nothing
    drawn = as_user.post(
        url, {"bosom": "16", "port_wing": "20", "headrope": "50", "cable": "what"}
    ).content.decode()
    assert "<svg" in drawn
    assert "Ground cable" in drawn
    assert not Net.objects.exists()


def test_without_a_script_a_button_draws_and_keeps_nothing(as_user):
    page = as_user.post(reverse("nets:net_new"), net_entries(look="1")).content.decode()
    assert "<svg" in page
    assert not Net.objects.exists()


def test_editing_changes_the_net(as_user, net):
    url = reverse("nets:net_edit", args=[net.pk])
    as_user.post(url, net_entries(port_wing="24 ft", name="Other"))
    net.refresh_from_db()
    assert (net.typed["port_wing"], net.name) == ("24 ft", "Other")
    assert Net.objects.count() == 1


def test_renaming(as_user, net):
    url = reverse("nets:net_rename", args=[net.pk])
    assert as_user.post(url, {"name": " "}).status_code == 200
    as_user.post(url, {"name": "Blue net"})
    net.refresh_from_db()
    assert net.name == "Blue net"


def test_copying_twice_by_one_button_makes_one_copy(as_user, net):
    url, key = reverse("nets:net_copy", args=[net.pk]), str(uuid.uuid4())
    first = as_user.post(url, {"key": key})
    second = as_user.post(url, {"key": key})
    assert first.url == second.url != net.get_absolute_url()
    assert Net.objects.count() == 2
    twin = Net.objects.exclude(pk=net.pk).get()
    assert twin.measures == net.measures


def test_a_copy_without_a_key_is_not_made(as_user, net):
    as_user.post(reverse("nets:net_copy", args=[net.pk]), {"key": "what"})
    assert Net.objects.count() == 1


def test_deleting_can_be_undone(as_user, net):
    make_tow(net)
    response = as_user.post(reverse("nets:net_delete", args=[net.pk]), follow=True)
    assert "Restore" in response.content.decode()
    assert as_user.get(net.get_absolute_url()).status_code == 404
    as_user.post(reverse("nets:net_restore", args=[net.pk]))
    assert as_user.get(net.get_absolute_url()).status_code == 200
    assert net.tows.there().count() == 1


PAGES = ["net", "net_edit", "net_rename", "net_sheet_pdf", "net_sheet_png", "log", "tow_new"]


@pytest.mark.parametrize("name", PAGES)
def test_others_find_nothing(as_staff, client, net, name):
    url = reverse(f"nets:{name}", args=[net.pk])
    assert as_staff.get(url).status_code == 404
    assert client.get(url).status_code == 302


@pytest.mark.parametrize("name", ["net_copy", "net_delete", "net_restore"])
def test_others_can_do_nothing(as_staff, as_user, net, name):
    url = reverse(f"nets:{name}", args=[net.pk])
    assert as_staff.post(url, {"key": str(uuid.uuid4())}).status_code == 404
    assert as_user.get(url).status_code == 405
    net.refresh_from_db()
    assert net.deleted is None
    assert Net.objects.count() == 1


def test_the_list_is_one_s_own(as_user, as_officer, net):
    assert net.name in as_user.get(reverse("nets:nets")).content.decode()
    assert net.name not in as_officer.get(reverse("nets:nets")).content.decode()
