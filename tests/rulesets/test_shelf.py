"""Approved versions reach every process, on time, and no old mark changes."""

import os
import subprocess
import sys
import uuid
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from django.db import DatabaseError, connection
from django.urls import reverse

from rigs.rules import rulebook
from rigs.words.units import FOOT
from tests.exercises.conftest import right_answer
from tests.rulesets.conftest import NEW_YEAR, make_draft
from training.certification import audit
from training.exercises import handing, kinds
from training.exercises.models import Assignment
from training.lessons.loader import all_lessons
from training.rulesets import drafting, impact, report, shelf
from training.rulesets.models import NOTICE

EVE = NEW_YEAR - timedelta(days=1)
TIGHT = {"dropper_spacing": 7 * FOOT, "dropper_length": 45 * 0.0254}


@pytest.fixture
def approved(staff, approve):
    """A tighter version of the rules without a sweep, approved for NEW_YEAR."""
    return approve(make_draft(staff, first=NEW_YEAR, limits=TIGHT))


CHANGING = """\
name: invented
version: "1"
title: Invented rules
summary: For tests; no regulation has them.
citation: Made-up rules
effective:
  from: 2020-01-01
requirements:
  - key: float_spacing
    title: Space between floats
    test: at most
    limit: 4 ft
    clause: Made-up rule 1
    known: memory
    later:
      - {from: 2030-01-01, limit: 3 ft, clause: Made-up rule 2, known: read}
    why: Even lift.
    remedy: Add floats.
"""


@pytest.mark.django_db
class TestDatedLimit:
    @pytest.fixture(autouse=True)
    def _on_the_shelf(self):
        with rulebook.trying("invented.yaml", CHANGING):
            yield

    def test_the_list_says_what_changes_and_when(self, as_staff, staff):
        found = {book.name: rows for book, rows, _ in report.shelf(staff)}
        later, first = found["invented"]
        assert (first.version, first.standing, first.changes) == ("1", "in force", ())
        assert (later.version, later.standing) == ("1.2030-01-01", "to come")
        assert [change.now for change in later.changes] == ["at most 3 ft"]
        page = as_staff.get(reverse("rulesets:shelf")).content.decode()
        assert "Jan 1, 2030<br>Space between floats: at most 3 ft" in page

    def test_a_draft_starts_from_the_last_value_and_after_it(self, staff):
        draft = drafting.start("invented", uuid.uuid4(), staff)
        assert draft.version == "2"
        assert draft.effective_from > NEW_YEAR
        assert draft.book.requirement("float_spacing").limit_text == "3 ft"
        assert impact.taken_over(draft).version == "1.2030-01-01"
        assert [each.what for each in report.differences(draft).head] == [
            "Version",
            "Takes effect",
        ]
        early = replace(draft.book, effective_from=NEW_YEAR - timedelta(days=1))
        changed = drafting.change(draft, early, "Too soon.", staff)
        assert "so this one must come later" in " ".join(drafting.submit_hindrances(changed))


@pytest.mark.django_db
class TestFirstDay:
    def test_the_version_changes_at_midnight(self, approved):
        assert rulebook.in_force("no-sweep", EVE).version == "1"
        assert rulebook.in_force("no-sweep", NEW_YEAR).version == "2"
        assert rulebook.in_force("no-sweep", NEW_YEAR + timedelta(days=900)).version == "2"
        assert rulebook.load("no-sweep", "2") == approved.book

    @pytest.mark.parametrize(("day", "version"), [(EVE, "1"), (NEW_YEAR, "2")])
    def test_a_new_task_goes_by_the_rules_of_its_day(self, approved, user, on_day, day, version):
        on_day(day)
        assignment = handing.open_assignment(user, kinds.get("order-conversion"))
        assert assignment.rulebook_version == version

    def test_lessons_tell_the_limit_of_the_day(self, approved, on_day):
        def told(day):
            on_day(day)
            return " ".join(lesson.body for lesson in all_lessons())

        before, after = told(EVE), told(NEW_YEAR)
        assert "45 in" not in before
        assert "45 in" in after

    def test_pages_still_open_on_that_day(self, approved, user, staff, client, on_day):
        on_day(NEW_YEAR)
        client.force_login(user)
        for kind in kinds.KINDS:
            assert client.get(reverse("exercises:do", args=[kind])).status_code == 200
        client.force_login(staff)
        assert client.get(reverse("certification:new_requirements")).status_code == 200


@pytest.mark.django_db
class TestOldMarks:
    def test_none_changes(self, staff, user, approve, on_day):
        for kind in kinds.KINDS.values():
            for difficulty in (1, 2, 3):
                book = rulebook.in_force(kind.rulebooks[difficulty][0], EVE)
                assignment = Assignment.objects.create(
                    user=user,
                    kind=kind.slug,
                    seed=difficulty,
                    difficulty=difficulty,
                    rulebook_name=book.name,
                    rulebook_version=book.version,
                )
                task = handing.task_of(assignment)
                answer = kind.any_answer(task) if difficulty == 2 else right_answer(task)
                handing.hand_in(assignment, answer)
        approve(make_draft(staff, first=NEW_YEAR, limits=TIGHT))
        sweep = make_draft(staff, "chain-sweep", NEW_YEAR, limits={"float_spacing": 3 * FOOT})
        approve(sweep)
        on_day(NEW_YEAR)
        records, checks = audit.everything()
        assert records == 3 * len(kinds.KINDS)
        assert [each for found in checks for each in found] == []

    def test_new_ones_go_by_the_new_limits(self, approved, user, on_day):
        on_day(NEW_YEAR)
        kind = kinds.get("space-droppers")
        assignment = Assignment.objects.create(
            user=user,
            kind=kind.slug,
            seed=1,
            difficulty=2,
            rulebook_name="no-sweep",
            rulebook_version=rulebook.in_force("no-sweep", NEW_YEAR).version,
        )
        attempt = handing.hand_in(assignment, right_answer(handing.task_of(assignment)))
        assert attempt.passed
        told = {line["allowed_text"] for line in attempt.findings}
        assert "one every 7 ft" in told


@pytest.mark.django_db
class TestKeeping:
    def test_the_database_is_asked_now_and_then_only(
        self, approved, django_assert_num_queries, monkeypatch
    ):
        rulebook.load("no-sweep")
        with django_assert_num_queries(0):
            for name in rulebook.names():
                rulebook.in_force(name, NEW_YEAR)
        later = shelf.monotonic() + shelf.KEPT
        monkeypatch.setattr(shelf, "monotonic", lambda: later)
        with django_assert_num_queries(1):
            for name in rulebook.names():
                rulebook.in_force(name, NEW_YEAR)

    def test_nothing_is_settled_within_what_a_process_keeps(self):
        assert timedelta(seconds=shelf.KEPT) < NOTICE / 100

    def test_drafts_are_not_on_the_shelf(self, staff):
        draft = make_draft(staff, first=NEW_YEAR, limits=TIGHT)
        drafting.submit(draft, staff)
        assert rulebook.in_force("no-sweep", NEW_YEAR).version == "1"

    # Checks before migrating are in no transaction, and PostgreSQL answers nothing more in one
    # that failed.
    @pytest.mark.django_db(transaction=True)
    def test_without_its_table_there_are_the_files(self, monkeypatch):
        # As before migrating: the table that is asked for is not there.
        monkeypatch.setattr(shelf.Version._meta, "db_table", "no_such_table")
        shelf.forget()
        assert rulebook.load("no-sweep").version == "1"

    def test_any_other_trouble_with_the_database_is_told(self, monkeypatch):
        class Broken:
            def approved(self):
                return self

            order_by = values_list = lambda self, *names: self

            def __iter__(self):
                raise DatabaseError("the disk is full")

        monkeypatch.setattr(shelf.Version, "objects", Broken())
        shelf.forget()
        with pytest.raises(DatabaseError, match="disk is full"):
            rulebook.load("no-sweep")
        assert shelf.Version._meta.db_table in connection.introspection.table_names()


# In another process, which has asked before: its clock is put on instead of waiting.
WATCH = """
import django; django.setup()
from rigs.rules import rulebook
from training.rulesets import shelf
print(rulebook.load("no-sweep").version, flush=True)
input()
print(rulebook.load("no-sweep").version, flush=True)
later = shelf.monotonic() + shelf.KEPT
shelf.monotonic = lambda: later
print(rulebook.load("no-sweep").version, flush=True)
"""
PREPARE = """
import django; django.setup()
from django.core.management import call_command
call_command("check")
call_command("migrate", verbosity=0)
"""
APPROVE = """
import django; django.setup()
from rigs.rules import rulebook
from rigs.words.units import FOOT
from training.people.models import User
from training.rulesets import drafting
from tests.rulesets.conftest import count, make_draft
people = [
    User.objects.create_user(f"{n}@example.com", name=n, role="staff", whole_fleet=True)
    for n in "ab"
]
draft = make_draft(people[0], limits={"dropper_spacing": 7 * FOOT})
count(draft)
drafting.submit(draft, people[0])
drafting.approve(draft, people[1])
print(rulebook.load("no-sweep").version)
"""


def test_every_process_hears_of_it(tmp_path):
    root = Path(__file__).resolve().parents[2]
    environment = {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "training.settings",
        "DATABASE_URL": f"sqlite:///{tmp_path / 'site.sqlite3'}",
        "SITE_DEMO": "1",
        "SECRET_KEY": "for this test only, and for nothing else",
    }

    def run(script):
        done = subprocess.run(
            [sys.executable, "-c", script],
            env=environment,
            cwd=root,
            capture_output=True,
            text=True,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout.split()

    run(PREPARE)
    with subprocess.Popen(
        [sys.executable, "-c", WATCH],
        env=environment,
        cwd=root,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as watcher:
        assert watcher.stdout.readline().strip() == "1"
        assert run(APPROVE)[-1] == "2"
        heard, _ = watcher.communicate("\n")
    # What it kept may still do for some seconds; after that it has asked again.
    assert heard.split()[-1] == "2"
