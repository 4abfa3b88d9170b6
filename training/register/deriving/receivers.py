"""Derives the stages of vessels as soon as a record they hang on is saved or gone."""

from django.db.models.signals import post_delete, post_save
from django.dispatch import receiver

from training.certification.models import Certificate, Correction, Revocation
from training.checks.models import CheckSheet
from training.nets.models import Net, Rigging
from training.people.models import SharingChoice

from ..models import AdoptionEvent, Crew
from .matching import derive
from .sources import named_in


def _of_person(user_id):
    pks = set(Crew.objects.filter(user=user_id).values_list("vessel", flat=True))
    if pks:
        derive(pks)


@receiver(post_save, sender=Crew)
@receiver(post_delete, sender=Crew)
def crew_changed(instance, raw=False, **kwargs):
    if not raw:
        derive([instance.vessel_id])


@receiver(post_save, sender=Net)
@receiver(post_delete, sender=Net)
def net_changed(instance, raw=False, **kwargs):
    if not raw:
        _of_person(instance.owner_id)


@receiver(post_save, sender=Rigging)
@receiver(post_delete, sender=Rigging)
def rigging_changed(instance, raw=False, **kwargs):
    if not raw:
        _of_person(instance.net.owner_id)


@receiver(post_save, sender=SharingChoice)
def choice_made(instance, raw, **kwargs):
    if not raw:
        _of_person(instance.user_id)


@receiver(post_save, sender=Certificate)
def certificate_issued(instance, raw, **kwargs):
    if not raw:
        _of_person(instance.exam.user_id)


@receiver(post_save, sender=Revocation)
def certificate_taken_back(instance, raw, **kwargs):
    if not raw:
        _of_person(instance.certificate.exam.user_id)


@receiver(post_save, sender=Correction)
def exam_corrected(instance, raw, **kwargs):
    if not raw:
        _of_person(instance.exam.user_id)


@receiver(post_save, sender=CheckSheet)
def sheet_saved(instance, raw, **kwargs):
    if not raw and instance.finished:
        told = AdoptionEvent.objects.filter(key__startswith=f"sheet:{instance.pk}:")
        pks = set(told.values_list("vessel", flat=True))
        derive(pks | named_in(instance))
