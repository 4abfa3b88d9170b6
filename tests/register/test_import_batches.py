"""A register taken in batch by batch: stopped, killed, gone on with, undone half way."""

import pytest
from django.urls import reverse

from tests.register.events_factory import make_vessel
from tests.register.tables_factory import HEADER, csv_file, dry_run
from tests.work.conftest import work_off
from training.register import uptake
from training.register.models import AdoptionEvent, ImportDraft, Vessel
from training.register.table import importing, looking, outlook, undoing
from training.work import asking, keeping, queue, running
from training.work.models import SILENT, Job

pytestmark = pytest.mark.django_db

NUMBER = 24
STAGES = [*HEADER, "stage", "stage since"]


@pytest.fixture(autouse=True)
def small_batches(monkeypatch):
    """Take a fleet of NUMBER for a large one."""
    monkeypatch.setattr(importing, "BATCH", 5)
    monkeypatch.setattr(undoing, "BATCH", 5)
    monkeypatch.setattr(looking, "STEP", 10)
    monkeypatch.setattr(running, "PAUSE", 0)
    monkeypatch.setattr(running, "FEWEST", 1)
    for kind in (importing.ImportWork, undoing.UndoWork, looking.LookWork):
        monkeypatch.setattr(kind, "at_once", 0)


@pytest.fixture
def draft(staff):
    """A draft that changes every other vessel and adds the rest."""
    for number in range(0, NUMBER, 2):
        make_vessel(f"Vessel {number}")
    rows = [
        [f"Vessel {number}", "Kettle Harbor", "50 ft", "", "Ida", "", "told", "2026-07-01"]
        for number in range(NUMBER)
    ]
    found, outcomes = dry_run(csv_file(*rows, header=STAGES), staff)
    assert outcomes == []
    work_off()
    found = again(found)
    counts = outlook.counts(outlook.outcomes_of(found))
    assert counts == {"add": NUMBER / 2, "change": NUMBER / 2}
    return found


def again(draft):
    return ImportDraft.objects.get(pk=draft.pk)


def begun(draft):
    """Return the job that imports ``draft``, before a worker takes it."""
    found, done = importing.confirm(draft.key, draft.owner)
    assert not done
    return found.job


def stop_at(monkeypatch, number, act):
    """Have ``act`` called once ``number`` batches are written."""
    write, batches = importing.Writer.write, []

    def counted(self, batch):
        write(self, batch)
        batches.append(batch)
        if len(batches) == number:
            act()

    monkeypatch.setattr(importing.Writer, "write", counted)


def owned():
    return Vessel.objects.filter(owner="Ida").count()


def check_all(draft):
    """See that all of ``draft`` is there, and once."""
    assert (owned(), Vessel.objects.count()) == (NUMBER, NUMBER)
    assert AdoptionEvent.objects.filter(key__startswith=f"import:{draft.key}").count() == NUMBER
    assert (again(draft).added, again(draft).changed) == (NUMBER / 2, NUMBER / 2)
    assert uptake.check() == []


class TestImport:
    def test_two_taps_import_once(self, draft):
        assert begun(draft) == begun(draft)
        work_off()
        check_all(draft)
        assert importing.confirm(draft.key, draft.owner)[1]
        work_off()
        check_all(draft)

    def test_goes_on_after_a_stop(self, draft, monkeypatch, as_staff):
        job = begun(draft)
        stop_at(monkeypatch, 2, lambda: asking.stop(job.pk))
        work_off()
        assert owned() == 10
        assert uptake.check() == []
        page = as_staff.get(reverse("register:import_draft", args=[draft.key])).content.decode()
        assert f"It was stopped before {NUMBER - 10} rows were imported." in page
        assert "Undo the import" in page
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert f"It was stopped at 10 of {NUMBER}." in page
        asking.go_on(job.pk)
        work_off()
        check_all(draft)
        page = as_staff.get(reverse("register:import_draft", args=[draft.key])).content.decode()
        assert "It was stopped" not in page

    def test_goes_on_after_its_worker_was_killed(self, draft, monkeypatch):
        class Killed(BaseException):
            pass

        def die():
            raise Killed

        job = begun(draft)
        monkeypatch.setattr(queue, "_put_back", lambda *args: None)
        stop_at(monkeypatch, 3, die)
        with pytest.raises(Killed):
            queue.run(job.pk, "first")
        assert owned() == 10
        Job.objects.filter(pk=job.pk).update(beat=job.made - 2 * SILENT)
        assert keeping.take_back_lost() == 1
        work_off()
        check_all(draft)

    def test_a_stop_before_the_first_batch_leaves_it_to_be_confirmed(self, draft):
        asking.stop(begun(draft).pk)
        work_off()
        assert owned() == 0
        begun(draft)
        work_off()
        check_all(draft)

    def test_what_somebody_changed_meanwhile_stays_and_its_line_is_left_out(
        self, draft, monkeypatch
    ):
        def meddle():
            Vessel.objects.filter(name="Vessel 22").update(owner="Wren")
            make_vessel("Vessel 23")

        begun(draft)
        stop_at(monkeypatch, 1, meddle)
        work_off()
        assert Vessel.objects.get(name="Vessel 22").owner == "Wren"
        assert Vessel.objects.get(name="Vessel 23").owner == ""
        counts = outlook.counts(outlook.outcomes_of(again(draft)))
        assert counts == {"add": NUMBER / 2 - 1, "change": NUMBER / 2 - 1, "refuse": 2}
        assert {cells[0] for __, cells in again(draft).rows} == {"Vessel 22", "Vessel 23"}
        assert uptake.check() == []

    def test_a_register_changed_before_it_begins_is_shown_anew(self, draft, as_staff):
        job = begun(draft)
        Vessel.objects.filter(name="Vessel 22").update(owner="Ida")
        work_off()
        assert owned() == 1
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert "Nothing was imported. The register has changed since you looked." in page
        begun(draft)
        work_off()
        assert owned() == NUMBER

    def test_while_a_worker_is_at_it_nothing_else_can_be_done_with_it(self, draft, as_staff):
        job = begun(draft)
        address = reverse("register:import_draft", args=[draft.key])
        assert "A worker is at it" in as_staff.get(address).content.decode()
        answer = as_staff.post(reverse("register:import_confirm", args=[draft.key]))
        assert answer["Location"] == job.get_absolute_url()


class TestUndo:
    def test_half_an_import(self, draft, monkeypatch):
        job = begun(draft)
        stop_at(monkeypatch, 4, lambda: asking.stop(job.pk))
        work_off()
        assert owned() == 20
        undoing.undo(draft.key, draft.owner)
        work_off()
        assert again(draft).undone
        assert (owned(), Vessel.objects.count()) == (0, NUMBER / 2)
        assert uptake.check() == []
        # What is undone does not come back by having the import go on.
        asking.go_on(job.pk)
        work_off()
        assert owned() == 0

    def test_goes_on_after_a_stop(self, draft, monkeypatch):
        begun(draft)
        work_off()
        job = undoing.undo(draft.key, draft.owner).job
        undo_some, calls = undoing._undo_some, []

        def counted(*args):
            undo_some(*args)
            calls.append(args)
            if len(calls) == 2:
                asking.stop(job.pk)

        monkeypatch.setattr(undoing, "_undo_some", counted)
        work_off()
        assert (owned(), again(draft).undone) == (NUMBER - 10, None)
        undoing.undo(draft.key, draft.owner)
        work_off()
        assert (owned(), again(draft).stayed) == (0, [])
        assert again(draft).undone
        assert uptake.check() == []
