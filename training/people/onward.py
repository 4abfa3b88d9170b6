"""Where an address says to go on."""

from django.utils.http import url_has_allowed_host_and_scheme


def onward(request):
    """Return the ``next`` of the address; "" unless that is a page of this site."""
    found = request.GET.get("next", "")
    here = url_has_allowed_host_and_scheme(found, {request.get_host()}, request.is_secure())
    return found if here and found.startswith("/") else ""
