"""The pages of tasks for sea, and what becomes of an answer that arrives."""

import base64
import gzip
import json
import uuid
from datetime import datetime, timedelta

import pytest
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from django.urls import reverse
from django.utils import timezone

from tests.exercises.conftest import as_posted, right_answer
from training.exercises import handing, kinds
from training.exercises.models import Assignment, Attempt
from training.exercises.sea import sealing, setting

NOTED = "2026-11-22T15:04:05-05:00"


@pytest.fixture
def task(user, one_kind):
    """A task that ``user`` has along."""
    return setting.top_up(user)[0]


def page(task):
    return reverse("exercises:sea_task", args=[task.pk])


def send(client, task, answer, key=None, **told):
    """Send ``answer`` as a phone does that noted it."""
    headers = {
        "Noted": key or str(uuid.uuid4()),
        "Noted-At": NOTED,
        "Phone-Now": timezone.now().isoformat(),
        "Noted-Label": "Task",
        "Whose": str(task.user.pk),
    }
    return client.post(page(task), as_posted(answer) | told, headers=headers)


def opened(sealed, secret):
    raw = base64.b64decode(sealed)
    key = HKDF(SHA256(), 32, None, sealing.INFO).derive(base64.b64decode(secret))
    return json.loads(gzip.decompress(AESGCM(key).decrypt(raw[:12], raw[12:], None)))


class TestTask:
    def test_its_page_is_one_form_to_its_own_address(self, as_user, task):
        found = as_user.get(page(task)).content.decode()
        assert f'action="{page(task)}"' in found
        assert 'name="said"' in found

    def test_the_page_holds_no_outcome_in_plain(self, as_user, task):
        found = as_user.get(page(task)).content.decode()
        known = opened(*self._sealed(as_user, task))
        for part in known["parts"]:
            for piece in part["pieces"].values():
                assert all(line["html"] not in found for line in piece["lines"])
                assert all(words not in found for words in piece["remarks"])
        assert "finding-fail" not in found
        assert sealing.secret(task) not in found

    @staticmethod
    def _sealed(client, task):
        told = client.get(page(task)).context["told"]
        secret = client.get(reverse("exercises:sea_key", args=[task.pk])).json()["secret"]
        return told["sealed"], secret

    def test_the_secret_of_another_task_opens_nothing(self, as_user, task):
        sealed, _ = self._sealed(as_user, task)
        other = Assignment.objects.at_sea().exclude(pk=task.pk).first()
        with pytest.raises(InvalidTag):
            opened(sealed, sealing.secret(other))

    def test_how_an_answer_is_read_tells_nothing_of_what_is_right(self):
        """No stretch ends there, and no two fields stand together."""
        for kind in kinds.KINDS.values():
            made = kind.generate(5, kind.pick_rulebook(5, 1, timezone.localdate()), 1)
            for read in kind.foretold(made).entered:
                assert not read.get("ends")
                assert not {"reads", "other"} & set(read)

    def test_another_persons_is_not_there(self, as_officer, task):
        assert as_officer.get(page(task)).status_code == 404
        assert as_officer.get(reverse("exercises:sea_key", args=[task.pk])).status_code == 404

    def test_one_that_was_not_set_for_sea_is_not_there(self, as_user, user):
        opened_one = handing.open_assignment(user, kinds.get("one-reading"))
        assert as_user.get(page(opened_one)).status_code == 404


class TestArriving:
    def test_it_is_graded_and_says_both_times(self, as_user, task):
        answer = right_answer(handing.task_of(task))
        assert send(as_user, task, answer).json()["outcome"] == "taken"
        attempt = Attempt.objects.get()
        assert (attempt.answer, attempt.passed) == (answer, True)
        assert attempt.noted == datetime.fromisoformat(NOTED)
        assert attempt.handed_in - timezone.now() < timedelta(minutes=1)
        found = as_user.get(reverse("exercises:marked", args=[attempt.pk])).content.decode()
        assert "answered without signal" in found

    def test_the_same_again_is_one_attempt_and_one_answer(self, as_user, task):
        answer, key = right_answer(handing.task_of(task)), str(uuid.uuid4())
        first, again = (send(as_user, task, answer, key).json() for _ in range(2))
        assert first == again
        assert Attempt.objects.count() == 1

    def test_of_two_phones_the_first_counts_and_the_other_is_told(self, as_user, task):
        answer = right_answer(handing.task_of(task))
        other = {"said": "met" if answer["said"] == "broken" else "broken"}
        assert not send(as_user, task, answer).json()["words"]
        said = send(as_user, task, other).json()
        assert "first answer" in said["words"]
        assert Attempt.objects.get().answer == answer

    def test_the_same_answer_from_two_phones_needs_no_word(self, as_user, task):
        answer = right_answer(handing.task_of(task))
        said = [send(as_user, task, answer).json() for _ in range(2)]
        assert [each["words"] for each in said] == ["", ""]

    def test_one_that_cannot_be_read_is_refused_and_the_task_stays(self, as_user, task):
        assert send(as_user, task, {"said": "perhaps"}).json()["outcome"] == "refused"
        assert task in setting.along(task.user, timezone.localdate())

    def test_what_the_rules_were_then_grades_it(self, as_user, task, monkeypatch):
        """A rule set that changed meanwhile: the task is no longer set, and still graded."""
        monkeypatch.setattr(setting, "is_of", lambda *args: False)
        assert task not in setting.along(task.user, timezone.localdate())
        answer = right_answer(handing.task_of(task))
        assert send(as_user, task, answer).json()["outcome"] == "taken"
        assert Attempt.objects.get().passed

    def test_it_counts_like_any_other(self, as_user, task):
        before = handing.next_difficulty(task.user, handing.kind_of(task))
        for each in setting.along(task.user, timezone.localdate()):
            send(as_user, each, right_answer(handing.task_of(each)))
        assert handing.next_difficulty(task.user, handing.kind_of(task)) == before + 1
        assert task.user.rule_memories.exists()

    @pytest.mark.parametrize(("told", "differs"), [("1", False), ("0", True), ("no", False)])
    def test_a_phone_that_told_other_points_is_named(self, as_user, task, told, differs):
        send(as_user, task, right_answer(handing.task_of(task)), told=told)
        attempt = Attempt.objects.get()
        found = as_user.get(reverse("exercises:marked", args=[attempt.pk])).content.decode()
        assert ("The phone showed" in found) is differs

    def test_without_a_script_it_is_a_form_like_any_other(self, as_user, task):
        response = as_user.post(page(task), as_posted(right_answer(handing.task_of(task))))
        attempt = Attempt.objects.get()
        assert response.url == reverse("exercises:marked", args=[attempt.pk])
        assert attempt.noted is None

    def test_staff_see_both_times(self, as_staff, as_user, task):
        send(as_user, task, right_answer(handing.task_of(task)))
        found = as_staff.get(reverse("desk:trainee_record", args=[task.user.pk])).content.decode()
        assert "answered without signal" in found


class TestList:
    def test_setting_them_and_the_list_of_them(self, as_user, user, one_kind):
        assert "None yet" in as_user.get(reverse("exercises:sea")).content.decode()
        said = as_user.post(reverse("exercises:sea_set"), headers={"Accept": "application/json"})
        assert said.json() == {"tasks": setting.OF_EACH}
        found = as_user.get(reverse("exercises:sea")).content.decode()
        assert all(page(each) in found for each in setting.along(user, timezone.localdate()))

    def test_what_arrived_is_listed(self, as_user, task):
        send(as_user, task, right_answer(handing.task_of(task)))
        found = as_user.get(reverse("exercises:sea")).content.decode()
        assert reverse("exercises:marked", args=[Attempt.objects.get().pk]) in found
        assert page(task) not in found

    def test_a_task_answered_leads_to_its_result(self, as_user, task):
        send(as_user, task, right_answer(handing.task_of(task)))
        assert as_user.get(page(task)).url.startswith("/exercises/marked/")
