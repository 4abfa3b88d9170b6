"""What is handed in elsewhere, noted in the transaction that saves it."""

from django.db.models.signals import post_save
from django.dispatch import receiver

from training.exercises.models import Attempt

from . import (
    memory,
    sets,  # noqa: F401  (its source registers itself)
)


def _asked(attempt, user_pk, book):
    answers = memory.answers_in(attempt.findings, book)
    return memory.Asked(user_pk, attempt.handed_in, book.name, answers, attempt.pk)


@receiver(post_save, sender=Attempt)
def note_attempt(instance, created, raw, **kwargs):
    if created and not raw:
        assignment = instance.assignment
        memory.take(_asked(instance, assignment.user_id, assignment.rulebook))


@memory.source
def attempted(pks):
    """Yield what people were Asked in exercises."""
    rows = Attempt.objects.filter(assignment__user__in=pks).select_related("assignment")
    for attempt in rows.order_by("pk").iterator():
        yield _asked(attempt, attempt.assignment.user_id, attempt.assignment.rulebook)
