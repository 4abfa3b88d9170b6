"""The one thing to do next, for a trainee or an officer: lessons, and what comes after them."""

from typing import NamedTuple

from django.urls import reverse
from django.utils.formats import time_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _

from training.certification import certificates, exams


class HomeStep(NamedTuple):
    """A heading, a sentence, words for the button and where it leads."""

    title: str
    words: str
    label: str
    url: str


def exam_begun(user):
    """Return the HomeStep to the exam that ``user`` has open, None if there is none."""
    for requirements in exams.open_to(user):
        exam = exams.open_exam(user, requirements)
        if exam is not None:
            return HomeStep(_("You have an exam open"), _until(exam), *_on_with(exam))
    return None


def _until(exam):
    title = exam.requirements.title
    if exam.deadline is None:
        return _("“{title}” waits for you. It has no time limit.").format(title=title)
    return _("“{title}” is turned in automatically at {time}.").format(
        title=title, time=time_format(localtime(exam.deadline), "g:i a")
    )


def _on_with(exam):
    return _("Continue your exam"), reverse("certification:review", args=[exam.pk])


def after_lessons(user, has_net):
    """
    Return the HomeStep of somebody who has done all lessons.

    An exam for a certificate not held, then one's own net, then practice.
    """
    title = _("All lessons complete")
    for requirements in exams.open_to(user):
        held = certificates.held_of(user, requirements)
        if held is None and not exams.hindrance(user, requirements):
            words = _("Now take the exam: “{title}”.").format(title=requirements.title)
            url = reverse("certification:begin", args=[requirements.slug])
            return HomeStep(title, words, _("Take the exam"), url)
    if not has_net:
        words = _("Now use it: enter your own net, and see what to change on it.")
        return HomeStep(title, words, _("Enter your net"), reverse("nets:net_new"))
    words = _("Practice some more, so that it stays. Every task is a new net.")
    return HomeStep(title, words, _("Practice"), reverse("exercises:list"))
