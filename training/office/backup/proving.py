"""Showing that a restored site is the one that was backed up: everything is counted again."""

import hashlib
import json
from collections import defaultdict
from typing import NamedTuple

from django.core.files.storage import default_storage
from django.utils.translation import gettext as _

from training.certification import open_badge
from training.certification.audit import everything
from training.certification.badge_keys import BadgeError, method_name
from training.certification.badge_proof import read_document, read_token
from training.certification.models import Certificate
from training.desk import sums
from training.people.models import User
from training.recall import memory
from training.recall.models import AskedAgain, RuleMemory
from training.register import uptake

from .making import badge_sums

AT_A_TIME = 200


class Part(NamedTuple):
    """
    One part of the proof: ``what`` was looked at, how many (None: all), what is ``wrong``.

    ``remedy`` says what to do if something is.
    """

    what: str
    count: int | None
    wrong: list
    remedy: str = ""


def rows(about, found):
    """Compare each table as restored (``found``, Contents by label) with the backup's list."""
    wrong = []
    for label, told in about["tables"].items():
        now = found.get(label)
        if now is None or (now.rows, now.digest) != (told["rows"], told["content"]):
            words = _("{label}: {now} rows, not the {was} of the backup or not the same.")
            wrong.append(words.format(label=label, now=now.rows if now else 0, was=told["rows"]))
    return Part(_("rows"), sum(each.rows for each in found.values()), wrong)


def files(reader):
    """Read each file where the site now keeps it, and compare its checksum."""
    names, wrong = reader.names("files"), []
    for name in names:
        with default_storage.open(name) as file:
            now = hashlib.file_digest(file, "sha256").hexdigest()
        if now != reader.sum_of(f"files/{name}"):
            wrong.append(_("{name} is not as it was.").format(name=name))
    words = _("{name} was missing when the backup was made.")
    wrong += [words.format(name=name) for name in reader.about["missing"]]
    return Part(_("files"), len(names), wrong)


def kept_sums():
    """Count all sums of staff pages again."""
    wrong = [*sums.differences(), *uptake.check()]
    remedy = _("A later version may count otherwise. manage.py sums counts them all again.")
    return Part(_("sums of staff pages"), None, wrong, remedy)


def _values(row):
    return tuple(
        getattr(row, each.attname) for each in row._meta.concrete_fields if not each.primary_key
    )


def _by_person(rows):
    """Return {pk of a person: what ``rows`` of him say, in an order of its own}."""
    found = defaultdict(list)
    for row in rows:
        found[row.user_id].append(repr(_values(row)))
    return {pk: sorted(said) for pk, said in found.items()}


def remembered():
    """Work out again what each person remembers."""
    pks, wrong = list(User.objects.filter(is_active=True).values_list("pk", flat=True)), []
    for start in range(0, len(pks), AT_A_TIME):
        some = pks[start : start + AT_A_TIME]
        rows, asked = memory.counted(some)
        pairs = [
            (_by_person(kept.filter(user__in=some)), _by_person(counted))
            for kept, counted in (
                (RuleMemory.objects.all(), rows.values()),
                (AskedAgain.objects.all(), asked),
            )
        ]
        different = {pk for pk in some for kept, now in pairs if kept.get(pk) != now.get(pk)}
        wrong += [_("Person {pk} remembers otherwise.").format(pk=pk) for pk in sorted(different)]
    remedy = _("manage.py recount_memory works it out again.")
    return Part(_("people, and what each remembers"), len(pks), wrong, remedy)


def grades():
    """Grade every attempt, exam and set of readings again."""
    total, checks = everything()
    wrong = [f"{each.where}: {each.what}" for found in checks for each in found]
    return Part(_("attempts, exams and sets of readings, graded again"), total, wrong)


def _unverified(certificate, address, keys):
    """Return why the badge of ``certificate`` does not verify by ``keys``; empty if it does."""
    try:
        token = open_badge.token(certificate, address)
        read_token(token, {open_badge.key_id(address, each): each for each in keys})
        issuer = open_badge.issuer_id(address)
        document = json.dumps(open_badge.document(certificate, address))
        read_document(document, {method_name(issuer, each): each for each in keys})
    except BadgeError as error:
        return str(error)
    return ""


def certificates(about):
    """Verify each certificate by the site's keys, and compare its badge with that of the backup."""
    every = Certificate.objects.select_related("exam__requirements", "exam__user").order_by("pk")
    if open_badge.signing_key() is None:
        words = [_("No key is there to sign with.")] if every.exists() else []
        return Part(_("certificates"), every.count(), words)
    address, keys, wrong = about["address"], open_badge.public_keys(), []
    for each in every.iterator(chunk_size=AT_A_TIME):
        if why := _unverified(each, address, keys):
            wrong.append(f"{each.code}: {why}")
    if about["badges"] is not None:
        was, now = about["badges"], dict(badge_sums(address))
        words = _("{code}: not the badge that its holder has.")
        different = sorted(code for code in was | now if was.get(code) != now.get(code))
        wrong += [words.format(code=code) for code in different]
    return Part(_("certificates, verified"), every.count(), wrong)


def proof(reader, found):
    """Yield the Parts of the proof that the backup of ``reader`` is what is here now."""
    yield rows(reader.about, found)
    yield files(reader)
    yield kept_sums()
    yield remembered()
    yield grades()
    yield certificates(reader.about)
