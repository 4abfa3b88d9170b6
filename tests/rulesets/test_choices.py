"""What forms offer is read when they are shown, not when the site is started."""

import os
import subprocess
import sys
import uuid
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from django.utils import timezone

from rigs.rules import rulebook
from rigs.rules.text import write
from tests.rulesets.test_shelf import PREPARE
from training.calibration.forms import RoundForm
from training.certification.forms import RequirementsForm
from training.checks.head_form import StartForm
from training.nets.forms import NetForm
from training.people.models import User
from training.register.vessels.forms import VesselForm
from training.rulesets.forms import WholeForm
from training.trips.forms import TripForm

pytestmark = pytest.mark.django_db


def offered():
    """Return {form and field: names of the rule sets offered}."""
    forms = {
        "a check sheet": StartForm()["rulebook_name"],
        "a net": NetForm()["goal"],
        "a trip": TripForm(owner=User(pk=0))["gear"],
        "a round": RoundForm()["rulebook_name"],
        "an exam": RequirementsForm()["rulebooks"],
        "a vessel": VesselForm(user=User(pk=0))["gear"],
        "a draft": WholeForm()["gear"],
    }
    return {what: dict(field.field.choices) for what, field in forms.items()}


def test_a_version_in_force_is_offered_as_it_is_now_called():
    today = timezone.localdate()
    before = offered()
    book = replace(
        rulebook.load("no-sweep"), version="new", effective_from=today, title="Under a new name"
    )
    with rulebook.trying("new.yaml", write(book)):
        now = offered()
    for what in before:
        assert now[what]["no-sweep"] == "Under a new name", what
        assert before[what]["no-sweep"] != "Under a new name", what
    assert offered() == before


def test_a_new_rule_set_is_offered_at_once():
    whiting = rulebook.load("whiting")
    gear = replace(rulebook.load("no-sweep"), name="half-sweep", title="Half a sweep")
    fishery = replace(whiting, gear=(*whiting.gear, "half-sweep"), version="new")
    fishery = replace(fishery, effective_from=whiting.effective_from + timedelta(days=1))
    with (
        rulebook.trying("half-sweep.yaml", write(gear)),
        rulebook.trying("whiting-new.yaml", write(fishery)),
    ):
        assert all("half-sweep" in names for names in offered().values())
    assert not any("half-sweep" in names for names in offered().values())


# Its first day must come before anybody goes by it: the clock is put on.
APPROVE = """
import django; django.setup()
from dataclasses import replace
from training.people.models import User
from training.rulesets import drafting
from tests.rulesets.conftest import count, make_draft
people = [
    User.objects.create_user(f"{n}@example.com", name=n, role="staff", whole_fleet=True)
    for n in "ab"
]
draft = make_draft(people[0], limits={"dropper_spacing": 2.0}, title="Under a new name")
count(draft)
drafting.submit(draft, people[0])
drafting.approve(draft, people[1])
"""
OFFERED = """
import datetime
import django; django.setup()
from django.utils import timezone
now = timezone.now() + datetime.timedelta(days=40)
timezone.now = lambda: now
from tests.rulesets.test_choices import offered
print(*{names["no-sweep"] for names in offered().values()}, sep=";")
"""


@pytest.mark.one_database  # its processes have an SQLite of their own
def test_a_fresh_process_goes_by_what_was_approved(tmp_path):
    environment = {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "training.settings",
        "DATABASE_URL": f"sqlite:///{tmp_path / 'site.sqlite3'}",
        "SITE_DEMO": "1",
        "SECRET_KEY": f"for this test only {uuid.uuid4()}",
    }

    def run(script):
        done = subprocess.run(
            [sys.executable, "-c", script],
            env=environment,
            cwd=Path(__file__).resolve().parents[2],
            capture_output=True,
            text=True,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout.strip()

    run(PREPARE)
    run(APPROVE)
    assert run(OFFERED) == "Under a new name"
