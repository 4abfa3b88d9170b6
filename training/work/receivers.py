"""What goes with a job: the file that it made."""

from django.db import transaction
from django.db.models.signals import post_delete
from django.dispatch import receiver

from .models import Job


@receiver(post_delete, sender=Job)
def forget_file(instance, **kwargs):
    """Delete the file of a job that is gone, once that is certain."""
    if instance.file:
        place, storage = instance.file.name, instance.file.storage
        transaction.on_commit(lambda: storage.delete(place))
