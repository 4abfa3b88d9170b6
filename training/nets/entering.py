"""A net from its form, saved or not, and what is drawn of it meanwhile."""

from django.db import transaction
from django.utils import timezone

from rigs import plan
from rigs.drawing.plan import plan_view
from rigs.plan import entry
from rigs.rules.judge import judge
from rigs.rules.lapse import is_lapsed
from training.deck.drawn import drawn

from .forms import NetForm
from .models import Net


def entered(form):
    """Return the fields of Net that a valid NetForm tells."""
    cleaned = form.cleaned_data
    return {
        "name": cleaned["name"],
        "goal": cleaned["goal"],
        "typed": form.typed,
        "measures": form.measures,
    }


def entries_of(net):
    """Return what NetForm starts with to change ``net``."""
    return net.typed | {"key": net.key, "name": net.name, "goal": net.goal}


def as_now(net):
    """Return the NetForm that shows ``net`` as it is."""
    return NetForm(initial=entries_of(net))


def kept(form):
    """Return what a valid NetForm holds as plain words, for a session to keep."""
    cleaned = form.cleaned_data
    told = {name: cleaned[name] for name in ("name", "goal", "sure")}
    return form.typed | told | {"key": str(cleaned["key"])}


def unsaved(told):
    """Return the Net that ``told``, as ``kept`` gave it, makes; None if it no longer is one."""
    form = NetForm(told)
    return Net(key=form.cleaned_data["key"], **entered(form)) if form.is_valid() else None


def save_once(owner, form):
    """Return the net of ``owner`` that a valid NetForm makes, and whether it was made just now."""
    with transaction.atomic():
        return Net.objects.get_or_create(
            owner=owner, key=form.cleaned_data["key"], defaults=entered(form)
        )


def save(owner, form):
    """Return the net of ``owner`` that a valid NetForm makes, once however often it comes in."""
    return save_once(owner, form)[0]


def save_kept(owner, told):
    """Return the net of ``owner`` made of ``told``, as ``kept`` gave it; None as ``unsaved``."""
    form = NetForm(told)
    return save(owner, form) if form.is_valid() else None


def preview(form):
    """Return what the live drawing shows of ``form``, as context of nets/net_preview.html."""
    form.is_valid()
    if not form.has_ropes:
        return {"missing": True}
    present = entry.rig(form.measures)
    today = timezone.localdate()
    goals = [book.name for book in plan.goals(today)] or [plan.goals()[0].name]
    book, __ = plan.books_for(form.cleaned_data.get("goal") or goals[0], today)
    lapsed = is_lapsed(book, today)
    verdict = judge(present, book)
    asked = entry.not_drawn(form.measures)
    return {
        "asked": [(form[each.name].id_for_label, each.question) for each in asked],
        # Without an answer there is no sweep on the drawing, which says nothing of the net.
        "open": len(verdict.not_measured) + (form.measures.get("has_sweep") is None),
        "drawing": drawn(plan_view(present, None if lapsed else verdict), "net-preview"),
        "verdict": verdict,
        "lapsed": [book] if lapsed else [],
        "unread": [form[name].label for name in form.errors if name in form.fields],
    }
