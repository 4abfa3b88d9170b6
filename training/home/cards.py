"""What is a person's own, told in a sentence each, with the way to it."""

from typing import NamedTuple

from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rigs.words.days import long_day
from training.calibration import turns
from training.calibration.models import Turn
from training.certification import certificates, exams
from training.certification.models import Certificate
from training.checks.models import CheckSheet
from training.deck.plain import listed
from training.nets.models import Net, Tow
from training.people import sight
from training.register.models import BerthAsked, Crew

SHOWN = 3
"""Of each sort, the most that are named."""


class HomeWay(NamedTuple):
    """Words for a link, and where it leads."""

    words: str
    url: str


class Card(NamedTuple):
    """A heading, sentences, and the ways on; the first way is the one that matters."""

    title: str
    lines: tuple[str, ...]
    ways: tuple[HomeWay, ...]


def nets_of(user):
    """Return the nets of ``user``, the one changed last first."""
    return list(sight.own(Net.objects.there(), user).prefetch_related("riggings"))


def net(nets):
    """Return the Card on one's own ``nets``."""
    if not nets:
        return Card(
            _("My net"),
            (_("None yet. Enter a few lengths, and see what to change on it."),),
            (
                HomeWay(_("Enter your net"), reverse("nets:net_new")),
                HomeWay(_("Try a made-up net"), reverse("predicting:start")),
            ),
        )
    first, *others = nets
    ways = [HomeWay(_("Open: {name}").format(name=first.name), first.get_absolute_url())]
    if others:
        words = _("All my nets ({count})").format(count=len(nets))
        ways.append(HomeWay(words, reverse("nets:nets")))
    return Card(
        ngettext("My net", "My nets", len(nets)),
        tuple(_rigged(each) for each in nets[:SHOWN]),
        tuple(ways),
    )


def _rigged(found):
    """Return a sentence on a net: planned, or rigged since when by its owner's word."""
    said = [each for each in found.riggings.all() if each.deleted is None]
    if not said:
        return _("{name}: planned. You have not said that it is rigged.").format(name=found.name)
    day = long_day(said[-1].day)
    if said[-1].was["goal"] == found.goal and said[-1].was["measures"] == found.measures:
        return _("{name}: rigged as planned on {day}.").format(name=found.name, day=day)
    return _("{name}: rigged on {day}, and the plan changed since.").format(
        name=found.name, day=day
    )


def log(user, nets):
    """Return the Card on one's log of tows; None without a net."""
    if not nets:
        return None
    title = _("My log")
    tows = sight.own(Tow.objects.there(), user).filter(net__in=nets).select_related("net")
    last = tows.last()
    if last is None:
        new = HomeWay(_("Add a tow"), reverse("nets:tow_new", args=[nets[0].pk]))
        return Card(title, (_("No tow yet. Write down the next one."),), (new,))
    count = tows.count()
    line = ngettext(
        "{count} tow. It was on {day}, with {name}.",
        "{count} tows. The last was on {day}, with {name}.",
        count,
    ).format(count=count, day=long_day(last.day), name=last.net.name)
    ways = (
        HomeWay(_("Add a tow"), reverse("nets:tow_new", args=[last.net_id])),
        HomeWay(_("Open the log"), reverse("nets:log", args=[last.net_id])),
    )
    return Card(title, (line,), ways)


def certificate(user):
    """Return the Card on one's certificates; of each sort the one that counts longest, if any."""
    rows = sight.own(Certificate.objects.all(), user).order_by("expires")
    latest = {}
    for each in certificates.for_standing(rows):
        told = certificates.standing(each)
        before = latest.get(each.exam.requirements_id)
        if before is None or told.counts or not before[1].counts:
            latest[each.exam.requirements_id] = each, told
    if latest:
        found = list(latest.values())
        return Card(
            ngettext("My certificate", "My certificates", len(found)),
            tuple(_standing(*each) for each in found),
            tuple(_to_certificate(*each) for each in found),
        )
    open_exams = list(exams.open_to(user))
    ways = [
        HomeWay(
            _("See the exam: {title}").format(title=each.title),
            reverse("certification:begin", args=[each.slug]),
        )
        for each in open_exams
    ]
    words = _("None yet. Pass the exam, and it is here at once.")
    return Card(
        _("My certificate"), (words if ways else _("None yet. No exam is open."),), tuple(ways)
    )


def _standing(found, told):
    words = {
        certificates.VALID: _("{title}: valid until {day}."),
        certificates.EXPIRED: _("{title}: expired on {day}."),
        certificates.REVOKED: _("{title}: withdrawn."),
        certificates.NEEDS_REFRESHER: _(
            "{title}: valid until {day}, but some rules changed since. Go through them."
        ),
    }[told.state]
    day = long_day(timezone.localdate(found.expires))
    return words.format(title=found.exam.requirements.title, day=day)


def _to_certificate(found, told):
    if told.state == certificates.NEEDS_REFRESHER:
        return HomeWay(_("See what changed"), reverse("certificates:changes", args=[found.code]))
    if told.state == certificates.EXPIRED:
        slug = found.exam.requirements.slug
        return HomeWay(_("Take the exam again"), reverse("certification:begin", args=[slug]))
    return HomeWay(_("Show it"), reverse("certificates:certificate", args=[found.code]))


def vessel(user):
    """Return the Card on the vessels that one fishes on."""
    berths = sight.own(Crew.objects.filter(until=None), user).select_related("vessel")
    lines = tuple(
        _("{name}, {harbor}. You are listed as {part}.").format(
            name=each.vessel.name, harbor=each.vessel.harbor, part=each.get_part_display()
        )
        for each in berths
    )
    where = reverse("register:own_vessels")
    asked = sight.own(BerthAsked.objects.waiting(), user).select_related("vessel")
    if names := [each.vessel.name for each in asked]:
        words = _("Staff say that you fish on {names}. Is that right?").format(names=listed(names))
        way = HomeWay(_("Answer yes or no"), where)
        return Card(_("My vessel"), (words, *lines), (way,))
    if not lines:
        words = _("None yet. Say which vessel you fish on.")
        return Card(_("My vessel"), (words,), (HomeWay(_("Choose my vessel"), where),))
    title = ngettext("My vessel", "My vessels", len(lines))
    return Card(title, lines, (HomeWay(_("Change my vessel"), where),))


def sheets(user):
    """Return the Card on an officer's check sheets that are not turned in, latest first."""
    begun = sight.own(CheckSheet.objects.filter(finished=None), user).order_by("-day", "-pk")
    shown = list(begun[:SHOWN])
    new = HomeWay(_("Start a check sheet"), reverse("checks:check_new"))
    title = _("Check sheets not turned in")
    if not shown:
        return Card(title, (_("None on the site. A phone may hold more."),), (new,))
    ways = [
        HomeWay(
            _("Go on: {vessel}, {day}").format(vessel=each.vessel_name, day=long_day(each.day)),
            reverse("checks:check", args=[each.key]),
        )
        for each in shown
    ]
    count = begun.count()
    line = ngettext("{count} sheet waits for you.", "{count} sheets wait for you.", count).format(
        count=count
    )
    return Card(title, (line,), (*ways, new))


def rounds(user):
    """Return the Card on the judging rounds that an officer can still judge in."""
    found = sight.own(Turn.objects.all(), user).select_related("round").order_by("-round__created")
    waiting = [each for each in found.prefetch_related("calls") if turns.is_open(each)]
    judge = HomeWay(_("Judge a rig"), reverse("exercises:do", args=["judge-rig"]))
    title = _("Judging rounds")
    if not waiting:
        return Card(title, (_("No round is open. Practice on drawn nets until one is."),), (judge,))
    lines = tuple(
        _("{title}: {judged} of {count} rigs judged.").format(
            title=each.round.title, judged=len(each.calls.all()), count=each.round.count
        )
        for each in waiting[:SHOWN]
    )
    ways = [
        HomeWay(
            _("Go on: {title}").format(title=each.round.title),
            reverse("calibration:turn", args=[each.pk]),
        )
        for each in waiting[:SHOWN]
    ]
    return Card(title, lines, (*ways, judge))


def at_sea():
    """Return the Card on what is taken along to where there is no signal."""
    line = _("Take your lessons, tasks and nets along on this phone before you leave the dock.")
    return Card(
        _("Without signal"), (line,), (HomeWay(_("Get ready for sea"), reverse("sea:ready")),)
    )
