"""Holding off whoever guesses passwords."""

from django.conf import settings
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
