"""What goes with a job: the file that it made, and what a run that was killed left of one."""

from django.db import transaction
from django.db.models.signals import post_delete
from django.dispatch import receiver

from .models import Job


@receiver(post_delete, sender=Job)
def forget_files(instance, **kwargs):
    """Delete the files of a job that is gone, once that is certain."""
    transaction.on_commit(lambda: _empty(instance.file.storage, instance.folder))


def _empty(storage, folder):
    try:
        __, names = storage.listdir(folder)
    except FileNotFoundError:
        return
    for name in names:
        storage.delete(f"{folder}/{name}")
