"""How long people stay signed in, by their role, and what must come before all else."""

import time
from datetime import timedelta

from django.conf import settings
from django.contrib.auth.signals import user_logged_in
from django.dispatch import receiver
from django.http import HttpResponseRedirect
from django.urls import reverse

from . import factors
from .factors import proof
from .factors.matters import to_prove
from .models import Role

_BEGAN, _ROLLED, _IDLE, _WHOLE = "signed_in", "rolled", "idle", "whole"
MOST_PAUSE = timedelta(days=1)
"""A session is written anew no more often than this, or a twelfth of how long it may rest."""

# What staff without a code may open all the same: the way to one, and out.
_OPEN = {
    "words",
    *("people:phone", "people:phone_set_up", "people:prove", "people:sign_in"),
    *("people:sign_in_code", "people:sign_out"),
}


def lengths_of(user):
    """Return (how long ``user`` may do nothing, how long they stay in all, None for ever)."""
    return settings.SIGN_IN_LENGTHS[Role.STAFF if user.is_staff else user.role]


@receiver(user_logged_in)
def begin(request, user, **kwargs):
    """Have the session of ``user`` last as long as is right for their role."""
    idle, whole = lengths_of(user)
    now = time.time()
    # Plain numbers, as a session keeps them. A role that changes ends the session.
    request.session.update(
        {
            _BEGAN: now,
            _ROLLED: now,
            _IDLE: idle.total_seconds(),
            _WHOLE: whole and whole.total_seconds(),
        }
    )
    _set_end(request.session, now)


def _set_end(session, now):
    left = session[_IDLE]
    if session[_WHOLE] is not None:
        left = min(left, session[_BEGAN] + session[_WHOLE] - now)
    # The database leaves out what is past its end: nothing else has to be asked.
    session.set_expiry(max(1, int(left)))


def _go_on(session):
    """Move the end of ``session`` on, whose person is here, if that was not done just now."""
    if not session.accessed or _ROLLED not in session:
        return
    now = time.time()
    if now - session[_ROLLED] >= min(session[_IDLE] / 12, MOST_PAUSE.total_seconds()):
        session[_ROLLED] = now
        _set_end(session, now)


class Staying:
    """
    Moves on the end of sessions in use, and leads staff to the code that they must have.

    Asks the database nothing that a page with the navigation does not ask as well.
    """

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        response = self.get_response(request)
        _go_on(request.session)
        return response

    def process_view(self, request, view, args, kwargs):
        """Lead staff whose session has seen no code to where they give or get one."""
        if not settings.STAFF_FACTOR or settings.SESSION_COOKIE_NAME not in request.COOKIES:
            return None
        if request.resolver_match.view_name in _OPEN or not request.user.is_authenticated:
            return None
        if not request.user.is_staff or proof.by_code(request):
            return None
        if factors.has(request.user):
            return to_prove(request)
        return HttpResponseRedirect(reverse("people:phone_set_up"))
