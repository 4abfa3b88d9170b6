"""
Holding off whoever guesses, and machines that fill in forms.

A whole class may sit behind one address. So what is limited by address alone is set for a
class that mistypes, and holds for minutes; what is limited by account is set for a person.
"""

import time
from dataclasses import dataclass
from datetime import timedelta

from django.core.cache import cache
from django.shortcuts import render
from django.utils.crypto import salted_hmac

from .addresses import client_address
from .models import Tries


def of_address(request):
    """Return whom a Limit counts: the address of ``request``."""
    return f"address/{client_address(request)}"


def of_email(email):
    """Return whom a Limit counts: the account of ``email``, whether or not there is one."""
    return f"email/{email.strip().lower()}"


def of_code(code):
    """Return what a Limit counts: a code, tidied."""
    return f"code/{code}"


@dataclass(slots=True)
class Limit:
    """
    How often ``what`` may be done by one address, account or code: ``most`` in ``minutes``.

    The database counts, for all processes; what it keeps of them is a digest.
    """

    what: str
    most: int
    minutes: int

    def _digest(self, whom):
        return salted_hmac("people.limits", f"{self.what}/{whom}", algorithm="sha256").hexdigest()

    def is_passed(self, whom):
        """Count one more by ``whom``, and return whether that is too many."""
        span = timedelta(minutes=self.minutes)
        return Tries.objects.add(self._digest(whom), self.what, span) > self.most

    def is_used_up(self, whom):
        """Return whether ``whom`` has no more; counts nothing."""
        mine = Tries.objects.counting().filter(whom=self._digest(whom))
        return mine.filter(count__gte=self.most).exists()


class Codes:
    """
    The wrong codes of one sort that may be tried, by an address and by an account.

    Right ones are not counted. A code has some 40 bits (``deck.codes``): at these limits
    guessing one takes longer than anybody has.
    """

    def __init__(self, what):
        self.by_address = Limit(f"{what}.address", most=300, minutes=10)
        self.by_account = Limit(f"{what}.account", most=30, minutes=10)

    def _counted(self, request):
        yield self.by_address, of_address(request)
        if request.user.is_authenticated:
            yield self.by_account, f"account/{request.user.pk}"

    def used_up(self, request):
        """Return the Limit that ``request`` has used up, None if it may try."""
        found = (limit for limit, whom in self._counted(request) if limit.is_used_up(whom))
        return next(found, None)

    def was_wrong(self, request):
        """Count a wrong code that came with ``request``."""
        for limit, whom in self._counted(request):
            limit.is_passed(whom)


class Load:
    """
    How often work may be asked for from one address: ``most`` times in ``minutes``.

    For what costs work and tells no secret, as often as at each key that is pressed: counted in
    memory, by each process of the site.
    """

    def __init__(self, what, most, minutes):
        self.what, self.most, self.minutes = what, most, minutes

    def is_reached(self, request):
        """Count one more, and return whether that is too many."""
        seconds = self.minutes * 60
        window = int(time.time() // seconds)
        key = f"limit/{self.what}/{window}/{client_address(request)}"
        if cache.add(key, 1, seconds):
            return False
        try:
            return cache.incr(key) > self.most
        except ValueError:  # gone in between
            return False


def ask_to_wait(request, limit):
    """Return the page that asks to come back later, status 429."""
    page = render(request, "people/wait.html", {"minutes": limit.minutes}, status=429)
    page["Retry-After"] = str(limit.minutes * 60)
    return page
