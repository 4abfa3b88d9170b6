import random
import uuid
from datetime import date

import pytest

from rigs.check import written
from rigs.make import sample
from rigs.rules import rulebook
from training.checks import keeping

DAY = date(2026, 11, 24)


def typed_rig(name="no-sweep", **changes):
    """Return what an officer would write about a legal rig, changed as told."""
    book = rulebook.load(name)
    return written.typed(sample.legal_rig(random.Random(4), book)) | changes


def content(**changes):
    """Return the content of a save, changed as told."""
    return {
        "vessel_name": "Sanderling",
        "harbor": "Kettle Harbor",
        "position": "",
        "day": DAY,
        "rulebook_name": "no-sweep",
        "typed": typed_rig(),
        "notes": "",
        "photo_keys": [],
    } | changes


def entry(name, text, **changes):
    """Return an entry of a log as a phone makes it, changed as told."""
    told = {"id": uuid.uuid4().hex, "name": name, "text": text, "how": "measured", "tool": "tape"}
    return told | {"at": "2026-11-24T07:30:00-05:00", "struck": "", "why": ""} | changes


def make_check(officer, hands_in=False, **changes):
    """Return a sheet of ``officer`` as saved once."""
    told = content(**changes)
    return keeping.keep(officer, uuid.uuid4(), keeping.SITE, 1, told, hands_in)


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    """Keep photos out of the way of any others."""
    settings.MEDIA_ROOT = tmp_path / "media"
    return settings.MEDIA_ROOT


@pytest.fixture
def check(officer):
    return make_check(officer)
