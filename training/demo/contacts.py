"""How the demo's people are reached, and what staff wrote down of calls to some of them."""

import random
import uuid
from datetime import timedelta

from django.utils import timezone

from training.desk.calls import cards, noting
from training.desk.models import CallNote
from training.people.models import Role, User
from training.people.models.users import ReachBy

from . import scenario

NOTES = (
    "Rang in the evening. Wants to bring the deckhand along.",
    "Was at work on the gear. Asked how long the exam takes.",
    "Will try the next session, if the weather is bad enough to stay in.",
)
WITH_PHONE = 0.8


def load(users):
    """Give ``users``, by role, phones and ways to reach them, most of them."""
    rng = random.Random(scenario.SEED)
    everybody = [*users[Role.TRAINEE], *users[Role.OFFICER]]
    for number, user in enumerate(everybody):
        if number == 0 or rng.random() < WITH_PHONE:
            user.phone = scenario.phone(number)
            user.reach_by = rng.choice([*ReachBy, ReachBy.CALL])
    User.objects.bulk_update(everybody, ["phone", "reach_by"], batch_size=100)


def call(staff):
    """Have ``staff`` call some on the list so long ago that they are on it again; give one."""
    urgent = cards.urgent(staff[0], most=6)
    long_ago = timezone.now() - timedelta(weeks=6)
    for number, (card, note) in enumerate(zip(urgent, NOTES, strict=False)):
        made = noting.note(
            card.of,
            card.called,
            by=staff[number % len(staff)],
            key=uuid.uuid4(),
            outcome=CallNote.Outcome.SPOKE,
            note=note,
            again=None,
            reasons=[],
        )
        CallNote.objects.filter(pk=made.pk).update(made=long_ago + timedelta(days=number))
    for card in urgent[-1:]:
        noting.give(card.of, card.called, staff[0], staff[-1], uuid.uuid4())
