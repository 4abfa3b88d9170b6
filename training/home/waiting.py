"""What waits for one member of the staff: what only they, or only a second person, can do."""

from typing import NamedTuple

from django.conf import settings
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rigs.rules.rulebook import RulebookError
from training.accounts import asking
from training.certification.change_models import Change
from training.certification.fair import waiting as fair
from training.deck import readiness
from training.people import second, sight
from training.people.factors import resetting
from training.register.vessels.unmatched_views import unmatched_for
from training.rulesets import withdrawing
from training.rulesets.models import Version
from training.work import kinds as work
from training.work.models import Job

MOST_WORK = 3  # jobs; the page of long work has all
LOOK_EVERY = 60  # seconds, at what is not well with the site


class Waits(NamedTuple):
    """One thing that waits, in a sentence, and the page on which it is done."""

    words: str
    url: str


def _title(version):
    """Return what the rules in ``version`` are called; their short name if the text is bad."""
    try:
        return version.book.title
    except RulebookError:
        return version.name


def _drafts(beside):
    found = Version.objects.filter(approved_at=None).select_related("drafted_by")
    for each in found.order_by("submitted_at", "pk"):
        told = {"title": _title(each), "version": each.version}
        if each.submitted_at is None and each.drafted_by_id == beside.person.pk:
            words = _("Your draft of “{title}”, version {version}, is not sent to be approved yet.")
        elif each.waits and not beside.why_not(each.drafted_by, each.submitted_at):
            words = _("“{title}”, version {version}, waits for you or another to approve it.")
        else:
            continue
        yield Waits(words.format(**told), each.get_absolute_url())


def _withdrawals(beside):
    for each in withdrawing.to_agree(beside):
        words = _(
            "{by} asks to withdraw “{title}”, version {version}. It waits for you or another."
        )
        told = {"by": each.by, "title": _title(each.version), "version": each.version.version}
        yield Waits(words.format(**told), f"{each.version.get_absolute_url()}#withdraw")


def _changes(beside):
    found = Change.objects.filter(outcome=Change.Outcome.WAITING)
    for each in found.select_related("requirements", "by").order_by("made", "pk"):
        if beside.why_not(each.by, each.made):
            continue
        yield Waits(
            _(
                "New requirements of “{certificate}” wait for you or another to approve them."
            ).format(certificate=each.requirements.title),
            reverse("certification:change", args=[each.pk]),
        )


def _fair(beside):
    waits = fair.for_staff(beside.person, beside)
    if count := waits["questions"]:
        yield Waits(
            ngettext(
                "{count} question about a result is not answered.",
                "{count} questions about results are not answered.",
                count,
            ).format(count=count),
            reverse("certification:questions"),
        )
    if count := waits["proposals"]:
        yield Waits(
            ngettext(
                "{count} correction of a result waits for a second person.",
                "{count} corrections of results wait for a second person.",
                count,
            ).format(count=count),
            reverse("certification:proposals"),
        )
    if count := waits["withdrawals"]:
        yield Waits(
            ngettext(
                "{count} certificate is to be withdrawn. It waits for a second person.",
                "{count} certificates are to be withdrawn. They wait for a second person.",
                count,
            ).format(count=count),
            f"{reverse('certification:proposals')}#withdrawals",
        )


def _sheets(beside):
    if count := unmatched_for(beside.person).count():
        yield Waits(
            ngettext(
                "{count} check sheet has no vessel in the register.",
                "{count} check sheets have no vessel in the register.",
                count,
            ).format(count=count),
            reverse("register:unmatched_sheets"),
        )


def _accounts(beside):
    for each in asking.to_agree(beside):
        if each.person:
            words = _("{by} asks to change the account of {name}. It waits for you or another.")
        else:
            words = _("{by} asks to make {name} staff. It waits for you or another to agree.")
        yield Waits(
            words.format(by=each.by, name=each.person or each.wanted["name"]),
            f"{reverse('accounts:requests')}#request-{each.pk}",
        )


def _phones(beside):
    for each in resetting.waiting():
        if resetting.why_not(each, beside):
            continue
        words = _("{by} asks to take the lost phone of {name} off. It waits for you or another.")
        yield Waits(words.format(by=each.by, name=each.person), reverse("people:phone_resets"))


def _work(beside):
    """Long work that goes on, and what came to its end and was not looked at since."""
    for job in sight.own(Job.objects.filter(seen=None), beside.person)[:MOST_WORK]:
        words = _("“{title}” {state}.")
        told = {"title": work.of(job).title(job), "state": job.get_state_display()}
        yield Waits(words.format(**told), job.get_absolute_url())


def _unwell(beside):
    """What is not well with the site; nobody runs a demo."""
    if settings.LOCAL:
        return
    if count := sum(not each.well for each in readiness.lately(LOOK_EVERY)):
        words = ngettext(
            "{count} thing about the site is not well.",
            "{count} things about the site are not well.",
            count,
        )
        yield Waits(words.format(count=count), reverse("office:well"))


def for_staff(user):
    """Return what waits for ``user``, a list of Waits, what is oldest of each kind first."""
    beside = second.Beside(user)
    whole_fleet = ()
    if user.sees_whole_fleet:
        whole_fleet = (_unwell, _accounts, _phones, _drafts, _withdrawals, _changes)
    return [each for kind in (_work, *whole_fleet, _fair, _sheets) for each in kind(beside)]
