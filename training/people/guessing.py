"""
Holding off whoever guesses passwords: one account, from anywhere, or any account from one place.

From one address an account is held after a few slips (``axes``). Here are counted the wrong
passwords for an account from all addresses, and those from one address for all accounts. Neither
shuts out somebody on a device that signed in to the account before: it has a mark of it, which
the site signed. On another device a new password, by mail, opens the account.
"""

from axes.utils import reset
from django.conf import settings
from django.contrib.auth import authenticate
from django.contrib.auth.signals import user_logged_in, user_login_failed
from django.core import signing
from django.core.exceptions import PermissionDenied
from django.dispatch import receiver
from django.shortcuts import render
from django.utils.crypto import salted_hmac

from .limits import Limit, ask_to_wait, of_address, of_email

ACCOUNT = Limit("sign_in.account", most=100, minutes=24 * 60)
"""As many as NIST SP 800-63B (5.2.2) allows in a row; from memory."""
ADDRESS = Limit("sign_in.address", most=300, minutes=10)

COOKIE = "known"
SALT = "people.guessing"
KEPT = 365 * 24 * 60 * 60  # seconds
MOST_MARKS = 8
"""How many accounts one device remembers: that of a family, or of an office's front desk."""


def account_name(request, credentials):
    """Return the account that is being tried, however its e-mail was typed."""
    name = (credentials or request.POST).get("username") or ""
    return name.strip().lower()


def held_by(request, email):
    """Return the Limit that holds tries at ``email`` off, None if they may be made."""
    counted = ((ACCOUNT, of_email(email)), (ADDRESS, of_address(request)))
    found = next((limit for limit, whom in counted if limit.is_used_up(whom)), None)
    return found if found and _mark(email) not in _marks(request) else None


class GuessingBackend:
    """
    Refuses, whether or not there is such an account; it signs nobody in.

    It has no ``get_user``, so that no session is ever its.
    """

    def authenticate(self, request, username=None, **credentials):
        """Raise PermissionDenied if tries at the account are held off."""
        if request is None or not username:
            return
        request.held_by = held_by(request, username)
        if request.held_by:
            # As the middleware of axes has it, which then shows ``locked_out``.
            request.axes_locked_out = True
            raise PermissionDenied
        request.password_is_tried = True


def is_password_of(request, user, typed):
    """Return whether ``typed`` is the password of ``user``, signed in; wrong ones are counted."""
    found = authenticate(request, username=user.email, password=typed)
    return found is not None and found.pk == user.pk


@receiver(user_login_failed)
def _count(sender, credentials, request=None, **kwargs):
    # A try that was held off, here or by axes before, says nothing of the password: no guess.
    if not getattr(request, "password_is_tried", False):
        return
    ACCOUNT.is_passed(of_email(account_name(request, credentials)))
    ADDRESS.is_passed(of_address(request))


def locked_out(request, original_response, credentials):
    """Return the page that asks to wait, status 429."""
    limit = getattr(request, "held_by", None)
    if limit is ADDRESS:
        return ask_to_wait(request, limit)
    minutes = round(settings.AXES_COOLOFF_TIME.total_seconds() / 60)
    context = {"minutes": minutes, "from_everywhere": limit is ACCOUNT}
    page = render(request, "people/locked.html", context, status=429)
    page["Retry-After"] = str((limit.minutes if limit else minutes) * 60)
    return page


def _mark(email):
    return salted_hmac(SALT, email.strip().lower(), algorithm="sha256").hexdigest()[:24]


def _marks(request):
    """Return the marks of the accounts that a device signed in to, oldest first."""
    try:
        return signing.loads(request.COOKIES.get(COOKIE, ""), salt=SALT, max_age=KEPT)
    except signing.BadSignature:
        return []


@receiver(user_logged_in)
def _know(sender, request, user, **kwargs):
    """Have the device of ``request`` know the account of ``user`` from the answer on."""
    request.known_account = user.email


def let_in(request, user):
    """Let ``user``, who reads the mail of the account, in past those who guess at it."""
    reset(username=user.email)
    _know(None, request, user)


def remembering(get_response):
    """Return the middleware that gives a device the mark of the account it signed in to."""

    def middleware(request):
        response = get_response(request)
        email = getattr(request, "known_account", None)
        if email:
            marks = [each for each in _marks(request) if each != _mark(email)]
            response.set_cookie(
                COOKIE,
                signing.dumps([*marks, _mark(email)][-MOST_MARKS:], salt=SALT),
                max_age=KEPT,
                secure=settings.SESSION_COOKIE_SECURE,
                httponly=True,
                samesite=settings.SESSION_COOKIE_SAMESITE,
            )
        return response

    return middleware
