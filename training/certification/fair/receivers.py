"""What follows when the readings of a check or of a review of changes are finished."""

from django.db.models.signals import post_save
from django.dispatch import receiver
from django.urls import reverse
from django.utils.translation import gettext as _

from training.course.onward import Onward, leads_on
from training.recall.models import ReadingSet

from . import recheck


@receiver(post_save, sender=ReadingSet)
def set_saved(instance, raw, **kwargs):
    """Settle the check in the transaction that saves its last answer."""
    if not raw and instance.finished and instance.purpose == ReadingSet.Purpose.SEASON:
        recheck.settle(instance)


@leads_on(ReadingSet.Purpose.SEASON)
def to_check(reading_set):
    return Onward(_("See the result"), reverse("certificates:check", args=[reading_set.subject]))


@leads_on(ReadingSet.Purpose.CHANGES)
def to_certificate(reading_set):
    code = reading_set.subject.partition("/")[0]
    return Onward(_("Back to the certificate"), reverse("certificates:certificate", args=[code]))
