"""Say what you expect of a net, then see what the rules say."""

import secrets
import uuid

from django.db import transaction
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from rigs.drawing.plan import plan_view
from rigs.words.say import gettext_lazy
from training.deck.drawn import drawn
from training.deck.forms import posted
from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.nets.views import own_net
from training.people import sight
from training.recall import memory

from . import remembering, subject
from .comparing import UNSURE, compare
from .forms import PredictionForm
from .models import Prediction

NOTHING_SAID = gettext_lazy("Say of at least one rule what you expect: met or broken.")


@sight.anyone
@require_safe
def start(request):
    """Lead to a net drawn for this person, whose address gives the same net again."""
    return redirect("predicting:drawn", secrets.randbelow(SEEDS))


@never_cache
@sight.anyone
@require_http_methods(["GET", "HEAD", "POST"])
def drawn_net(request, seed):
    """Predict on a drawn net; nothing is saved of visitors."""
    if seed >= SEEDS:
        raise Http404(_("There is no such net."))
    version = kinds.get(subject.KIND).version
    return _predict(request, subject.drawn(seed), seed=seed, kind_version=version)


@never_cache
@sight.owner
@require_http_methods(["GET", "HEAD", "POST"])
def own(request, pk):
    """Predict on one's own net."""
    net = own_net(request, pk)
    return _predict(request, subject.of_net(net), net=net, net_name=net.name, measures=net.measures)


def _predict(request, found, **about):
    form = PredictionForm(found.findings, posted(request), initial={"key": uuid.uuid4()})
    trouble = ""
    if request.method == "POST" and not found.lapsed and form.is_valid():
        if set(form.said.values()) == {UNSURE}:
            trouble = NOTHING_SAID
        elif request.user.is_authenticated:
            return redirect("predicting:result", _save(request.user, found, form, about).pk)
        else:
            return _result(request, found, form.said)
    context = {
        "subject": found,
        "form": form,
        "trouble": trouble,
        "net": about.get("net"),
        "drawing": drawn(plan_view(found.rig), "net"),
        "rulebook": found.book,
    }
    return render(request, "predicting/predict.html", context)


@transaction.atomic
def _save(user, found, form, about):
    """Return the Prediction saved, once however often the form comes in; note what it missed."""
    prediction, is_new = Prediction.objects.get_or_create(
        user=user,
        key=form.cleaned_data["key"],
        defaults={
            **about,
            "said": form.said,
            "rulebook_name": found.book.name,
            "rulebook_version": found.book.version,
        },
    )
    if is_new:
        memory.take(remembering.asked(prediction))
    return prediction


@never_cache
@sight.owner
@require_safe
def result(request, pk):
    """Show one's own prediction beside the verdict of its day."""
    prediction = get_object_or_404(sight.own(Prediction.objects.all(), request.user), pk=pk)
    return _result(request, subject.of_prediction(prediction), prediction.said, prediction)


def _result(request, found, said, prediction=None):
    context = {
        "subject": found,
        "compared": compare(found.findings, said),
        "prediction": prediction,
        "drawing": drawn(plan_view(found.rig, found.verdict), "net"),
        "rulebook": found.book,
    }
    return render(request, "predicting/result.html", context)
