"""What is to be done again and again is done once a time, by whichever worker comes first."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.core.management import get_commands

from tests.work.conftest import work_off
from training.work import clock, daily
from training.work.models import Job

NEW_YORK = ZoneInfo("America/New_York")


def at(*told):
    return datetime(*told, tzinfo=NEW_YORK)


@pytest.mark.parametrize(
    ("period", "now", "due"),
    [
        (clock.DAY, at(2026, 7, 1, 15), at(2026, 7, 1, 4)),
        (clock.DAY, at(2026, 7, 1, 3, 59), at(2026, 6, 30, 4)),
        # The clocks go back on November 1, 2026, and forward on March 8.
        (clock.DAY, at(2026, 11, 2, 3), at(2026, 11, 1, 4)),
        (clock.DAY, at(2026, 3, 9, 3), at(2026, 3, 8, 4)),
        (clock.HOUR, at(2026, 7, 1, 15, 59), at(2026, 7, 1, 15)),
        (5 * clock.MINUTE, at(2026, 7, 1, 15, 9, 59), at(2026, 7, 1, 15, 5)),
    ],
)
def test_when_it_was_due_last(period, now, due, settings):
    settings.TIME_ZONE = "America/New_York"
    assert clock.Repeated("some", period).due(now) == due


def test_every_command_is_one():
    assert set(clock.repeated) <= set(get_commands())


@pytest.mark.django_db
def test_each_time_is_asked_for_once(monkeypatch, settings):
    settings.TIME_ZONE = "America/New_York"
    monkeypatch.setattr(clock, "repeated", {})
    monkeypatch.setattr(daily, "repeated", clock.repeated)
    clock.every(clock.DAY, "clear_work")
    clock.every(clock.HOUR, "clearsessions", wanted=lambda: False)
    now = at(2026, 7, 1, 15)
    for moment in (now, now + timedelta(hours=2), now + clock.DAY):
        daily.ask(moment)
        daily.ask(moment)
    assert [job.about for job in Job.objects.all()] == [{"command": "clear_work"}] * 2
    work_off()
    assert set(Job.objects.values_list("state", flat=True)) == {Job.State.DONE}
