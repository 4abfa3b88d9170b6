"""A second person of the staff, who agrees to what the first asks for."""

import pytest
from django.test import Client
from django.urls import reverse

from tests.moments import BEFORE
from training.accounts.models import AccountRequest
from training.people.models import Role, User


@pytest.fixture
def second(db):
    return User.objects.create_user(
        "perrin@example.com", name="Perrin Holt", role=Role.STAFF, whole_fleet=True, joined=BEFORE
    )


@pytest.fixture
def as_second(second):
    client = Client()
    client.force_login(second)
    return client


@pytest.fixture
def agree(as_second):
    """A function that has ``second`` agree to what waits; it returns the page that follows."""

    def agreed():
        found = AccountRequest.objects.get(outcome="waiting")
        path = reverse("accounts:decide_request", args=[found.pk, "agree"])
        return as_second.post(path, follow=True).content.decode()

    return agreed
