"""Questions about a result: asked in time, answered by staff, seen by nobody else."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from tests.certification.certificate_factory import make_exam
from training.certification.fair import corrections, questions
from training.certification.models import ResultQuestion
from training.certification.motion import Motion
from training.people.models import Reach

ADDRESS = "https://training.example"
TEXT = "In question 2 the drawing was cut off."
ANSWER = "It was. We graded that question again."


@pytest.fixture
def exam(user):
    exam = make_exam(user, marks=(2, 2), handed_in=timezone.now())
    exam.tasks.all().delete()
    return exam


def ask(exam, key=None, text=TEXT, now=None):
    return questions.ask(exam, key or uuid.uuid4(), text, now)


class TestAsking:
    def test_once_per_key(self, exam):
        key = uuid.uuid4()
        assert ask(exam, key) == ask(exam, key)

    def test_one_open_at_a_time(self, exam, staff):
        first = ask(exam)
        with pytest.raises(questions.MayNotAsk, match="with the staff"):
            ask(exam)
        questions.answer(first, ANSWER, staff, ADDRESS)
        assert ask(exam) != first

    def test_within_sixty_days(self, exam):
        last = exam.handed_in + timedelta(days=questions.ASK_DAYS)
        with pytest.raises(questions.MayNotAsk, match="are over"):
            ask(exam, now=last + timedelta(minutes=1))
        assert ask(exam, now=last)

    def test_a_correction_begins_the_days_again(self, exam, staff, second):
        later = exam.handed_in + timedelta(days=questions.ASK_DAYS + 5)
        proposal = corrections.propose(exam, True, Motion(staff, TEXT, uuid.uuid4()))
        corrections.approve(proposal, second, later)
        assert ask(exam, now=later + timedelta(days=questions.ASK_DAYS))

    def test_in_words(self, exam):
        with pytest.raises(questions.MayNotAsk, match="Type your question"):
            ask(exam, text=" \n")

    def test_not_of_an_exam_still_open(self, exam):
        exam.handed_in = None
        exam.save()
        with pytest.raises(questions.MayNotAsk, match="Turn the exam in"):
            ask(exam)


class TestAnswering:
    def test_the_first_answer_stays_and_a_mail_says_so(
        self, exam, staff, mailoutbox, django_capture_on_commit_callbacks
    ):
        question = ask(exam)
        with django_capture_on_commit_callbacks(execute=True):
            questions.answer(question, ANSWER, staff, ADDRESS)
            questions.answer(question, "Another.", staff, ADDRESS)
        question.refresh_from_db()
        assert (question.answer, question.answered_by) == (ANSWER, staff)
        (mail,) = mailoutbox
        assert mail.to == [exam.user.email]
        assert f"{ADDRESS}/exams/{exam.pk}/" in mail.body
        # Mails are read over shoulders: neither question nor answer is in it.
        assert TEXT not in mail.body
        assert ANSWER not in mail.body

    def test_a_mail_that_fails_leaves_the_answer(
        self, exam, staff, monkeypatch, django_capture_on_commit_callbacks
    ):
        def fail(*args, **kwargs):
            raise OSError("No mail today.")

        monkeypatch.setattr(questions, "send_mail", fail)
        question = ask(exam)
        with django_capture_on_commit_callbacks(execute=True):
            questions.answer(question, ANSWER, staff, ADDRESS)
        assert ResultQuestion.objects.get().answer == ANSWER

    def test_nobody_answers_themselves(self, staff):
        own = make_exam(staff, handed_in=timezone.now())
        with pytest.raises(questions.MayNotAnswer, match="your own exam"):
            questions.answer(ask(own), ANSWER, staff, ADDRESS)


class TestPages:
    def test_from_question_to_answer(self, as_user, as_staff, exam):
        path = f"/exams/{exam.pk}/"
        data = {"key": str(uuid.uuid4()), "text": TEXT}
        for _ in range(2):
            as_user.post(f"{path}ask/", data)
        question = ResultQuestion.objects.get()
        assert "Not answered yet" in as_user.get(path).content.decode()
        assert TEXT in as_staff.get("/exams/questions/").content.decode()
        as_staff.post(f"/exams/questions/{question.pk}/", {"text": ANSWER})
        page = as_user.get(path).content.decode()
        assert TEXT in page
        assert ANSWER in page

    def test_the_oldest_come_first(self, as_staff, officer, exam):
        newer = ask(make_exam(officer, handed_in=timezone.now()))
        older = ask(exam, now=timezone.now() - timedelta(days=3))
        page = as_staff.get("/exams/questions/").content.decode()
        assert page.index(f"/questions/{older.pk}/") < page.index(f"/questions/{newer.pk}/")

    def test_a_correction_that_follows_is_linked(self, as_user, exam, staff, second):
        question = ask(exam)
        proposal = corrections.propose(exam, True, Motion(staff, ANSWER, uuid.uuid4()), question)
        path = f"/exams/{exam.pk}/"
        assert "A correction followed" not in as_user.get(path).content.decode()
        correction = corrections.approve(proposal, second)
        page = as_user.get(path).content.decode()
        assert f'href="#correction-{correction.pk}"' in page
        assert f'id="correction-{correction.pk}"' in page

    def test_they_are_not_for_others(self, as_officer, as_second, second, exam):
        question = ask(exam)
        assert as_officer.get(f"/exams/{exam.pk}/").status_code == 404
        data = {"key": str(uuid.uuid4()), "text": TEXT}
        assert as_officer.post(f"/exams/{exam.pk}/ask/", data).status_code == 404
        assert as_officer.get("/exams/questions/").status_code == 403
        Reach.objects.create(user=second, harbor="Gannet Cove")
        assert as_second.get(f"/exams/questions/{question.pk}/").status_code == 404
        assert TEXT not in as_second.get("/exams/questions/").content.decode()
