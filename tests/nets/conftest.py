import uuid

import pytest

from training.nets.forms import NetForm
from training.nets.log_forms import TowForm
from training.nets.models import Net, Tow

SWEEP_NET = {
    "name": "Gray net",
    "goal": "no-sweep",
    "bosom": "16 ft",
    "port_wing": "20'",
    "headrope": "8 fm 2 ft",
    "has_sweep": "yes",
    "sweep_chain": "3/8 in",
    "sweep_length": "64 ft",
    "droppers": "some",
    "dropper_spacing": "10",
    "dropper_length": "12",
    "dropper_chain": "3/8 in",
    "dropper_count": "1",
    "dropper_bare": "yes",
    "float_count": "9",
    "float_size": "8 in",
    "top_leg": "10 fm",
    "bottom_leg": "10",
    "top_wire": "1/2",
    "bottom_wire": "1/2",
    "legs_extended": "no",
    "cable": "28 fm",
    "cable_wire": "3/4 in",
    "wire_bare": "yes",
}
TOW = {
    "day": "2026-05-04",
    "speed": "2.8 kn",
    "speed_over": "water",
    "shine_port_wing": "14 in",
    "shine_port_corner": "14",
    "shine_center": "10 in",
    "shine_starboard_corner": "6 in",
    "shine_starboard_wing": "6",
    "catch_target": "900 lb",
    "catch_bottom": "30 lb",
    "catch_other": "",
}


def net_entries(**changes):
    """Return what a browser posts for a net, changed as told."""
    return SWEEP_NET | {"key": str(uuid.uuid4())} | changes


def tow_entries(**changes):
    """Return what a browser posts for a tow, changed as told."""
    return TOW | {"key": str(uuid.uuid4())} | changes


def make_net(owner, **changes):
    """Return a net of ``owner`` as the form would have made it."""
    form = NetForm(net_entries(**changes))
    assert form.is_valid(), form.errors
    return Net.objects.create(
        owner=owner,
        key=form.cleaned_data["key"],
        name=form.cleaned_data["name"],
        goal=form.cleaned_data["goal"],
        typed=form.typed,
        measures=form.measures,
    )


def make_tow(net, **changes):
    """Return a tow of ``net`` as the form would have made it."""
    form = TowForm(tow_entries(**changes), rig=net.plan().planned)
    assert form.is_valid(), form.errors
    return Tow.objects.create(
        net=net,
        key=form.cleaned_data["key"],
        day=form.cleaned_data["day"],
        typed=form.typed,
        measures=form.measures,
        net_was=net.told,
    )


@pytest.fixture
def net(user):
    return make_net(user)
