"""People to write to, and a mail server that does not answer."""

import pytest
from django.urls import reverse

from training.people.models import Membership, User

WRITE = reverse("letters:write")


@pytest.fixture
def crew(group, user):
    """The members of ``group``: one reads mail, one wants none, one has a closed account."""
    quiet = User.objects.create_user("quiet@example.com", name="Kit Larkham", wants_mail=False)
    closed = User.objects.create_user("closed@example.com", name="Odell Rudd", is_active=False)
    for person in (quiet, closed):
        Membership.objects.create(group=group, user=person)
    return user, quiet, closed
