"""Views for which having signed in some time ago is not enough."""

from functools import partial, wraps

from django.http import HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse

from . import proof
from .forms import PROOF, proof_form

_LOOKING = {"GET", "HEAD", "OPTIONS"}
_OURS = {PROOF, "csrfmiddlewaretoken"}


def when_it_matters(view=None, *, to_look=False):
    """
    Have ``view``, below its door, ask who is there unless they showed it just now.

    It asks for the code of the phone, or for the password of whoever has none, before something
    is done; with ``to_look`` before something is shown too. What was sent goes along and is
    done once the answer is right.
    """
    if view is None:
        return partial(when_it_matters, to_look=to_look)

    @wraps(view)
    def guarded(request, *args, **kwargs):
        looking = request.method in _LOOKING
        if (looking and not to_look) or proof.is_fresh(request):
            return view(request, *args, **kwargs)
        if looking:
            return to_prove(request)
        form = proof_form(request, request.POST if PROOF in request.POST else None)
        if not form.is_bound or not form.is_valid():
            return _ask(request, form)
        proof.note(request, form.by_code)
        return view(request, *args, **kwargs)

    guarded.matters = True
    return guarded


def to_prove(request):
    """Return the way to the page that asks who is there and leads back to ``request``."""
    query = {"next": request.get_full_path()}
    return HttpResponseRedirect(reverse("people:prove", query=query))


def _ask(request, form):
    """Ask who is there, with all that ``request`` sent in the form."""
    sent = [
        (name, value)
        for name, values in request.POST.lists()
        if name not in _OURS
        for value in values
    ]
    response = render(
        request,
        "people/factors/prove.html",
        {"form": form, "sent": sent, "action": request.get_full_path()},
        status=422 if form.errors else 200,
    )
    response["Cache-Control"] = "no-store"
    return response
