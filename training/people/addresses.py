"""The address that a request came from, and whether the proxies in front are as they were told."""

import logging
from datetime import timedelta
from ipaddress import IPv6Address, ip_address

from django.conf import settings
from django.core.cache import cache
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from training.deck import readiness

from .models import Tries

log = logging.getLogger("training.people")

AGAIN = 60 * 60
"""Seconds until a process notes the same doubt once more."""

KEPT = timedelta(days=1)
"""How long a doubt is shown that did not come up again."""

# What the requests say that does not fit SITE_PROXIES, by its key.
UNTOLD, MISSING, MORE = "proxies.untold", "proxies.missing", "proxies.more"


def client_address(request):
    """
    Return the address the request came from, as text; empty if no request did.

    Each proxy in front of the site adds the address it was called from at the end
    of the header; whatever stands before those is the caller's own claim. Of an IPv6
    address only the network counts (the first 64 bits): a home or a phone has all of it.
    """
    caller = _read(request.META.get("REMOTE_ADDR", ""))
    header = request.META.get("HTTP_X_FORWARDED_FOR", "")
    hops = [_read(hop) for hop in header.split(",")] if header.strip() else []
    found = caller
    if settings.SITE_PROXIES and len(hops) >= settings.SITE_PROXIES:
        found = hops[-settings.SITE_PROXIES] or caller
    if doubt := _doubt(caller, hops):
        _note(doubt)
    return _network(found)


def _read(text):
    """Return the address in ``text``, which may have a port; None if it is none."""
    text = text.strip()
    if text.startswith("["):
        text = text[1:].partition("]")[0]
    elif text.count(":") == 1:
        text = text.partition(":")[0]
    try:
        found = ip_address(text.partition("%")[0])
    except ValueError:
        return None
    return getattr(found, "ipv4_mapped", None) or found


def _network(found):
    if found is None:
        return ""
    if found.version == 6:
        return str(IPv6Address(int(found) >> 64 << 64))
    return str(found)


def _doubt(caller, hops):
    """Return what of a request does not fit SITE_PROXIES; empty if nothing does."""
    told = settings.SITE_PROXIES
    if not told:
        # Anybody can send the header; from the machine or its own net it comes of a proxy.
        near = caller is not None and not caller.is_global
        return UNTOLD if hops and near else ""
    if len(hops) < told:
        return MISSING
    mine, before = hops[-told], hops[-told - 1] if len(hops) > told else None
    inner = mine is not None and not mine.is_global
    return MORE if inner and before is not None and before.is_global else ""


def _note(doubt):
    if not cache.add(f"people/{doubt}", True, AGAIN):
        return
    Tries.objects.add(doubt, doubt, KEPT)
    log.warning(
        "SITE_PROXIES does not fit the requests",
        extra={"doubt": doubt, "proxies": settings.SITE_PROXIES},
    )


def doubts():
    """Return in words what does not fit SITE_PROXIES, with its remedy, as a list."""
    told = settings.SITE_PROXIES
    words = {
        UNTOLD: _(
            "Requests come through a proxy, and SITE_PROXIES is 0. Everybody seems to have one "
            "address. Set SITE_PROXIES to how many proxies are in a row."
        ),
        MISSING: _(
            "Requests come with fewer addresses in X-Forwarded-For than SITE_PROXIES says. "
            "Somebody goes around a proxy, or a proxy does not add to it. Close the site's port "
            "to all but the proxy, have each proxy add its caller, or lower SITE_PROXIES."
        ),
        MORE: _(
            "Requests come through more proxies than SITE_PROXIES says. Many people seem to "
            "have one address. Raise SITE_PROXIES."
        ),
    }
    # A count from under another setting is over with it.
    fits = {UNTOLD} if not told else {MISSING, MORE}
    found = Tries.objects.counting().filter(whom__in=fits).order_by("whom")
    return [words[each.whom] for each in found]


@readiness.check("proxies", gettext_lazy("Proxies"))
def proxies_fit():
    """Return the doubts about SITE_PROXIES."""
    none = _("No request of the last day was at odds with SITE_PROXIES, which is {count}.")
    return " ".join(doubts()) or readiness.Well(none.format(count=settings.SITE_PROXIES))
