"""The pages on which an exam is begun, worked on, looked over and handed in."""

import re
import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.html import escape

from tests.certification.candidates import answer, begin, make_requirements, make_strict
from tests.exercises.conftest import as_posted, right_answer
from training.certification import exams
from training.certification.models import Exam, ExamTask
from training.certification.spread import READING
from training.exercises import kinds
from training.exercises.kinds.one_reading import BROKEN, MET

JSON = {"Accept": "application/json"}
TOKEN = re.compile(r'name="csrfmiddlewaretoken" value="\w+"')


@pytest.fixture
def requirements(db):
    return make_requirements()


@pytest.fixture
def exam(user, requirements):
    return begin(user, requirements)


def place(task):
    return reverse("certification:task", args=[task.exam_id, task.number])


def post(client, task, answer, revision=0, **extra):
    return client.post(place(task), {**as_posted(answer), "revision": revision}, **extra)


def test_a_exam_is_begun_once_however_often_the_button_is_pressed(as_user, requirements):
    place = reverse("certification:begin", args=[requirements.slug])
    assert place in as_user.get(reverse("certification:mine")).text
    key = as_user.get(place).context["key"]
    assert not Exam.objects.exists()
    for _ in range(2):
        as_user.post(place, {"key": key})
    assert Exam.objects.count() == 1
    assert "Continue your exam" in as_user.get(reverse("certification:mine")).text


def test_without_a_key_nothing_is_begun(as_user, requirements):
    answered = as_user.post(reverse("certification:begin", args=[requirements.slug]), {"key": "x"})
    assert answered.status_code == 404
    assert not Exam.objects.exists()


def test_who_may_not_begin_is_told_why(as_officer, requirements):
    place = reverse("certification:begin", args=[requirements.slug])
    page = as_officer.post(place, {"key": uuid.uuid4()}, follow=True)
    assert "This certificate is for fishermen" in page.text


def test_from_the_first_task_to_the_marks_by_buttons_alone(as_user, exam):
    page = as_user.get(reverse("certification:review", args=[exam.pk]))
    assert "4 of 4 questions to go" in page.text
    for task in exam.tasks.all():
        assert as_user.get(place(task)).status_code == 200
        page = post(as_user, task, right_answer(exams.task_of(task)), follow=True)
        assert page.status_code == 200
    assert "All 4 questions are answered" in page.text
    page = as_user.post(reverse("certification:hand_in", args=[exam.pk]), follow=True)
    assert "Passed." in page.text
    assert "See the certificate" in page.text
    assert "<svg" in page.text


@pytest.mark.parametrize("slug", kinds.KINDS)
def test_every_kind_can_be_set_in_a_exam(as_user, user, slug):
    # Readings ask each measured rule once at least, of which there are nine.
    exam = begin(user, make_requirements([(slug, 1, 9 if slug == READING else 1)]))
    page = as_user.get(place(exam.tasks.first()))
    assert "data-answer=" in page.text
    answer(exam)
    assert exams.hand_in(exam).passed
    assert as_user.get(reverse("certification:exam", args=[exam.pk])).status_code == 200


def test_a_script_is_told_the_revision_once_it_is_saved(as_user, exam):
    task = exam.tasks.get(number=1)
    said = post(as_user, task, {"port": "6 ft", "starboard": ""}, headers=JSON)
    assert said.json()["revision"] == 1
    # By the site's clock, which the end of the exam goes by; a phone's may be another.
    saved = timezone.localtime(ExamTask.objects.get(exam=exam, number=1).saved)
    # The reply may go out in the next minute.
    minutes = (saved, saved + timedelta(minutes=1))
    assert said.json()["time"] in [date_format(each, "g:i a") for each in minutes]
    task.refresh_from_db()
    assert task.answer == {"port": "6 ft", "center": False, "starboard": ""}


def test_the_answer_is_there_on_another_device(as_user, exam):
    task = exam.tasks.get(number=1)
    post(as_user, task, {"port": "6 ft", "center": True, "starboard": "7 ft 1 in"})
    assert "7 ft 1 in" in as_user.get(place(task)).text


def test_an_unreadable_answer_is_saved_and_told(as_user, exam):
    task = exam.tasks.get(number=1)
    page = post(as_user, task, {"port": "a few", "starboard": ""})
    assert "Saved, but not complete" in page.text
    assert "invalid-feedback" in page.text
    review = as_user.get(reverse("certification:review", args=[exam.pk])).text
    assert "Needs fixing" in review


@pytest.mark.parametrize("headers", [{}, JSON])
def test_an_answer_saved_from_another_place_is_not_overwritten(as_user, exam, headers):
    task = exam.tasks.get(number=1)
    post(as_user, task, {"port": "6 ft", "starboard": ""})
    refused = post(as_user, task, {"port": "9 ft", "starboard": ""}, headers=headers)
    assert refused.status_code == 409
    assert "in another window" in refused.text
    task.refresh_from_db()
    assert task.answer["port"] == "6 ft"
    if not headers:
        # What was typed is still there, and saving again puts it in place.
        assert "9 ft" in refused.text
        assert 'name="revision" value="1"' in refused.text


@pytest.mark.parametrize(("headers", "status"), [({}, 302), (JSON, 410)])
def test_after_the_deadline_a_save_is_refused_with_words(as_user, user, headers, status):
    exam = begin(user, make_requirements(minutes=5))
    answer(exam)
    Exam.objects.filter(pk=exam.pk).update(deadline=exam.begun)
    task = exam.tasks.get(number=1)
    refused = post(as_user, task, {"port": "6 ft", "starboard": ""}, task.revision, headers=headers)
    assert refused.status_code == status
    page = as_user.get(reverse("certification:exam", args=[exam.pk]))
    assert "The time was up" in page.text
    assert "came too late" in page.text


def test_a_task_of_a_exam_handed_in_leads_to_the_marks(as_user, exam):
    exams.hand_in(exam)
    answered = as_user.get(place(exam.tasks.first()))
    assert answered.url == reverse("certification:exam", args=[exam.pk])


def test_without_a_revision_nothing_is_saved(as_user, exam):
    task = exam.tasks.get(number=1)
    assert as_user.post(place(task), {"port": "6 ft"}).status_code == 404
    assert not ExamTask.objects.filter(revision__gt=0).exists()


@pytest.mark.parametrize("name", ["review", "exam"])
def test_nobody_else_sees_a_exam(as_officer, exam, name):
    assert as_officer.get(reverse(f"certification:{name}", args=[exam.pk])).status_code == 404


def test_nobody_else_saves_or_hands_in(as_officer, exam):
    task = exam.tasks.get(number=1)
    assert post(as_officer, task, {"port": "6 ft"}).status_code == 404
    assert as_officer.post(reverse("certification:hand_in", args=[exam.pk])).status_code == 404


# Staff ---------------------------------------------------------------------


def test_pages_of_the_staff_are_the_staffs(as_user, exam):
    exams.hand_in(exam)
    for name, args in [
        ("requirements_list", []),
        ("new_requirements", []),
        ("requirements", [exam.requirements.slug]),
        ("change_requirements", [exam.requirements.slug]),
        ("changes", [exam.requirements.slug]),
    ]:
        assert as_user.get(reverse(f"certification:{name}", args=args)).status_code == 403
    assert as_user.post(reverse("certification:correct", args=[exam.pk])).status_code == 403


def test_the_marked_page_says_what_was_asked(as_user, user):
    exam = begin(user, make_requirements([("enter-measure", 1, 1)]))
    task = exams.task_of(exam.tasks.get())
    exams.hand_in(exam)
    page = as_user.get(reverse("certification:exam", args=[exam.pk]))
    assert kinds.get("enter-measure").shown(task)["ask"] in page.text


def test_nothing_on_the_page_but_the_reading_hangs_on_its_side(as_user, user):
    exam = begin(user, make_strict())
    for task in exam.tasks.filter(kind=READING):
        pages = []
        for side in (MET, BROKEN):
            task.focus[1] = side
            task.save(update_fields=["focus"])
            page = TOKEN.sub("", as_user.get(place(task)).text)
            for line in exams.task_of(task).lines:
                assert page.count(escape(line)) == 1
                page = page.replace(escape(line), "")
            pages.append(re.sub(r"(\s*<p class=\"lede\"></p>)+", "", page))
        assert pages[0] == pages[1]
