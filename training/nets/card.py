"""A net's card for sea: what changes do to it in flight, worked out beforehand by a worker."""

import hashlib
import uuid
from typing import NamedTuple

from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules.judge import judge
from rigs.tuning import card as told
from training.work import asking, kinds
from training.work.models import Job

from . import in_flight
from .models import Net, SeaCard

OF_MODEL = 1
"""Counts up when flight is worked out otherwise: cards from before are then old."""


def mark_of(found):
    """Return what a card of a net, an in_flight.Known, rests on, as a short text to compare."""
    read = found.read
    rests_on = (OF_MODEL, told.CHANGES, read.hangs, found.cut_for, found.told, found.evidence)
    return hashlib.sha256(repr(rests_on).encode()).hexdigest()


def known(net):
    """Return the in_flight.Known of ``net`` as of today."""
    return in_flight.known(net, timezone.localdate())


def _latest(net):
    """Return the Job of the card of ``net`` that was asked for last, None if none was."""
    jobs = Job.objects.filter(kind=CardWork.slug, about__net=net.pk)
    return jobs.order_by("-made", "-pk").first()


def ask(net, user):
    """Have the card of ``net`` worked out for ``user``; return the Job, the one that is at it."""
    last = _latest(net)
    if last and last.is_going:
        return last
    key = asking.next_key(uuid.uuid5(net.key, CardWork.slug), last)
    return asking.ask(asking.Order(CardWork.slug, {"net": net.pk}, len(told.CHANGES)), user, key)


class Asked(NamedTuple):
    """
    A card that was asked for: its ``job``, None if none was.

    ``trouble`` says why none came of it, as long as that holds; ``failed`` that it broke off.
    """

    job: Job | None
    trouble: str = ""

    @property
    def going(self):
        return self.job is not None and self.job.is_going

    @property
    def waits(self):
        return self.job is not None and self.job.state == Job.State.WAITING

    @property
    def failed(self):
        return self.job is not None and self.job.state == Job.State.FAILED


def asked(net, found):
    """Return the Asked of the card of ``net``, of which ``found`` is Known."""
    job = _latest(net)
    if job is None or job.result.get("rests_on") != mark_of(found):
        return Asked(job)
    return Asked(job, job.result["trouble"])


class Shown(NamedTuple):
    """A card in words: its ``rows``, when it was ``made``, and whether it ``holds`` as of now."""

    rows: list
    made: object
    holds: bool


def shown(net, found):
    """Return the Shown of ``net``, of which ``found`` is Known; None if there is none."""
    card = SeaCard.objects.filter(net=net).first()
    if card is None:
        return None
    holds = card.rests_on == mark_of(found)
    if not holds:
        return Shown([], card.made, holds)
    rig, plan = found.read.hangs, found.plan
    verdict = None if plan.lapsed else judge(rig, plan.rulebook, timezone.localdate())
    return Shown([told.words(row, rig, verdict) for row in card.rows], card.made, holds)


@kinds.kind
class CardWork(kinds.Kind):
    """Working out a net's card, change by change."""

    slug = "flight-card"

    def title(self, job):
        return _("Working out what changes do to a net")

    def may(self, user, job):
        return (
            user.is_active and Net.objects.there().filter(pk=job.about["net"], owner=user).exists()
        )

    def work(self, run):
        net = Net.objects.there().filter(pk=run.job.about["net"]).first()
        if net is None:
            return
        found = known(net)
        mark = mark_of(found)
        try:
            with in_flight.in_words():
                in_flight.believed(found, found.read.hangs)
                cases = in_flight.cases(found, found.read.hangs)
        except in_flight.CannotFly as error:
            with run.step():
                run.job.result = {"trouble": str(error), "rests_on": mark}
            return
        if run.job.at.get("rests_on") != mark:  # begun, or begun again with the net changed since
            with run.step():
                run.job.at, run.job.done = {"rests_on": mark, "rows": []}, 0
        rows = run.job.at["rows"]
        for mend in told.CHANGES[len(rows) :]:
            rows = [*rows, told.of_change(mend, found.read.hangs, cases)]
            with run.step(done=1):
                run.job.at = {"rests_on": mark, "rows": rows}
        with run.step():
            SeaCard.objects.update_or_create(
                net=net, defaults={"rests_on": mark, "rows": rows, "made": timezone.now()}
            )
            run.job.at = {}

    def said(self, job):
        if job.result.get("trouble"):
            return job.result["trouble"]
        return _("It is worked out.") if job.state == job.State.DONE else ""

    def leads_to(self, job):
        return reverse("nets:flight_card", args=[job.about["net"]])
