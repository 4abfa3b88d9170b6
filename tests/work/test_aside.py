"""A long file is made on the side: the same file, once, for its owner as they are then and now."""

import re
import time
from datetime import timedelta
from io import BytesIO
from unittest import mock

import pytest
from django.core.files.base import ContentFile
from django.core.management import call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from openpyxl import load_workbook

from tests.calibration.round_factory import make_round
from tests.checks.conftest import make_check
from tests.people.doors import views
from tests.register.events_factory import make_vessel
from tests.register.tables_factory import csv_file, dry_run
from tests.work.conftest import work_off
from training.desk.calls.reasons import REASONS
from training.lessons.models import LessonRead
from training.people.factors import proof
from training.people.models import Reach, User
from training.privacy import takeout
from training.register.models import Vessel
from training.work import aside, asking, keeping, queue, running
from training.work.models import SILENT, Hand, Job

pytestmark = pytest.mark.django_db
State = Job.State
VESSELS = 7


@pytest.fixture(autouse=True)
def all_is_long(settings, tmp_path, monkeypatch):
    settings.MEDIA_ROOT = tmp_path
    monkeypatch.setattr(aside, "AT_ONCE", -1)


@pytest.fixture
def vessels():
    for number in range(VESSELS):
        harbor = "Kettle Harbor" if number % 2 else "Sable Cove"
        make_vessel(f"Vessel {number}", harbor=harbor)


def table_of(kind="csv", query=""):
    return reverse(f"register:vessels_{kind}") + query


def asked(client, address):
    """Ask for a file; return the job that makes it."""
    answer = client.get(address)
    assert answer.status_code == 302
    return Job.objects.get(key=answer["Location"].strip("/").rpartition("/")[2])


def file_of(client, job):
    return client.get(reverse("work:file", args=[job.key]))


def bytes_of(answer):
    assert answer.status_code == 200
    return answer.getvalue()


def again(job):
    return Job.objects.get(pk=job.pk)


def lines(data):
    return [line.partition(",")[0] for line in data.decode("utf-8-sig").splitlines()[1:]]


# Every view that makes a long file on the side.
MADE_ASIDE = sorted(name for name, view in views() if hasattr(view, "made_aside"))
MOMENT = re.compile(rb"/(ID|CreationDate) ?[\[(][^\])]*[\])]")  # in a PDF


def same(name, one, other):
    """Return whether two files are the same, but for the moment at which they were made."""
    if name.endswith("pdf"):
        one, other = (MOMENT.sub(b"", each) for each in (one, other))
    elif name.endswith("xlsx"):
        one, other = (
            [*load_workbook(BytesIO(each)).active.iter_rows(values_only=True)]
            for each in (one, other)
        )
    return one == other


@pytest.fixture
def records(user, officer, staff, vessels):
    """Something to tell of each sort; return what the addresses of some views take, by name."""
    LessonRead.objects.create(user=user, slug="droppers")
    make_check(officer, hands_in=True)
    call_command("sums", verbosity=0)
    draft, __ = dry_run(csv_file(["Teal", "", "", "", "", ""]), staff)
    return {
        "calls_for": REASONS[0].key,
        "judgements": make_round([officer]).pk,
        "import_mend": draft.key,
    }


class TestFile:
    @pytest.mark.parametrize("name", MADE_ASIDE)
    def test_is_what_is_made_at_once_when_it_is_short(self, as_staff, records, name, monkeypatch):
        told = [value for part, value in records.items() if part in name]
        address = reverse(name, args=told)
        job = asked(as_staff, address)
        assert file_of(as_staff, job).status_code == 404
        work_off()
        job = again(job)
        assert job.state == State.DONE
        aside_made = file_of(as_staff, job)
        monkeypatch.setattr(aside, "AT_ONCE", 100)
        at_once = as_staff.get(address)
        assert same(name, bytes_of(aside_made), bytes_of(at_once))
        assert aside_made["Content-Type"] == at_once["Content-Type"]
        file_name = job.file.name.rpartition("/")[2]
        assert f'filename="{file_name}"' in at_once["Content-Disposition"]

    def test_is_as_the_page_was_narrowed_down(self, as_staff, vessels):
        job = asked(as_staff, table_of(query="?harbor=Kettle+Harbor&order=-name"))
        work_off()
        found = lines(bytes_of(file_of(as_staff, job)))
        assert sorted(found) == ["Vessel 1", "Vessel 3", "Vessel 5"]

    def test_tells_how_far_it_is(self, as_staff, vessels, monkeypatch):
        monkeypatch.setattr(aside, "LOOK_EVERY", 0)
        job = asked(as_staff, table_of())
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert "It waits for its turn." in page
        assert "Table of the vessels" in page
        assert "No worker runs on this site now" in page
        Hand.objects.create(name="one")
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert "Your first page says when you can download it." in page
        work_off()
        waits = as_staff.get(reverse("home")).context["waits"]
        assert waits[0].words == "“Table of the vessels” is done."
        assert (again(job).done, again(job).total) == (VESSELS, VESSELS)
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert "The file is made." in page
        assert "Download the file" in page

    def test_is_forgotten_with_what_was_asked(self, as_staff, vessels):
        asked(as_staff, table_of(query="?q=Wren"))
        work_off()
        Job.objects.update(ended=timezone.now() - running.KEPT_FOR - timedelta(hours=1))
        call_command("clear_work")
        assert not Job.objects.exists()


class TestTwice:
    def test_two_taps_lead_to_one_file(self, as_staff, vessels):
        first = asked(as_staff, table_of())
        assert asked(as_staff, table_of()) == first
        assert asked(as_staff, table_of("xlsx")) != first
        work_off()
        assert asked(as_staff, table_of()) == first
        Job.objects.update(ended=timezone.now() - 2 * aside.SAME_FOR)
        assert asked(as_staff, table_of()) != first

    def test_each_has_their_own(self, as_staff, as_second, vessels):
        job = asked(as_staff, table_of())
        assert asked(as_second, table_of()) != job
        work_off()
        assert file_of(as_second, job).status_code == 404

    def test_one_that_was_stopped_is_asked_for_anew(self, as_staff, vessels):
        job = asked(as_staff, table_of())
        asking.stop(job.pk)
        assert asked(as_staff, table_of()) != job

    def test_looking_at_the_head_asks_for_nothing(self, as_staff, vessels):
        assert as_staff.head(table_of()).status_code == 200
        assert not Job.objects.exists()


class TestWhoMay:
    def _held(self, staff):
        User.objects.filter(pk=staff.pk).update(whole_fleet=False)
        return Reach.objects.create(user=staff, harbor="Sable Cove")

    def test_is_asked_when_it_is_made(self, as_staff, staff, vessels):
        job = asked(as_staff, table_of())
        self._held(staff)
        work_off()
        found = lines(bytes_of(file_of(as_staff, job)))
        assert sorted(found) == ["Vessel 0", "Vessel 2", "Vessel 4", "Vessel 6"]

    def test_of_nobody_who_is_let_in_no_more_a_file_is_made(self, as_staff, staff, vessels):
        job = asked(as_staff, reverse("interchange:download"))
        self._held(staff)
        work_off()
        assert (again(job).state, bool(again(job).file)) == (State.FAILED, False)

    def test_is_asked_when_it_is_fetched(self, as_staff, staff, vessels):
        job = asked(as_staff, table_of())
        work_off()
        assert file_of(as_staff, job).status_code == 200
        reach = self._held(staff)
        assert file_of(as_staff, job).status_code == 403
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert "What you may see has changed since this file was made" in page
        assert "Download the file" not in page
        mine = asked(as_staff, table_of())
        assert mine != job
        work_off()
        assert len(lines(bytes_of(file_of(as_staff, mine)))) == 4
        reach.delete()
        assert file_of(as_staff, mine).status_code == 403

    def test_none_goes_along_with_ones_own_data(self, as_staff, staff, vessels):
        job = asked(as_staff, table_of())
        work_off()
        assert again(job).file
        tables, files = takeout.collect(staff)
        assert len(tables["jobs"]) == 1
        assert files == []

    def test_who_becomes_a_trainee_gets_no_file(self, as_staff, staff, vessels):
        job = asked(as_staff, table_of())
        work_off()
        staff.role = "trainee"
        staff.save()
        client = Client()
        client.force_login(staff)
        assert file_of(client, job).status_code == 403

    def test_what_matters_is_asked_for_again_when_it_is_fetched(self, as_staff, vessels):
        job = asked(as_staff, reverse("interchange:download"))
        work_off()
        session = as_staff.session
        session["proved"] = time.time() - proof.FRESH.total_seconds() - 1
        session.save()
        answer = file_of(as_staff, job)
        assert answer.status_code == 302
        assert answer["Location"].startswith(reverse("people:prove"))


class TestBrokenOff:
    @pytest.fixture
    def breaks(self, monkeypatch):
        """Have ``act()`` called when the third row of a file is made."""
        monkeypatch.setattr(aside, "LOOK_EVERY", 0)
        told, step = [], running.Run.step

        def breaking(act):
            def counted(run, done=0):
                told.append(done)
                if len(told) == 3:
                    act()
                return step(run, done)

            monkeypatch.setattr(running.Run, "step", counted)

        return breaking

    def test_a_stop_leaves_no_file(self, as_staff, vessels, breaks):
        job = asked(as_staff, table_of())
        breaks(lambda: asking.stop(job.pk))
        work_off()
        assert (again(job).state, bool(again(job).file)) == (State.STOPPED, False)
        as_staff.post(reverse("work:go_on", args=[job.key]))
        work_off()
        assert len(lines(bytes_of(file_of(as_staff, job)))) == VESSELS
        assert again(job).done == VESSELS

    def test_a_killed_worker_leaves_none_and_the_next_makes_all_of_it(
        self, as_staff, vessels, breaks
    ):
        class Killed(BaseException):
            pass

        def die():
            raise Killed

        job = asked(as_staff, table_of())
        breaks(die)
        with mock.patch.object(queue, "_put_back"), pytest.raises(Killed):
            queue.run(job.pk, "first")
        assert not again(job).file
        Job.objects.update(beat=timezone.now() - 2 * SILENT)
        assert keeping.take_back_lost() == 1
        work_off()
        assert len(lines(bytes_of(file_of(as_staff, job)))) == VESSELS

    def test_what_a_run_left_goes_with_the_job(
        self, as_staff, vessels, django_capture_on_commit_callbacks
    ):
        job = asked(as_staff, table_of())
        storage = job.file.storage
        storage.save(f"{job.folder}/vessels.csv", ContentFile(b"name"))
        work_off()
        assert len(lines(bytes_of(file_of(as_staff, job)))) == VESSELS
        with django_capture_on_commit_callbacks(execute=True):
            again(job).delete()
        assert storage.listdir(job.folder) == ([], [])


def test_vessels_come_in_the_order_of_the_page(as_staff, monkeypatch):
    """More of them than are read at a time."""
    monkeypatch.setattr("training.register.table.exporting.AT_A_TIME", 2)
    names = ["Fulmar", "Avocet", "Dunlin", "Curlew", "Egret", "Brant"]
    for name in names:
        make_vessel(name)
    job = asked(as_staff, table_of())
    work_off()
    assert lines(bytes_of(file_of(as_staff, job))) == sorted(names)
    assert Vessel.objects.count() == len(names)
