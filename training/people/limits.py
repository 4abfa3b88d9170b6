"""Holding off whoever guesses passwords, and machines that fill in forms."""

import time

from django.conf import settings
from django.core.cache import cache
from django.shortcuts import render


def account_name(request, credentials):
    """Return the account that is being tried, however its e-mail was typed."""
    name = (credentials or request.POST).get("username") or ""
    return name.strip().lower()


def client_address(request):
    """
    Return the address the request came from, as text; empty if no request did.

    Each proxy in front of the site adds the address it was called from at the end
    of the header; whatever stands before those is the caller's own claim.
    """
    if settings.SITE_PROXIES:
        hops = request.META.get("HTTP_X_FORWARDED_FOR", "").split(",")
        if len(hops) >= settings.SITE_PROXIES:
            return hops[-settings.SITE_PROXIES].strip()
    return request.META.get("REMOTE_ADDR", "")


def locked_out(request, original_response, credentials):
    """Return the page that asks to wait, status 429."""
    minutes = round(settings.AXES_COOLOFF_TIME.total_seconds() / 60)
    return render(request, "people/locked.html", {"minutes": minutes}, status=429)


class Limit:
    """
    How often something may be done from one address: ``most`` times in ``minutes``.

    A whole class may sit behind one address, so it is set for a class, and holds off machines.
    Counts are held in memory alone, by each process of the site, and for no longer than that.
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
    return render(request, "people/wait.html", {"minutes": limit.minutes}, status=429)
