"""Keeps the sums and the derived events up when a vessel or one of its events is saved."""

from django.db.models.signals import post_save
from django.dispatch import receiver

from . import uptake
from .deriving import derive
from .models import AdoptionEvent, Vessel


@receiver(post_save, sender=Vessel)
def vessel_saved(instance, raw, **kwargs):
    if not raw:
        uptake.refresh([instance.pk])
        # A sheet may name it by what it is called now, or was called before.
        derive([instance.pk])


@receiver(post_save, sender=AdoptionEvent)
def event_saved(instance, raw, **kwargs):
    if not raw:
        uptake.refresh([instance.vessel_id])
