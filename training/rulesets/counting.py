"""Counting what a draft would change by a worker, bit by bit."""

import uuid

from django.urls import reverse
from django.utils.translation import gettext as _

from rigs.rules.rulebook import RulebookError
from training.work import asking, kinds

from . import impact
from .models import Impact

AT_ONCE = 60  # things that are looked at while the page waits
A_STEP = 0.5  # seconds


def ask(counted, user):
    """Have the Impact ``counted`` counted for ``user``; return the Job, None if one is at it."""
    if asking.going(ImpactWork.slug, impact=counted.pk):
        return None
    about = {"impact": counted.pk, "version": counted.version_id}
    order = asking.Order(ImpactWork.slug, about, len(counted.todo))
    return asking.ask(order, user, uuid.uuid4())


@kinds.kind
class ImpactWork(kinds.Kind):
    """Counting what a version of a rule set would change."""

    slug = "rule-impact"
    at_once = AT_ONCE

    def may(self, user, job):
        return user.is_active and user.sees_whole_fleet

    def title(self, job):
        return _("Counting what a draft of rules would change")

    def work(self, run):
        counted = Impact.objects.select_related("version").get(pk=run.job.about["impact"])
        left = len(counted.todo)
        try:
            while counted.todo:
                counted = impact.carry_on(counted, A_STEP)
                with run.step(done=max(left - len(counted.todo), 0)):
                    left = len(counted.todo)
        except RulebookError:
            with run.step():
                run.job.result = {"refused": True}

    def said(self, job):
        if job.result.get("refused"):
            return _("It cannot be counted: the draft cannot be read any more.")
        if job.state != job.State.DONE:
            return _("What was counted so far is kept.")
        return _("It is counted.")

    def leads_to(self, job):
        return reverse("rulesets:version", args=[job.about["version"]]) + "#impact"
