"""
Keeping what was written on a sheet: each save once, the newest shown, all of them kept.

A save is told by the sheet's key, the device it was made on and its number there. A
device numbers its saves from the highest it knows of, so that of two saves the one that
came after sight of the other has the higher number; of two made without sight of each
other the order is settled, though nobody can say which is right, and the other stays in
the history. Readings of both are kept: see ``logbook``.
"""

import uuid

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from training.deck.codes import ALPHABET, LONG, new_long_code, tidy_code

from . import logbook
from .models import CheckPhoto, CheckRevision, CheckSheet, CheckThrown
from .parting import parted

SITE = "site"
"""The device that saves made in the site's own forms come from."""

EMPTY = {
    "fishery_name": "",
    "head": {},
    "at_sea": False,
    "boarding": "",
    "reasons": {},
    "photo_lines": {},
    "signatures": [],
    "code": "",
}
"""What a save from before has not, with what it is then; ``readings`` it lacks altogether."""

CONTENT = (
    "vessel_name",
    "harbor",
    "position",
    "day",
    "rulebook_name",
    "typed",
    "notes",
    "photo_keys",
    "readings",
    *EMPTY,
)
"""What a save holds; ``day`` is a date here and ISO text in the database."""

# What is not the sheet's to set: its readings are rows, its code is given once.
_FIELDS = tuple(name for name in CONTENT if name not in ("readings", "code"))


class NotTheirs(Exception):
    """The sheet belongs to somebody else."""


class IsTurnedIn(Exception):
    """The sheet was turned in: it is corrected, not thrown away."""


def _stored(content):
    return content | {"day": content["day"].isoformat()}


def _versions(content):
    """Return the versions of the rule set and of the fishery's that hold on the day."""
    day, fishery = content["day"], content["fishery_name"]
    return {
        "rulebook_version": rulebook.in_force(content["rulebook_name"], day).version,
        "fishery_version": rulebook.in_force(fishery, day).version if fishery else "",
    }


def _free_code(wanted):
    """Return the code ``wanted`` if it can be one and is no other sheet's, else ""."""
    code = tidy_code(wanted)
    if len(code) != LONG or not set(code) <= set(ALPHABET):
        return ""
    return "" if CheckSheet.objects.filter(code=code).exists() else code


def _show(sheet, save, content):
    """Have ``sheet`` show ``save``, and judge it by the rules of its day."""
    boarding = sheet.boarding  # once known, no save without it takes it off
    for name in _FIELDS:
        if name != "typed":
            setattr(sheet, name, content[name])
    sheet.boarding = content["boarding"] or boarding
    for name, version in _versions(content).items():
        setattr(sheet, name, version)
    sheet.revision, sheet.device = save.number, save.device
    sheet.typed = logbook.settle(sheet, save, content)
    sheet.judge()
    sheet.code = sheet.code or _free_code(content["code"])
    if save.hands_in and not sheet.finished and not sheet.unread:
        sheet.finished = timezone.now()
        sheet.code = sheet.code or new_long_code()
    sheet.save()


def _part(sheet, save, words):
    """Keep with ``save`` the ``words`` on how the site parts from its phone."""
    if words:
        save.parted = words
        save.save(update_fields=["parted"])


@transaction.atomic
def keep(officer, key, device, number, content, hands_in=False, reason="", said=None):
    """
    Keep one save of the sheet ``key`` and return the CheckSheet as it is now.

    ``content`` holds what CONTENT names; one from before may lack what EMPTY names, and its
    readings. It is shown if it is newer than what is shown and, once the sheet is handed in,
    if it gives a ``reason``. A sheet with entries that cannot be read is kept but not handed
    in. ``said`` is what the phone showed. The same save again changes nothing.

    Raise NotTheirs if the sheet is another officer's and RulebookError if no version of
    the rule set holds on the day.
    """
    content = EMPTY | content
    start = {name: content[name] for name in _FIELDS} | _versions(content)
    CheckSheet.objects.get_or_create(key=key, defaults=start | {"officer": officer})
    sheet = CheckSheet.objects.select_for_update().get(key=key)
    if sheet.officer_id != officer.pk:
        raise NotTheirs
    told = {"hands_in": hands_in, "reason": reason, "said": said or {}}
    save, is_new = CheckRevision.objects.get_or_create(
        sheet=sheet,
        device=device,
        number=number,
        defaults=told | {"content": _stored(content)},
    )
    if is_new:
        _take_in(sheet, save, content)
    return sheet


def _take_in(sheet, save, content):
    """Take a new ``save`` into ``sheet``: its readings always, the rest if it is shown."""
    too_late = sheet.finished is not None and not save.reason
    came = logbook.take_in(sheet, save, content.get("readings", []), too_late)
    if too_late:
        words = _("This came after the sheet was turned in. It is in the history and not counted.")
        is_older = (save.number, save.device) < (sheet.revision, sheet.device)
        _part(sheet, save, "" if is_older and not came else words)
    elif (save.number, save.device) > (sheet.revision, sheet.device):
        _show(sheet, save, content)
        _part(sheet, save, parted(save.said, sheet))
    elif came:
        # Readings of another phone that count where the newest save has none of its own.
        sheet.typed = logbook.recounted(sheet, content["typed"])
        sheet.judge()
        sheet.save()


def content_of(sheet):
    """Return what ``sheet`` shows, as the content of a save."""
    readings = [entry._asdict() for entry in sheet.log]
    return {name: getattr(sheet, name) for name in _FIELDS} | {
        "readings": readings,
        "code": sheet.code,
    }


def change(sheet, hands_in=False, reason="", **changes):
    """
    Save ``changes`` to ``sheet`` as made in the site's own forms; return it as it is now.

    Without a change, a hand-in or a reason nothing is saved.
    """
    before = content_of(sheet)
    content = before | changes
    if content == before and not hands_in and not reason:
        return sheet
    return keep(sheet.officer, sheet.key, SITE, sheet.revision + 1, content, hands_in, reason)


@transaction.atomic
def another_net(sheet, key):
    """
    Start the sheet ``key`` of another net on the vessel of ``sheet``; return it.

    It has the same head but for the net and the times, and both are of one boarding.
    """
    if not sheet.boarding:
        sheet.boarding = str(uuid.uuid4())
        CheckSheet.objects.filter(pk=sheet.pk).update(boarding=sheet.boarding)
    own = ("net", "started", "ended")
    content = content_of(sheet) | {
        "head": {name: text for name, text in sheet.head.items() if name not in own},
        "boarding": sheet.boarding,
    }
    content |= {"typed": {}, "readings": [], "reasons": {}, "notes": "", "code": ""}
    content |= {"photo_keys": [], "photo_lines": {}, "signatures": []}
    return keep(sheet.officer, key, SITE, 1, content)


def add_photo(sheet, key, image):
    """
    Keep the photo ``key`` of ``sheet``, a file already made fit to keep; once only.

    Return the CheckPhoto. Raise NotTheirs if the key is another sheet's photo.
    """
    with transaction.atomic():
        photo, __ = CheckPhoto.objects.get_or_create(
            key=key, defaults={"sheet": sheet, "image": image}
        )
    if photo.sheet_id != sheet.pk:
        raise NotTheirs
    return photo


@transaction.atomic
def throw_away(officer, key, reason, at, content):
    """
    Keep that ``officer`` threw the sheet ``key`` away at ``at`` on the phone; once only.

    ``content`` is what was on it. What the site has of the sheet stays. Raise IsTurnedIn if it
    was turned in and NotTheirs if it is another officer's.
    """
    sheet = CheckSheet.objects.select_for_update().filter(key=key).first()
    if sheet and sheet.officer_id != officer.pk:
        raise NotTheirs
    if sheet and sheet.finished:
        raise IsTurnedIn
    told = {"officer": officer, "reason": reason, "at": at, "content": content}
    thrown, __ = CheckThrown.objects.get_or_create(key=key, defaults=told)
    if thrown.officer_id != officer.pk:
        raise NotTheirs
    return thrown
