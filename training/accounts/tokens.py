"""The links by which people who were invited set their first password."""

from datetime import timedelta

from django.core import signing
from django.utils.crypto import constant_time_compare, salted_hmac

DAYS = 14
"""How long an invitation holds: a trip at sea is longer than the days of a reset link."""

SALT = "accounts.tokens"


def _state(user):
    """Return what changes once ``user`` set a password, signed in or has another address."""
    known = (user.pk, user.password, user.email, user.last_login)
    return salted_hmac(SALT, repr(known), algorithm="sha256").hexdigest()[:32]


class InvitationTokens:
    """Makes tokens that hold for DAYS and until they were used, as the views of Django ask them."""

    def make_token(self, user):
        """Return the token of ``user``."""
        return signing.dumps(_state(user), salt=SALT)

    def check_token(self, user, token):
        """Return whether ``token`` still is good for ``user``; either may be None."""
        if user is None or not token:
            return False
        try:
            state = signing.loads(token, salt=SALT, max_age=timedelta(days=DAYS))
        except signing.BadSignature:
            return False
        return constant_time_compare(state, _state(user))


tokens = InvitationTokens()
