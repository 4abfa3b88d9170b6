"""
Importing a draft: what was shown is noted, then written in batches, each all or nothing.

It can be stopped between two batches, killed at any moment and gone on with: a line is noted
as written in the transaction that writes it. What differs by then from what was shown stays
as it is, and its line is left out.
"""

from django.db import IntegrityError, transaction
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from training.work import asking, kinds

from ..models import ImportDraft, ImportWrite
from .comparing import ADD, CHANGE
from .outlook import kept, outcomes, outcomes_of, register_for
from .settling import settle
from .writing import Writer

BATCH = 200  # lines written at a time, or fewer: as many as a step has time for
NOTED = 500  # lines noted at a time
AT_ONCE = 500  # lines that are imported while the page waits

State = ImportWrite.State


def held(draft_key, **owner):
    """Return the draft, locked in a transaction, with its job."""
    found = ImportDraft.objects.select_for_update(of=["self"]).select_related("job")
    return found.get(key=draft_key, **owner)


def confirm(draft_key, owner):
    """
    Have done what the dry run ``draft_key`` of ``owner`` showed, once.

    Return the draft and whether it is done. It is not while a worker is at it, nor if the
    register has changed since so that something else would come of it; then the draft
    shows what would, and waits.
    """
    with transaction.atomic():
        draft = held(draft_key, owner=owner)
        is_over = draft.applied or draft.is_busy or not draft.outcomes
        to_do = sum(each.does in (ADD, CHANGE) for each in outcomes_of(draft))
        broke_off = draft.writes.exists()
    if not is_over and broke_off:
        asking.go_on(draft.job_id)
    elif not is_over:
        order = asking.Order(ImportWork.slug, {"draft": str(draft.key)}, to_do)
        asking.ask(order, owner, asking.next_key(draft.key, draft.job))
    draft = ImportDraft.objects.select_related("job").get(pk=draft_key)
    return draft, draft.applied is not None


class DraftWork(kinds.Kind):
    """Work on a draft, which ``about`` names."""

    at_once = AT_ONCE

    def filename(self, job):
        """Return what the file of the draft is called."""
        found = ImportDraft.objects.filter(pk=job.about["draft"])
        return found.values_list("filename", flat=True).first() or _("a file that is gone")

    def leads_to(self, job):
        found = ImportDraft.objects.filter(pk=job.about["draft"])
        return reverse("register:import_draft", args=[job.about["draft"]]) if found else ""

    def asked(self, job):
        """Tie ``job`` to its draft; called in the transaction that makes it."""
        ImportDraft.objects.filter(pk=job.about["draft"]).update(job=job)


@kinds.kind
class ImportWork(DraftWork):
    """Importing a register."""

    slug = "register-import"

    def title(self, job):
        return _("Import of {filename}").format(filename=self.filename(job))

    def work(self, run):
        draft = ImportDraft.objects.get(pk=run.job.about["draft"])
        if draft.job_id != run.job.pk or draft.undone:
            return
        if not run.job.at.get("noted") and not _note(run, draft):
            return
        _write_all(run, draft)
        _sum_up(draft)
        with run.step():
            _close(draft)

    def said(self, job):
        draft = ImportDraft.objects.filter(pk=job.about["draft"]).first()
        if job.result.get("changed"):
            return _("Nothing was imported. The register has changed since you looked.")
        if draft is None or not draft.applied:
            return _("Nothing was imported.")
        return _("{added}, {changed}.").format(
            added=ngettext("{n} vessel added", "{n} vessels added", draft.added).format(
                n=draft.added
            ),
            changed=ngettext("{n} changed", "{n} changed", draft.changed).format(n=draft.changed),
        )

    def stopped(self, job):
        draft = held(job.about["draft"])
        if draft.writes.exclude(state=State.WAITING).exists():
            _sum_up(draft)
            _close(draft)
        else:
            # Nothing is written: it waits for its yes again.
            draft.writes.all().delete()
            job.at = {}
            job.done = 0
            job.save(update_fields=["at", "done"])


def _note(run, draft):
    """
    Note what is to be written, if that is still what was shown; return whether it is.

    If not, the draft shows what would be written now.
    """
    register = register_for(draft)
    found = list(outcomes(draft, register))
    if kept(found) != draft.outcomes:
        with run.step():
            draft.writes.all().delete()
            ImportDraft.objects.filter(pk=draft.pk, job=run.job).update(outcomes=kept(found))
            run.job.result = {"changed": True}
        return False
    there = {vessel.pk: vessel for vessel in register.vessels}
    writes = [_write(draft, each, there) for each in found if each.does in (ADD, CHANGE)]
    for start in range(0, len(writes), NOTED):
        with run.step():
            ImportWrite.objects.bulk_create(writes[start : start + NOTED], ignore_conflicts=True)
    with run.step():
        run.job.at = {"noted": True}
        run.job.total = len(writes)
    return True


def _write(draft, outcome, there):
    """Return the ImportWrite of ``outcome``, not saved."""
    vessel = there.get(outcome.vessel)
    return ImportWrite(
        draft=draft,
        line=outcome.line,
        vessel=outcome.vessel,
        values=outcome.values,
        before=vessel and {name: getattr(vessel, name) for name in outcome.values},
        tells=outcome.event,
        is_new=vessel is None,
    )


def _write_all(run, draft):
    """Write what is noted and not written, batch by batch."""
    writer = Writer(draft)
    while batch := list(draft.writes.filter(state=State.WAITING)[: run.room(BATCH)]):
        try:
            with run.step(done=len(batch)):
                writer.write(batch)
        except IntegrityError:
            # Somebody took a name or a number at this very moment; now it is seen.
            with run.step(done=len(batch)):
                writer.write(list(draft.writes.filter(pk__in=[each.pk for each in batch])))


def _sum_up(draft):
    """Say in ``draft``, which is not saved, how far it came and what became of each line."""
    written = draft.writes.filter(state=State.WRITTEN)
    draft.applied = timezone.now()
    draft.added = written.filter(is_new=True).count()
    draft.changed = written.filter(is_new=False).count()
    settle(draft)


def _close(draft):
    """Note that ``draft`` is imported, as it was summed up."""
    draft.save(update_fields=["applied", "added", "changed", "outcomes", "rows", "sheets"])
