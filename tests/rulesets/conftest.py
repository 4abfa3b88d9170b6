import uuid
from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.conf import settings
from django.utils import timezone

from rigs.rules.text import write
from tests.rigs.rig_factory import with_limit
from training.rulesets import drafting, impact, trial


@pytest.fixture(autouse=True, scope="session")
def tried_once():
    """Try each kind of exercise once on each text of a rule set: many tests draft the same."""
    whole, known = trial._exercises, {}

    def once(kind, book):
        asked = kind, write(book), trial._Patience.left
        if asked not in known:
            known[asked] = list(whole(kind, book))
        return known[asked]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(trial, "_exercises", once)
        yield


def local(day, hour=12, minute=0, second=0):
    """Return an aware moment of ``day`` by the site's clock."""
    return datetime(
        day.year, day.month, day.day, hour, minute, second, tzinfo=ZoneInfo(settings.TIME_ZONE)
    )


def altered(book, drop=(), limits=None, **changes):
    """Return ``book`` without some rules, with other limits (key to SI), and other ``changes``."""
    rules = tuple(
        with_limit(rule, limits[rule.key]) if limits and rule.key in limits else rule
        for rule in book.requirements
        if rule.key not in drop
    )
    return replace(book, requirements=rules, **changes)


def make_draft(by, name="no-sweep", first=None, drop=(), limits=None, **changes):
    """Return a draft of a later version of the rule set ``name``, altered as told."""
    draft = drafting.start(name, uuid.uuid4(), by)
    first = first or timezone.localdate() + timedelta(days=30)
    book = altered(draft.book, drop, limits, effective_from=first, **changes)
    return drafting.change(draft, book, "The rule was changed.", by)


def count(version):
    """Return the whole Impact of ``version``."""
    counted = impact.begin(version)
    while counted.todo:
        counted = impact.carry_on(counted, 60)
    return counted


@pytest.fixture
def approve(second, django_capture_on_commit_callbacks):
    """A function that has a draft counted, submitted and approved by ``second``."""

    def approved(version, now=None):
        count(version)
        drafting.submit(version, version.drafted_by, now)
        with django_capture_on_commit_callbacks(execute=True):
            return drafting.approve(version, second, now)

    return approved


@pytest.fixture
def on_day(monkeypatch):
    """A function that has the site's clock stand at noon of a day."""

    def stand(day):
        monkeypatch.setattr(timezone, "now", lambda: local(day))

    return stand


NEW_YEAR = date(2030, 1, 1)
