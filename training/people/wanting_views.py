"""Stopping mails about sessions and certificates by the link in one of them."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from . import sight, wanting


# A program for mail posts here by itself (RFC 8058); all one can do by it is to stop mails.
@csrf_exempt
@never_cache
@sight.anyone
@require_http_methods(["GET", "HEAD", "POST"])
def stop_mail(request, token):
    """Stop the mails of whoever has the link, once they say so: opening it stops nothing."""
    user = wanting.user_of(token)
    if user is not None and request.method == "POST":
        wanting.stop(user)
        if "List-Unsubscribe" in request.POST:
            return HttpResponse(status=204)
    status = 404 if user is None else 200
    return render(request, "people/stop_mail.html", {"person": user}, status=status)
