"""
Keeps the sums up to date when records are saved, in the transaction that saves them.

What is made by ``bulk_create`` or ``loaddata`` goes by these: count it afterwards
(``manage.py sums``, or ``training.desk.sums.recount`` for some people alone).

How far a person has come is worked out from the records themselves, whatever was saved, so
it makes no difference which of these, or of others' receivers, is called first.
"""

from django.db.models.signals import post_save, pre_delete, pre_save
from django.dispatch import receiver

from training.certification.models import Certificate, Correction, Exam, Revocation
from training.exercises.models import Attempt
from training.lessons.models import LessonRead
from training.people.models import Membership, User
from training.recall import memory
from training.recall.models import ReadingSet

from . import sums


@receiver(post_save, sender=Attempt)
def count_attempt(instance, created, raw, **kwargs):
    if created and not raw:
        sums.attempt_made(instance)


@receiver(post_save, sender=LessonRead)
def count_reading(instance, created, raw, **kwargs):
    if created and not raw:
        sums.step_taken(instance.user_id, instance.read_at)


@receiver(memory.was_right)
def note_right(user, **kwargs):
    """A rule that was right can make a lesson complete."""
    sums.step_taken(user)


@receiver(post_save, sender=ReadingSet)
def note_passed_by_readings(instance, raw, **kwargs):
    if not raw and instance.finished is not None:
        sums.step_taken(instance.user_id)


@receiver(post_save, sender=Exam)
def note_exam(instance, raw, **kwargs):
    if not raw:
        sums.step_taken(instance.user_id, instance.handed_in or instance.begun)


@receiver(post_save, sender=Certificate)
@receiver(post_save, sender=Correction)
def note_outcome(instance, raw, **kwargs):
    """A certificate is issued, or renewed; an exam comes to something else."""
    if not raw:
        sums.step_taken(instance.exam.user_id)


@receiver(post_save, sender=Revocation)
def note_taken_back(instance, raw, **kwargs):
    if not raw:
        sums.step_taken(instance.certificate.exam.user_id)


@receiver(post_save, sender=User)
def change_course(instance, created, raw, update_fields, **kwargs):
    """Another role has other lessons."""
    if not (created or raw) and (update_fields is None or "role" in update_fields):
        sums.step_taken(instance.pk)


@receiver(pre_save, sender=Membership)
def change_group(instance, raw, **kwargs):
    if not (raw or instance._state.adding):
        sums.leaving(Membership.objects.get(pk=instance.pk))


@receiver(post_save, sender=Membership)
def join_group(instance, raw, **kwargs):
    if not raw:
        sums.joined(instance)


@receiver(pre_delete, sender=Membership)
def leave_group(instance, **kwargs):
    # Before it is gone, and what the person adds to the sums with it.
    sums.leaving(instance)
