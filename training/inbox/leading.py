"""Leading on from a form that was taken in, so that the phone can forget what it kept of it."""

from urllib.parse import urlencode

from django.shortcuts import redirect


def led_on(request, where):
    """Return the way to ``where``, which confirms the draft that the posted form has a name for."""
    draft = request.POST.get("draft")
    return redirect(f"{where}?{urlencode({'saved': draft})}" if draft else where)
