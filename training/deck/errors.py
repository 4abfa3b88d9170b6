"""The pages people see when something is not there, not theirs, or broken."""

from django.http import HttpResponseServerError
from django.shortcuts import render
from django.template.loader import render_to_string


def forbidden(request, exception):
    """Refuse a page to a person whose role it is not for."""
    return render(request, "errors/403.html", status=403)


def stale_form(request, reason=""):
    """Refuse a form that does not show that it came from this site."""
    return render(request, "errors/stale_form.html", status=403)


def not_found(request, exception):
    """Say that an address leads nowhere."""
    return render(request, "errors/404.html", status=404)


def broken(request):
    """Say that the site failed; without asking the database who is looking."""
    number = getattr(request, "number", "")
    return HttpResponseServerError(render_to_string("errors/500.html", {"number": number}))
