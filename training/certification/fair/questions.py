"""Questions about one's result, and their answers."""

from datetime import timedelta

from django.core.mail import send_mail
from django.db import transaction
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from ..models import Exam, ResultQuestion

ASK_DAYS = 60
"""After an exam is turned in, within which its result is open to questions; our choice."""
LONGEST = 2000


class MayNotAsk(ValueError):
    """A question that cannot be taken now; the message says why."""


class MayNotAnswer(ValueError):
    """An answer that cannot be taken; the message says why."""


def until(exam):
    """Return the last moment to ask about ``exam``: from the exam or its latest correction."""
    last = exam.corrections.last()
    return max(exam.handed_in, last.made if last else exam.handed_in) + timedelta(days=ASK_DAYS)


def hindrance(exam, now=None):
    """Return a sentence that says why nothing can be asked about ``exam``; empty if it can."""
    if exam.handed_in is None:
        return _("Turn the exam in first.")
    if (now or timezone.now()) > until(exam):
        return _("The {ASK_DAYS} days to ask about this result are over.").format(ASK_DAYS=ASK_DAYS)
    if exam.questions.filter(answered=None).exists():
        return _("Your question is with the staff. You can ask another one after the answer.")
    return ""


@transaction.atomic
def ask(exam, key, text, now=None):
    """
    Return the ResultQuestion about ``exam``, asked once per ``key``, a UUID.

    Raise MayNotAsk when it is too late, while one is open, and for no words at all.
    """
    held = Exam.objects.select_for_update().get(pk=exam.pk)
    if found := ResultQuestion.objects.filter(key=key, exam=held).first():
        return found
    if why := hindrance(held, now):
        raise MayNotAsk(why)
    if not text.strip():
        raise MayNotAsk(_("Type your question."))
    return ResultQuestion.objects.create(
        exam=held, key=key, text=text.strip(), asked=now or timezone.now()
    )


@transaction.atomic
def answer(question, text, by, address, now=None):
    """
    Answer ``question`` with ``text`` by ``by``, and tell the person by mail; twice is once.

    ``address`` is where the site is found. Returns the ResultQuestion. Raise MayNotAnswer
    for one's own question, and for no words.
    """
    held = ResultQuestion.objects.select_for_update().get(pk=question.pk)
    if held.exam.user_id == by.pk:
        raise MayNotAnswer(_("This is your own exam. Somebody else answers."))
    if held.answered:
        return held
    if not text.strip():
        raise MayNotAnswer(_("Type the answer."))
    held.answer, held.answered, held.answered_by = text.strip(), now or timezone.now(), by
    held.save(update_fields=["answer", "answered", "answered_by"])
    # Once it is saved for certain: a mail about an answer that is not there helps nobody.
    transaction.on_commit(lambda: _mail(held, address), robust=True)
    return held


def _mail(question, address):
    """Tell that there is an answer; the answer itself is only for who signs in."""
    path = reverse("certification:exam", args=[question.exam_id])
    context = {"question": question, "user": question.exam.user, "url": f"{address}{path}"}
    if question.exam.user.is_active:
        send_mail(
            _("Your question about an exam is answered"),
            render_to_string("certification/fair/question_answered.txt", context),
            None,
            [question.exam.user.email],
        )
