"""Made-up vessels and events for the tests of the fleet."""

import uuid
from datetime import date

from rigs.words.units import FOOT
from training.register import events
from training.register.models import Vessel


def make_vessel(name="Sanderling", harbor="Kettle Harbor", feet=50, **fields):
    """Return a saved vessel."""
    return Vessel.objects.create(name=name, harbor=harbor, length=feet * FOOT, **fields)


def new_key():
    """Return a key for an event that no other has."""
    return f"test:{uuid.uuid4()}"


def happen(vessel, stage, day, **told):
    """Return the event, recorded, that ``vessel`` reached ``stage`` on ``day``, a date or ISO."""
    day = date.fromisoformat(day) if isinstance(day, str) else day
    return events.record(vessel, stage, day, **{"key": new_key(), **told})
