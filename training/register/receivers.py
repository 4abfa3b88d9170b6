"""Keeps sums, derived events and the list of harbors up when what they hang on is saved."""

from django.db.models.signals import post_save
from django.dispatch import receiver

from training.people.models import Group, Reach

from . import harbors, uptake
from .deriving import derive
from .models import AdoptionEvent, Vessel


@receiver(post_save, sender=Vessel)
def vessel_saved(instance, raw, **kwargs):
    if not raw:
        harbors.ensure([instance.harbor])
        uptake.refresh([instance.pk])
        # A sheet may name it by what it is called now, or was called before.
        derive([instance.pk])


@receiver(post_save, sender=AdoptionEvent)
def event_saved(instance, raw, **kwargs):
    if not raw:
        uptake.refresh([instance.vessel_id])


@receiver(post_save, sender=Group)
@receiver(post_save, sender=Reach)
def harbor_named(instance, raw, **kwargs):
    if not raw:
        harbors.ensure([instance.harbor])
