"""The net of the trainee to sign in as, rigged as planned, and the log of its tows: invented."""

import uuid
from datetime import timedelta

from training.nets import entering
from training.nets.forms import NetForm
from training.nets.log_forms import TowForm
from training.nets.models import Tow, planned_of

KEYS = uuid.UUID("7a1d5c0e-0c7e-4b54-9a53-3f6f5b0d6a10")
"""Each net and tow has a key made of this and its name, the same each time."""

NET = {
    "name": "Gray net",
    "goal": "no-sweep",
    "bosom": "16 ft",
    "port_wing": "20 ft",
    "headrope": "50 ft",
    "has_sweep": "yes",
    "sweep_chain": "3/8 in",
    "sweep_length": "64 ft",
    "droppers": "some",
    "dropper_spacing": "10 ft",
    "dropper_length": "12 in",
    "dropper_chain": "3/8 in",
    "dropper_count": "1",
    "dropper_bare": "yes",
    "float_count": "9",
    "float_size": "8 in",
    "top_leg": "10 fm",
    "bottom_leg": "10 fm",
    "top_wire": "1/2 in",
    "bottom_wire": "1/2 in",
    "legs_extended": "no",
    "cable": "28 fm",
    "cable_wire": "3/4 in",
    "wire_bare": "yes",
}
RIGGED = timedelta(days=30)  # before the season ends
# Days before the season ends, and what was written down: the port side hangs low at first.
TOWS = (
    (
        24,
        {
            "ground": "Off the bell buoy",
            "depth": "22 fm",
            "speed": "2.8 kn",
            "shine_port_corner": "13 in",
            "shine_center": "10 in",
            "shine_starboard_corner": "9 in",
            "catch_target": "640 lb",
            "catch_bottom": "38 lb",
        },
    ),
    (
        17,
        {
            "ground": "Off the bell buoy",
            "depth": "22 fm",
            "speed": "2.7 kn",
            "changed": "Moved two floats to the port wing.",
            "shine_port_corner": "11 in",
            "shine_center": "9 in",
            "shine_starboard_corner": "9 in",
            "catch_target": "710 lb",
            "catch_bottom": "29 lb",
        },
    ),
    (
        6,
        {
            "ground": "Long hollow",
            "depth": "27 fm",
            "speed": "2.8 kn",
            "shine_port_corner": "9 in",
            "shine_center": "8 in",
            "shine_starboard_corner": "8 in",
            "catch_target": "820 lb",
            "catch_bottom": "24 lb",
        },
    ),
)


def _key(name):
    return uuid.uuid5(KEYS, name)


def load(owner, season_ends):
    """Give ``owner`` a net, said to be rigged, and its tows up to the date ``season_ends``."""
    net = entering.save(owner, _valid(NetForm(NET | {"key": str(_key("net"))})))
    net.say_rigged(_key("rigged"), season_ends - RIGGED)
    for before, told in TOWS:
        _tow(net, season_ends - timedelta(days=before), told)


def _tow(net, day, told):
    was = net.towed(day)
    entries = told | {"key": str(_key(f"tow {day}")), "day": day.isoformat()}
    entries |= {"speed_over": "water", "bottom": "", "tide": ""}
    form = _valid(TowForm(entries, rig=planned_of(was, day)))
    Tow.objects.create(
        net=net,
        key=form.cleaned_data["key"],
        day=day,
        typed=form.typed,
        measures=form.measures,
        net_was=was,
    )


def _valid(form):
    if not form.is_valid():
        raise ValueError(form.errors.as_text())  # the form asks more than is invented here
    return form
