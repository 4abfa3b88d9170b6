"""Letters that the invented staff wrote: by email, with some left out, and as text messages."""

import uuid
from datetime import timedelta

from django.utils import timezone

from training.letters import recipients, sending, texts
from training.letters.models import Letter, LetterTo
from training.people.models import Group, User

from . import scenario

# Who chose to get no mail: so many of them, counted from the first.
EACH = 9
DAYS_AGO = 6
ADDRESS = "https://training.example"


def load(trainees, staff):
    """Have ``staff`` write to the first group: by email, all sent, and to phones, half done."""
    User.objects.filter(pk__in=[user.pk for user in trainees[EACH::EACH]]).update(wants_mail=False)
    group = Group.objects.get(name=scenario.group_name(scenario.HARBOURS[0]))
    for means, slug in ((Letter.Means.EMAIL, "take-exam"), (Letter.Means.PHONE, "go-on")):
        target = recipients.target({"group": str(group.pk)}, staff)
        text = texts.standard()[slug]
        words = (text.subject, text.body) if means == Letter.Means.EMAIL else ("", text.brief)
        draft = sending.Draft(uuid.uuid4(), means, *words)
        letter, __ = sending.make(draft, target, staff, target.values(ADDRESS))
        _went_out(letter, all_of_it=letter.by_email)


def _went_out(letter, all_of_it):
    """Note that ``letter`` went out some days ago, to all who get it or to the first half."""
    then = timezone.now() - timedelta(days=DAYS_AGO)
    waiting = list(letter.rows.filter(state=LetterTo.State.WAITING).values_list("pk", flat=True))
    sent = waiting if all_of_it else waiting[: len(waiting) // 2]
    LetterTo.objects.filter(pk__in=sent).update(state=LetterTo.State.SENT, settled=then)
    Letter.objects.filter(pk=letter.pk).update(made=then)
