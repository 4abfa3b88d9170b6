"""Whoever deleted the account trains here no more, from that moment on."""

from django.db.models import Q

from training.desk.season.gone import leaving


@leaving
def erased(moment):
    """The people who had themselves erased before ``moment``."""
    return Q(erasure__made__lt=moment)
