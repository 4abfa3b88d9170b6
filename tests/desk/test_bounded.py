"""Every staff page asks the database as often for a large fleet as for a small one."""

import random
import uuid
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from tests.desk.staff_pages import staff_pages
from tests.register.events_factory import happen, make_vessel
from training.desk.models import PersonTally
from training.exercises import handing, kinds
from training.exercises.hands import answer, people
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.letters.models import Letter, LetterTo
from training.people.models import Group, Membership, User
from training.register.models import Vessel
from training.register.stages import Stage
from training.rulesets import shelf

# Far below what a page of a list holds, to be quick: a query a row would show all the same.
SMALL, LARGE = 5, 14


def grow(number):
    """Bring the fleet to ``number`` groups, people and vessels, each with a record."""
    rng = random.Random(number)
    for index in range(Group.objects.count(), number):
        group = Group.objects.create(name=f"Crews {index:02}", harbor=f"Harbor {index % 4}")
        person = User.objects.create_user(f"h{index}@example.com", None, name=f"Hand {index}")
        Membership.objects.create(group=group, user=person)
        LessonRead.objects.note(person, all_lessons()[0].slug)
        for slug in ("space-droppers", "judge-rig"):
            assignment = handing.open_assignment(person, kinds.get(slug))
            mind = people.of_skill(person.pk, 0.2)
            given = answer(slug, handing.task_of(assignment), mind, rng)
            handing.hand_in(assignment, given)
        vessel = make_vessel(f"Tern {index}", group.harbor)
        for days, stage in enumerate([Stage.TOLD, Stage.TRAINING, Stage.CREWED][: index % 4]):
            happen(vessel, stage, timezone.localdate() - timedelta(days=100 - days))
        row = LetterTo(letter=Letter.objects.create(key=uuid.uuid4(), group=group), user=person)
        LetterTo.objects.bulk_create([row])
    first = Letter.objects.order_by("pk").first()
    LetterTo.objects.bulk_create(
        LetterTo(letter=first, user=each)
        for each in User.objects.filter(letters_received__isnull=False).exclude(
            letters_received__letter=first
        )
    )
    long_ago = timezone.now() - timedelta(days=50)
    PersonTally.objects.update(last=long_ago)


def queries(client):
    """Return {name of a page: how often it asks the database}."""
    found = {}
    for name, path in staff_pages().items():
        # Rule sets are looked up by the clock: so that it is the same for all, each anew.
        shelf.forget()
        with CaptureQueriesContext(connection) as captured:
            response = client.get(path)
            assert response.status_code == 200, f"{path} answered {response.status_code}"
            b"".join(response)
        found[name] = len(captured)
    return found


@pytest.mark.django_db
def test_queries_do_not_grow_with_the_fleet(as_staff):
    grow(SMALL)
    queries(as_staff)  # what is looked up once and kept is looked up here
    small = queries(as_staff)
    grow(LARGE)
    large = queries(as_staff)
    assert large.keys() == small.keys()
    # The reasons of the calls that are shown are asked for, and may be fewer.
    assert {name: number for name, number in large.items() if number > small[name]} == {}
    assert Vessel.objects.count() == LARGE
    assert {"trainees", "trainees_csv", "group", "groups", "rules", "way", "calls"} <= small.keys()
