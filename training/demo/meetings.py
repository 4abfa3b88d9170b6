"""The demo's sessions: evenings of the season gone by, one tonight and one next week."""

import random
import uuid
from datetime import datetime, time, timedelta

from django.utils import timezone

from training.deck.codes import ALPHABET, LENGTH
from training.people.models import Attendance, Group, Session

from . import scenario

BEGINS, TAKES = time(18, 30), timedelta(hours=2)
PAST = (30, 75, 110)  # days after the first of the season
CAME = 0.6  # of those who were in the group by then
OTHERS = (0, 1, 2, 3)

TITLES = ("Droppers on the dock", "The net laid flat", "Questions before the season ends")
PLACES = ("The net shed", "The town dock, by the ice house", "The union hall, upstairs")


def load(season, today):
    """Make the sessions of each harbor's crews in ``season``, (first, last day), and to come."""
    rng = random.Random(scenario.SEED)
    groups = [Group.objects.get(name=scenario.group_name(harbor)) for harbor in scenario.HARBOURS]
    for number, group in enumerate(groups):
        for days, title in zip(PAST, TITLES, strict=True):
            day = season[0] + timedelta(days=days + number)
            if day < today:
                _list_those_who_came(_meet(group, title, day, rng), rng)
    # The first is that of the login; whatever the hour, it has one to come.
    _meet(groups[0], "Droppers on the dock, tonight", today, rng)
    _meet(groups[0], "The net laid flat", today + timedelta(days=7), rng)
    _meet(groups[1], "Questions about the rules", today + timedelta(days=3), rng)


def _meet(group, title, day, rng):
    starts = timezone.make_aware(datetime.combine(day, BEGINS))
    return Session.objects.create(
        group=group,
        title=title,
        place=f"{rng.choice(PLACES)}, {group.harbor}",
        starts=starts,
        ends=starts + TAKES,
        note="Bring a tape. Wear boots.",
        uid=uuid.UUID(int=rng.getrandbits(128), version=4),
        code="".join(rng.choices(ALPHABET, k=LENGTH)),
    )


def _list_those_who_came(session, rng):
    """Put some of those on the list who were in the group by then, and count some others."""
    members = session.group.memberships.filter(joined__lt=session.starts).select_related("user")
    Attendance.objects.bulk_create(
        Attendance(
            session=session,
            user=membership.user,
            said_by=rng.choice(Attendance.SaidBy.values),
            noted=session.starts + timedelta(minutes=rng.randint(-10, 25)),
        )
        for membership in members
        if rng.random() < CAME
    )
    session.others = rng.choice(OTHERS)
    session.save(update_fields=["others"])
