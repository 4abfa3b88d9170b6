"""What the groups have to tell of a person: signing up, joining a group, coming to a session."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import story

from . import sight
from .models import Attendance, Group


@story.PERSON.teller
def groups(person, user):
    """Tell since when ``person`` has an account, and which groups they joined."""
    seen = set(sight.rows(Group.objects.order_by(), user).values_list("pk", flat=True))
    for each in person.memberships.select_related("group"):
        yield story.Telling(
            each.joined,
            story.Kind.GROUP,
            _("Joined the group {name}.").format(name=each.group.name),
            reverse("desk:group", args=[each.group_id]) if each.group_id in seen else "",
        )
    yield story.Telling(person.joined, story.Kind.GROUP, _("Signed up here."))


@story.PERSON.teller
def sessions(person, user):
    """Tell to which sessions ``person`` came, and who says so."""
    found = person.attendances.select_related("session__group", "noted_by")
    for each in found:
        if each.said_by == Attendance.SaidBy.SELF:
            said = _("They said so on their own phone.")
        elif each.noted_by:
            said = _("Noted by {name}.").format(name=each.noted_by.name)
        else:
            said = _("Noted by staff.")
        yield story.Telling(
            each.session.starts,
            story.Kind.SESSION,
            _("Came to “{title}” of {group}.").format(
                title=each.session.title, group=each.session.group.name
            ),
            note=said,
        )
