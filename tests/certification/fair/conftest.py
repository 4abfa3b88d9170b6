"""People and an exam of one question, for what makes exams fair."""

from datetime import timedelta

import pytest
from django.utils import timezone

from tests.certification.candidates import make_requirements
from tests.moments import BEFORE
from training.certification.models import Supervision
from training.people.models import Role, User

PARTS = (("pick-chain", 1, 1),)


@pytest.fixture
def now():
    return timezone.now()


@pytest.fixture
def requirements(db):
    """An exam of one question in half an hour."""
    return make_requirements(PARTS, must_pass=[], minutes=30)


@pytest.fixture
def second(db):
    """Another member of staff."""
    return User.objects.create_user(
        "second@example.com", name="Sandy Reef", role=Role.STAFF, whole_fleet=True, joined=BEFORE
    )


@pytest.fixture
def opened(requirements, staff, now):
    """A supervised exam that began an hour ago and goes on for two more."""
    return Supervision.objects.create(
        requirements=requirements,
        place="Net shed",
        starts=now - timedelta(hours=1),
        ends=now + timedelta(hours=2),
        by=staff,
    )
