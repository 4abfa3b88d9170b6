"""What the register has to tell of a vessel, and of whoever fishes on one."""

from itertools import pairwise

from django.urls import reverse
from django.utils.translation import gettext as _

from rigs.words.units import feet_inches
from training.checks.models import CheckSheet
from training.checks.telling import counts, pictures
from training.deck import story
from training.nets.telling import shared
from training.people import sight
from training.people.models import User

from .deriving.sources import NAMING, names_of
from .models import Crew, Removal, Vessel
from .wording import stage_words


@story.PERSON.teller
def berths(person, user):
    """Tell on which vessels ``person`` fished, since when and until when."""
    seen = set(sight.rows(Vessel.objects.order_by(), user).values_list("pk", flat=True))
    for berth in Crew.objects.filter(user=person).select_related("vessel"):
        name, part = berth.vessel.name, berth.get_part_display()
        link = reverse("register:vessel", args=[berth.vessel_id]) if berth.vessel_id in seen else ""
        text = _("Joined {vessel} as {part}.").format(vessel=name, part=part)
        yield story.Telling(berth.since, story.Kind.CREW, text, link)
        if berth.until:
            text = _("Left {vessel}.").format(vessel=name)
            yield story.Telling(berth.until, story.Kind.CREW, text, link)


@story.VESSEL.teller
def crew(vessel, user):
    """Tell who fished on ``vessel``, since when and until when."""
    found = list(vessel.crew.select_related("user"))
    seen = links_to({berth.user_id for berth in found}, user)
    for berth in found:
        name, link = berth.user.name, seen.get(berth.user_id, "")
        text = _("{name} joined the crew as {part}.").format(
            name=name, part=berth.get_part_display()
        )
        yield story.Telling(berth.since, story.Kind.CREW, text, link)
        if berth.until:
            text = _("{name} left the crew.").format(name=name)
            yield story.Telling(berth.until, story.Kind.CREW, text, link)


def links_to(people, user):
    """Return the address of the page of each of ``people``, numbers, that ``user`` may open."""
    found = sight.rows(User.objects.filter(pk__in=people), user)
    return {each.pk: reverse("desk:trainee", args=[each.pk]) for each in found if not each.is_staff}


@story.VESSEL.teller
def stages(vessel, user):
    """Tell the stages that ``vessel`` reached, also those that do not count any more."""
    words = stage_words()
    for event in vessel.events.select_related("by", "correction__by"):
        if not event.is_withdrawal:
            yield _stage(event, words[event.stage])


def _stage(event, words):
    said = [_("Source: {how}.").format(how=event.get_known_display())]
    if event.by:
        said.append(_("Recorded by {name}.").format(name=event.by.name))
    if event.corrects_id:
        said.append(_("It corrects an earlier entry."))
    later = getattr(event, "correction", None)
    if later:
        said.append(_followed(later))
    ways = (
        ()
        if later
        else (
            (_("Correct"), reverse("register:event_correct", args=[event.pk])),
            (_("Withdraw"), reverse("register:event_withdraw", args=[event.pk])),
        )
    )
    text = f"{words[:1].upper()}{words[1:]}."
    note = " ".join([*said, event.note]).strip()
    return story.Telling(
        event.day, story.Kind.STAGE, text, note=note, ways=ways, is_void=later is not None
    )


def _followed(later):
    words = (
        _("Withdrawn by {name}: {note}")
        if later.is_withdrawal
        else _("Corrected by {name}. {note}")
    )
    by = later.by.name if later.by else _("the site")
    return words.format(name=by, note=later.note).strip(": ")


@story.VESSEL.teller
def sheets(vessel, user):
    """Tell the check sheets turned in that name ``vessel``, with their photos."""
    names = names_of([vessel])
    rows = sight.rows(CheckSheet.objects.finished().order_by(), user).values_list("pk", *NAMING)
    meant = [pk for pk, *told in rows.iterator() if names.meant(*told) is not None]
    found = CheckSheet.objects.filter(pk__in=meant).select_related("officer")
    for sheet in found.prefetch_related("photos"):
        yield story.Telling(
            sheet.day,
            story.Kind.SHEET,
            _("{officer} checked the rig. {counts}").format(
                officer=sheet.officer.name, counts=counts(sheet)
            ),
            sheet.get_absolute_url(),
            pictures=pictures(sheet),
        )


@story.VESSEL.teller
def nets(vessel, user):
    """Tell the nets that its crew entered while aboard, of those who show them to staff."""
    aboard = {}
    for berth in vessel.crew.all():
        aboard.setdefault(berth.user_id, []).append(berth)
    found = list(shared(list(aboard)))
    seen = links_to({net.owner_id for net in found}, user)
    for net in found:
        telling = story.Telling(net.created, story.Kind.NET, "")
        if any(_holds(berth, telling.day) for berth in aboard[net.owner_id]):
            text = _("{name} entered the net “{net}”.").format(name=net.owner.name, net=net.name)
            yield telling._replace(text=text, link=seen.get(net.owner_id, ""))


def _holds(berth, day):
    return berth.since <= day and (berth.until is None or day <= berth.until)


@story.VESSEL.teller
def details(vessel, user):
    """Tell since when ``vessel`` is on the register, and what it said otherwise before."""
    rows = list(vessel.details.all())
    yield story.Telling(vessel.added, story.Kind.REGISTER, _("Added to the register."))
    for before, after in pairwise(rows):
        for text in _differences(before, after):
            yield story.Telling(after.since, story.Kind.REGISTER, text)


def _differences(before, after):
    if before.harbor != after.harbor:
        yield _("Harbor changed from {before} to {after}.").format(
            before=before.harbor, after=after.harbor
        )
    if feet_inches(before.length) != feet_inches(after.length):
        yield _("Length changed from {before} to {after}.").format(
            before=feet_inches(before.length), after=feet_inches(after.length)
        )
    if before.is_fishing != after.is_fishing:
        yield _("Fishing again.") if after.is_fishing else _("No longer fishing.")


@story.VESSEL.teller
def merged(vessel, user):
    """Tell which vessels were merged into ``vessel``, and when it was off the register itself."""
    for removal in vessel.taken_in.select_related("vessel", "by"):
        text = _("{vessel} of {harbor} was merged into it.").format(
            vessel=removal.vessel.name, harbor=removal.vessel.harbor
        )
        yield from _told(
            removal,
            text,
            _("{vessel} is a vessel of its own again.").format(vessel=removal.vessel.name),
        )
    for removal in Removal.objects.filter(vessel=vessel).select_related("into", "by"):
        text = (
            _("Merged into {vessel}.").format(vessel=removal.into.name)
            if removal.into
            else _("Taken off the register.")
        )
        yield from _told(removal, text, _("Put back on the register."))


def _told(removal, done, undone):
    by = _("By {name}.").format(name=removal.by.name) if removal.by else ""
    ways = () if removal.undone else ((_("Undo"), reverse("register:removed_vessels")),)
    kind = story.Kind.REGISTER
    yield story.Telling(
        removal.made, kind, done, note=by, ways=ways, is_void=removal.undone is not None
    )
    if removal.undone:
        yield story.Telling(removal.undone, kind, undone)
