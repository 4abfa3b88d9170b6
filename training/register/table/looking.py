"""Looking what importing a draft would do: at once for a small register, else as a job."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from training.work import asking, kinds

from ..models import ImportDraft
from .importing import DraftWork
from .outlook import kept, outcomes, register_for

STEP = 1000  # rows between two looks whether to go on


def look(draft):
    """Have ``draft`` compared with the register, if all is known that it takes; return it."""
    if draft.answers is not None and not draft.outcomes and not draft.applied:
        order = asking.Order(LookWork.slug, {"draft": str(draft.key)}, len(draft.rows))
        asking.ask(order, draft.owner, asking.next_key(draft.key, draft.job))
        draft.refresh_from_db()
    return draft


@kinds.kind
class LookWork(DraftWork):
    """Comparing a register with the one that is there."""

    slug = "register-look"

    def title(self, job):
        return _("Comparing {filename} with the register").format(filename=self.filename(job))

    def work(self, run):
        draft = ImportDraft.objects.get(pk=run.job.about["draft"])
        run.job.done, found = 0, []
        for outcome in outcomes(draft, register_for(draft)):
            found.append(outcome)
            if len(found) % STEP == 0:
                with run.step(done=STEP):
                    pass
        told = kept(found)
        with run.step(done=len(found) % STEP):
            # Other answers may have been given meanwhile: then another job is at it.
            mine = ImportDraft.objects.filter(pk=draft.pk, job=run.job, applied=None)
            mine.update(outcomes=told)

    def said(self, job):
        if job.state != job.State.DONE:
            return _("Nothing was changed.")
        return ngettext(
            "{n} row is compared. Nothing has changed yet.",
            "{n} rows are compared. Nothing has changed yet.",
            job.total,
        ).format(n=job.total)
