"""The pages people see when something is not there, not theirs, or broken."""

import logging

from django.conf import settings
from django.core.exceptions import RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent
from django.http import HttpResponse, HttpResponseServerError, JsonResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.translation import gettext as _

log = logging.getLogger("training.deck.errors")


def forbidden(request, exception):
    """Refuse a page to a person whose role it is not for."""
    return render(request, "errors/403.html", status=403)


def stale_form(request, reason=""):
    """Refuse a form that does not show that it came from this site."""
    return render(request, "errors/stale_form.html", status=403)


TOO_LARGE = (RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent)


def bad_request(request, exception):
    """
    Refuse what cannot be read, or is too large, 413; scripts are told in JSON.

    The page asks the database nothing: what it would ask by may be what cannot be read.
    """
    large = isinstance(exception, TOO_LARGE)
    status = 413 if large else 400
    if request.headers.get("Accept") == "application/json":
        words = _("This is too large to be sent.") if large else _("The site could not read this.")
        return JsonResponse({"problem": words}, status=status)
    most = settings.MOST_SENT // 2**20
    page = render_to_string("errors/400.html", {"large": large, "most": most})
    return HttpResponse(page, status=status)


def not_found(request, exception):
    """Say that an address leads nowhere."""
    return render(request, "errors/404.html", status=404)


def broken(request):
    """
    Say that the site failed; without asking the database who is looking.

    What fails may fail this page too, such as styles that were not collected: then it is plain
    text. It must not raise, or what failed first would not reach the log.
    """
    number = getattr(request, "number", "")
    try:
        page = render_to_string("errors/500.html", {"number": number})
    except Exception:
        log.exception("the page of a failure failed as well")
        words = _("Something went wrong on our side. Number: {number}")
        page = words.format(number=number)
        return HttpResponseServerError(page, content_type="text/plain; charset=utf-8")
    return HttpResponseServerError(page)
