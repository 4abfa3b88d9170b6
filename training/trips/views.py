"""May this vessel fish here, on this day, with this gear? Nothing that is asked is saved."""

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from rigs.drawing import png
from rigs.drawing.area import area_view
from rigs.drawing.titled import titled
from rigs.rules import openings
from rigs.rules.waters import DOUBT
from rigs.words.bearing import miles
from rigs.words.days import long_day
from rigs.words.trip import Position
from training.deck import signal
from training.deck.drawn import drawn
from training.people import sight

from . import ahead
from .forms import TripForm


def _shown(answer, position):
    """Return what the page shows of one Answer."""
    name = answer.rulebook.name
    corners = {
        corner: Position(latitude, longitude)
        for each in (*answer.parts, *answer.closures)
        for corner, latitude, longitude in each.area.corners
    }
    return {
        "answer": answer,
        "drawing": drawn(area_view(answer.parts, position, answer.closures), f"area-{name}"),
        "corners": corners,
        "closed_by": [part.area.closed_by for part in answer.parts if part.area.closed_by],
    }


def _page(request, form, answers=()):
    shown = [_shown(answer, form.cleaned_data["position"]) for answer in answers]
    closures = answers[0].closures if answers else ()
    told = {
        "form": form,
        "lapsed": openings.lapsed(form.cleaned_data["day"]) if answers else (),
        "shown": shown,
        "closures": [each for each in closures if each.holds],
        "doubt": miles(DOUBT),
        "ahead": ahead.shown(),
    }
    return render(request, "trips/trip.html", told)


# A position at sea is its skipper's own business: it is posted, so that it stands in no
# address, and with that in no log and no history.
@signal.opens
@sight.signed_in
@require_http_methods(["GET", "POST"])
def trip(request):
    """Ask, and answer for one fishery or for all."""
    if request.method == "GET":
        return _page(request, TripForm(owner=request.user))
    form = TripForm(request.POST, owner=request.user)
    if not form.is_valid():
        return _page(request, form)
    return _page(request, form, openings.answers(**form.question))


@sight.signed_in
@require_POST
def trip_chart(request, name):
    """Give the sea chart of the fishery ``name``, for what was asked, as a picture."""
    form = TripForm(request.POST, owner=request.user)
    if not form.is_valid():
        return _page(request, form)
    asked = form.question | {"fishery": name}
    answers = openings.answers(**asked)
    if not answers:
        raise Http404
    (answer,) = answers
    scene = area_view(answer.parts, asked["trip"].position, answer.closures)
    asked_of = _("For {day}.").format(day=long_day(asked["trip"].day))
    picture = png.render(titled(scene, scene.title, [answer.rulebook.title, asked_of]))
    return HttpResponse(
        picture,
        content_type="image/png",
        headers={"Content-Disposition": f'attachment; filename="{name}-chart.png"'},
    )
