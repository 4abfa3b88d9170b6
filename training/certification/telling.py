"""What exams and certificates have to tell of a person."""

from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.words.days import long_day
from training.deck import story


@story.PERSON.teller
def exams(person, user):
    """Tell the exams of ``person``, what staff changed about them, and the certificates."""
    now = timezone.now()
    found = person.exams.select_related("requirements", "certificate__revocation")
    for exam in found.prefetch_related("corrections__by"):
        corrections = list(exam.corrections.all())
        counts = corrections[-1].passed if corrections else exam.passed
        yield _exam(exam, counts)
        for each in corrections:
            yield _correction(exam, each)
        if certificate := getattr(exam, "certificate", None):
            yield from _certificate(certificate, exam.requirements.title, counts, now)


def _exam(exam, counts):
    title = exam.requirements.title
    if exam.handed_in is None:
        text = _("Started the exam “{title}”. It is not turned in.").format(title=title)
        return story.Telling(exam.begun, story.Kind.EXAM, text)
    words = (
        _("Passed the exam “{title}”: {marks} of {out_of} points.")
        if exam.passed
        else _("Did not pass the exam “{title}”: {marks} of {out_of} points.")
    )
    text = words.format(title=title, marks=exam.marks, out_of=exam.out_of)
    return story.Telling(exam.handed_in, story.Kind.EXAM, text, is_void=counts != exam.passed)


def _correction(exam, correction):
    words = (
        _("{name} changed the exam “{title}” to passed.")
        if correction.passed
        else _("{name} changed the exam “{title}” to not passed.")
    )
    text = words.format(name=correction.by.name, title=exam.requirements.title)
    return story.Telling(correction.made, story.Kind.EXAM, text, note=correction.reason)


def _certificate(certificate, title, counts, now):
    """Tell that it was issued, and that it was taken back or ran out, whichever came first."""
    link = reverse("certificates:certificate", args=[certificate.code])
    kind = story.Kind.CERTIFICATE
    revoked = getattr(certificate, "revocation", None)
    text = _("Earned the certificate “{title}”, valid until {day}.").format(
        title=title, day=long_day(timezone.localdate(certificate.expires))
    )
    is_void = revoked is not None or not counts or certificate.expires <= now
    yield story.Telling(certificate.issued, kind, text, link, is_void=is_void)
    if revoked:
        text = _("The certificate “{title}” was taken back.").format(title=title)
        yield story.Telling(revoked.made, kind, text, link, note=revoked.reason)
    elif counts and certificate.expires <= now:
        text = _("The certificate “{title}” ran out.").format(title=title)
        yield story.Telling(certificate.expires, kind, text, link)
