"""Long work is asked for once, done step by step, stopped, gone on with and never doubled."""

import uuid
from datetime import timedelta
from unittest import mock

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.work.conftest import PARTS, work_off
from training.work import asking, keeping, queue, running
from training.work.models import SILENT, Hand, Job

pytestmark = pytest.mark.django_db
State = Job.State


@pytest.fixture(autouse=True)
def files(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def job(staff, counting):
    return ask(staff)


def ask(owner, key=None):
    order = asking.Order("tests-counting", {}, PARTS)
    return asking.ask(order, owner, key or uuid.uuid4())


def again(job):
    return Job.objects.get(pk=job.pk)


def die(job, counting):
    """Leave ``job`` as a worker leaves it that is killed at its third step."""

    class Killed(BaseException):
        pass

    def die(number):
        if number == 2:
            raise Killed

    counting.before = die
    with mock.patch.object(queue, "_put_back"), pytest.raises(Killed):
        queue.run(job.pk, "first")
    counting.before = lambda number: None
    assert again(job).state == State.WORKING
    Job.objects.update(beat=timezone.now() - 2 * SILENT)


class TestWork:
    def test_is_done_by_a_worker_and_tells_how_far_it_came(self, job, counting):
        seen = []
        counting.before = lambda number: seen.append((again(job).state, again(job).percent))
        assert job.state == State.WAITING
        work_off()
        assert counting.counted == list(range(PARTS))
        assert seen == [(State.WORKING, number * 100 // PARTS) for number in range(PARTS)]
        assert (again(job).state, again(job).done) == (State.DONE, PARTS)

    def test_one_form_asks_once(self, staff, officer, counting):
        key = uuid.uuid4()
        assert ask(staff, key) == ask(staff, key)
        assert ask(officer, key) != ask(staff, key)
        work_off()
        assert counting.counted == list(range(PARTS))

    def test_what_is_short_is_done_at_once(self, staff, counting):
        counting.at_once = PARTS
        assert ask(staff).state == State.DONE
        work_off()
        assert counting.counted == list(range(PARTS))

    def test_nobody_who_may_not_any_more_has_it_done(self, job, staff, counting):
        staff.is_active = False
        staff.save()
        work_off()
        assert (again(job).state, counting.counted) == (State.FAILED, [])


class TestStop:
    def test_before_it_begins(self, job, counting):
        asking.stop(job.pk)
        work_off()
        assert (again(job).state, counting.counted) == (State.STOPPED, [])

    def test_between_two_steps_and_it_goes_on_from_there(self, job, counting):
        counting.before = lambda number: number == 2 and asking.stop(job.pk)
        work_off()
        assert (again(job).state, counting.counted) == (State.STOPPED, [0, 1])
        counting.before = lambda number: None
        asking.go_on(job.pk)
        asking.go_on(job.pk)
        work_off()
        assert (again(job).state, again(job).done) == (State.DONE, PARTS)
        assert counting.counted == list(range(PARTS))

    def test_holds_though_the_worker_died_before_it_saw_it(self, job, counting):
        die(job, counting)
        asking.stop(job.pk)
        assert keeping.take_back_lost() == 1
        work_off()
        assert (again(job).state, counting.counted) == (State.STOPPED, [0, 1])

    def test_of_what_is_over_changes_nothing(self, job):
        work_off()
        asking.stop(job.pk)
        asking.go_on(job.pk)
        assert again(job).state == State.DONE


class TestTrouble:
    def test_what_fails_is_told_keeps_what_it_did_and_can_be_tried_again(self, job, counting):
        def fail(number):
            if number == 3:
                raise ValueError("wren@example.com")

        counting.before = fail
        work_off()
        assert (again(job).state, again(job).done) == (State.FAILED, 3)
        counting.before = lambda number: None
        asking.go_on(job.pk)
        work_off()
        assert counting.counted == list(range(PARTS))

    def test_a_worker_that_is_told_to_leave_puts_its_job_back(self, job, counting):
        counting.before = lambda number: number == 2 and running.leaving.set()
        queue.run(job.pk, "first")
        running.leaving.clear()
        assert (again(job).state, again(job).done, again(job).tries) == (State.WAITING, 2, 0)
        counting.before = lambda number: None
        work_off()
        assert counting.counted == list(range(PARTS))

    def test_the_job_of_a_dead_worker_goes_on_and_one_of_a_living_does_not(self, job, counting):
        die(job, counting)
        Hand.objects.create(name="first")
        assert keeping.take_back_lost() == 0
        Hand.objects.update(beat=timezone.now() - 2 * SILENT)
        assert keeping.take_back_lost() == 1
        work_off()
        assert again(job).state == State.DONE
        assert counting.counted == list(range(PARTS))

    def test_one_that_was_taken_for_dead_writes_nothing_more(self, job, counting):
        def stall(number):
            if number == 2 and again(job).tries == 1:
                queue.take_back(job.pk, again(job).claim)
                work_off()

        counting.before = stall
        queue.run(job.pk, "first")
        assert again(job).state == State.DONE
        assert counting.counted == list(range(PARTS))

    def test_what_kills_its_workers_is_given_up(self, job):
        Job.objects.update(tries=queue.MOST_TRIES, state=State.WORKING, claim=uuid.uuid4())
        queue.take_back(job.pk, again(job).claim)
        assert again(job).state == State.FAILED

    def test_a_job_whose_place_in_the_queue_is_lost_gets_another(self, job):
        Job.objects.update(task=uuid.uuid4(), made=timezone.now() - 2 * SILENT)
        assert keeping.take_back_lost() == 1
        work_off()
        assert again(job).state == State.DONE


class TestPages:
    def test_tell_how_far_it_is_and_stop_it(self, as_staff, job):
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert "It waits for its turn." in page
        assert "No worker runs on this site now" in page
        as_staff.post(reverse("work:stop", args=[job.key]))
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert "It was stopped before anything was done." in page
        as_staff.post(reverse("work:go_on", args=[job.key]))
        Hand.objects.create(name="one")
        part = as_staff.get(job.get_absolute_url(), {"part": 1}).content.decode()
        assert "It waits for its turn." in part
        assert "No worker" not in part
        work_off()
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert f"Counted to {PARTS}." in page

    def test_the_file_is_its_owners_alone_and_for_some_days(self, as_staff, as_officer, job):
        work_off()
        address = reverse("work:file", args=[job.key])
        answer = as_staff.get(address)
        assert b"".join(answer.streaming_content) == b"all of it"
        assert "counted.txt" in answer["Content-Disposition"]
        assert as_officer.get(address).status_code == 404
        kept = again(job).file
        keeping.clear(timezone.now() + running.KEPT_FOR + timedelta(hours=1))
        assert as_staff.get(address).status_code == 404
        assert not kept.storage.exists(kept.name)
        page = as_staff.get(job.get_absolute_url()).content.decode()
        assert "The file is not kept any more." in page

    def test_who_is_no_staff_any_more_gets_no_file(self, client, staff, job):
        work_off()
        staff.role = "trainee"
        staff.save()
        client.force_login(staff)
        assert client.get(reverse("work:file", args=[job.key])).status_code == 403

    def test_the_list_has_ones_own(self, as_staff, client, officer, job):
        assert "Counting" in as_staff.get(reverse("work:jobs")).content.decode()
        officer.role = "staff"
        officer.save()
        client.force_login(officer)
        assert "None yet" in client.get(reverse("work:jobs")).content.decode()

    def test_a_job_that_goes_takes_its_file_along(self, job, django_capture_on_commit_callbacks):
        work_off()
        kept = again(job).file
        with django_capture_on_commit_callbacks(execute=True):
            again(job).delete()
        assert not kept.storage.exists(kept.name)


class TestFirstPage:
    def test_names_what_goes_on_and_what_came_to_its_end_until_it_is_looked_at(self, as_staff, job):
        def waits():
            return as_staff.get(reverse("home")).context["waits"]

        assert waits()[0].words == "“Counting” waits for its turn."
        work_off()
        assert waits()[0].words == "“Counting” is done."
        as_staff.get(waits()[0].url)
        assert "Counting" not in str(waits())

    def test_says_nothing_of_what_was_done_at_once(self, as_staff, staff, counting):
        counting.at_once = PARTS
        ask(staff)
        assert "Counting" not in str(as_staff.get(reverse("home")).context["waits"])
