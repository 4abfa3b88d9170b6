"""Signing in in two steps: the password, then the code of whoever has a phone for it."""

import time
from datetime import timedelta
from typing import NamedTuple

from django.contrib.auth import login
from django.shortcuts import redirect
from django.utils.crypto import constant_time_compare

from ..models import User
from . import devices, proof

PATIENCE = timedelta(minutes=10)
"""How long after the password the code may come."""

_HALF = "half_signed_in"


class Half(NamedTuple):
    """Who gave their password and not their code yet, and where they were going, "" if nowhere."""

    user: User
    onward: str


def ask_code(request, user, onward):
    """
    Return the way to the page that asks ``user``, who just gave the password, for a code.

    None if ``user`` has no phone, and may be signed in at once.
    """
    if not devices.has(user):
        return None
    request.session.cycle_key()
    request.session[_HALF] = {
        "pk": user.pk,
        "backend": user.backend,
        "hash": user.get_session_auth_hash(),
        "when": time.time(),
        "onward": onward,
    }
    return redirect("people:sign_in_code")


def half(request):
    """Return the Half of ``request``; None if there is none, or it is too old, or all changed."""
    kept = request.session.get(_HALF)
    if not kept or not 0 <= time.time() - kept["when"] <= PATIENCE.total_seconds():
        return None
    user = User.objects.filter(pk=kept["pk"], is_active=True).first()
    if user is None or not constant_time_compare(kept["hash"], user.get_session_auth_hash()):
        return None
    return Half(user, kept["onward"])


def finish(request, user):
    """Sign ``user`` in, whose code was right; of a Half of ``request``."""
    login(request, user, request.session.pop(_HALF)["backend"])
    proof.note(request, by_code=True)
