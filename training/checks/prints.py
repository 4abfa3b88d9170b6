"""What a sheet says on paper."""

from django.utils import timezone

from rigs.check import printed


def filled(sheet):
    """Return the printed.Filled that prints ``sheet``."""
    return printed.Filled(
        vessel=sheet.vessel_name,
        place=sheet.place,
        day=sheet.day,
        officer=str(sheet.officer),
        handed_in=sheet.finished and timezone.localtime(sheet.finished),
        verdict=sheet.verdict,
        told=sheet.told,
        so_far=sheet.read.so_far,
        notes=sheet.notes,
        photos=len(sheet.shown_photos),
    )
