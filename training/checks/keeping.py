"""
Keeping what was written on a sheet: each save once, the newest shown, all of them kept.

A save is told by the sheet's key, the device it was made on and its number there. A
device numbers its saves from the highest it knows of, so that of two saves the one that
came after sight of the other has the higher number; of two made without sight of each
other the order is settled, though nobody can say which is right, and the other stays in
the history.
"""

from django.db import transaction
from django.utils import timezone

from rigs.rules import rulebook

from .models import CheckPhoto, CheckRevision, CheckSheet

SITE = "site"
"""The device that saves made in the site's own forms come from."""

CONTENT = (
    "vessel_name",
    "harbor",
    "position",
    "day",
    "rulebook_name",
    "typed",
    "notes",
    "photo_keys",
)
"""What a save holds; ``day`` is a date here and ISO text in the database."""


class NotTheirs(Exception):
    """The sheet belongs to somebody else."""


def _stored(content):
    return {name: content[name] for name in CONTENT} | {"day": content["day"].isoformat()}


def _show(sheet, revision, content):
    """Have ``sheet`` show ``revision``, and judge it by the rules of its day."""
    for name in CONTENT:
        setattr(sheet, name, content[name])
    book = rulebook.in_force(content["rulebook_name"], content["day"])
    sheet.rulebook_version = book.version
    sheet.revision, sheet.device = revision.number, revision.device
    sheet.judge()
    if revision.hands_in and not sheet.finished and not sheet.unread:
        sheet.finished = timezone.now()
    sheet.save()


@transaction.atomic
def keep(officer, key, device, number, content, hands_in=False, reason=""):
    """
    Keep one save of the sheet ``key`` and return the CheckSheet as it is now.

    ``content`` holds what CONTENT names. It is shown if it is newer than what is shown and,
    once the sheet is handed in, if it gives a ``reason``. A sheet with entries that cannot
    be read is kept but not handed in. The same save again changes nothing.

    Raise NotTheirs if the sheet is another officer's and RulebookError if no version of
    the rule set holds on the day.
    """
    version = rulebook.in_force(content["rulebook_name"], content["day"]).version
    start = {name: content[name] for name in CONTENT}
    start |= {"officer": officer, "rulebook_version": version}
    CheckSheet.objects.get_or_create(key=key, defaults=start)
    sheet = CheckSheet.objects.select_for_update().get(key=key)
    if sheet.officer_id != officer.pk:
        raise NotTheirs
    revision, is_new = CheckRevision.objects.get_or_create(
        sheet=sheet,
        device=device,
        number=number,
        defaults={"content": _stored(content), "hands_in": hands_in, "reason": reason},
    )
    is_newer = (number, device) > (sheet.revision, sheet.device)
    if is_new and is_newer and (sheet.finished is None or reason):
        _show(sheet, revision, content)
    return sheet


def content_of(sheet):
    """Return what ``sheet`` shows, as the content of a save."""
    return {name: getattr(sheet, name) for name in CONTENT}


def change(sheet, hands_in=False, reason="", **changes):
    """
    Save ``changes`` to ``sheet`` as made in the site's own forms; return it as it is now.

    Without a change, a hand-in or a reason nothing is saved.
    """
    content = content_of(sheet) | changes
    if content == content_of(sheet) and not hands_in and not reason:
        return sheet
    return keep(sheet.officer, sheet.key, SITE, sheet.revision + 1, content, hands_in, reason)


def add_photo(sheet, key, image):
    """
    Keep the photo ``key`` of ``sheet``, a file already made fit to keep; once only.

    Return the CheckPhoto. Raise NotTheirs if the key is another sheet's photo.
    """
    with transaction.atomic():
        photo, _ = CheckPhoto.objects.get_or_create(
            key=key, defaults={"sheet": sheet, "image": image}
        )
    if photo.sheet_id != sheet.pk:
        raise NotTheirs
    return photo
