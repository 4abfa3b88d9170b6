"""A second person of the staff, who agrees to what the first asks for."""

import pytest
from django.urls import reverse

from training.accounts.models import AccountRequest


@pytest.fixture
def agree(as_second):
    """A function that has ``second`` agree to what waits; it returns the page that follows."""

    def agreed():
        found = AccountRequest.objects.get(outcome="waiting")
        path = reverse("accounts:decide_request", args=[found.pk, "agree"])
        return as_second.post(path, follow=True).content.decode()

    return agreed
