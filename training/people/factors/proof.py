"""What a session remembers of how its person showed who they are, and when."""

import time
from datetime import timedelta

from django.contrib.auth.signals import user_logged_in
from django.dispatch import receiver

FRESH = timedelta(minutes=15)
"""How long a password or code counts when it matters."""

_WHEN, _BY_CODE = "proved", "proved_by_code"


def note(request, by_code):
    """Remember that the person of ``request`` just gave their code, or else their password."""
    request.session[_WHEN] = time.time()
    if by_code:
        request.session[_BY_CODE] = True


def is_fresh(request):
    """Return whether the person showed within FRESH who they are."""
    return 0 <= time.time() - request.session.get(_WHEN, 0) <= FRESH.total_seconds()


def by_code(request):
    """Return whether the person gave a code since they signed in, or at that."""
    return request.session.get(_BY_CODE, False)


@receiver(user_logged_in)
def _signed_in(request, user, **kwargs):
    # Nobody is signed in but by a password, just given or just set.
    note(request, by_code=False)
