"""Exams under supervision: staff open them, watch who is in, and sign for who it was."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck.forms import posted
from training.people import sight

from ..models import Conditions, Supervision
from . import signing, supervision
from .forms import SignForm, SupervisionForm

A_PAGE = 25


def _visible(user):
    """Return the Supervisions that ``user`` may see: their own, and those of groups they have."""
    return sight.rows(Supervision.objects.select_related("requirements", "group", "by"), user)


@never_cache
@sight.staff
@require_safe
def supervisions(request):
    """List the supervised exams, those to come first."""
    found = (
        _visible(request.user).prefetch_related("entries__signatures").order_by("-starts", "-pk")
    )
    page = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    entries = [
        (each, supervision.is_open(each), sum(map(signing.is_signed, each.entries.all())))
        for each in page
    ]
    context = {"page": page, "entries": entries}
    return render(request, "certification/fair/supervisions.html", context)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def new_supervision(request):
    """Open an exam under supervision."""
    form = SupervisionForm(posted(request), user=request.user)
    if request.method == "POST" and form.is_valid():
        opened = form.save()
        messages.success(request, _("Saved. Read the code out at the meeting, not before."))
        return redirect("certification:supervision", opened.pk)
    return render(
        request,
        "certification/fair/supervision_form.html",
        {"form": form},
        status=422 if form.errors else 200,
    )


def _show(request, found, status=200, bad=None):
    """Render ``found``; ``bad`` is (pk of an exam, SignForm) of a signature that was refused."""
    entries = supervision.entries(found, request.user)
    rows = []
    for each in entries:
        last = signing.last(each)
        form = SignForm(auto_id=f"id_{each.pk}_%s", initial={"how": last and last.how})
        if bad and bad[0] == each.pk:
            form = bad[1]
        rows.append(
            {
                "conditions": each,
                "exam": each.exam,
                "signature": last,
                "hindrance": signing.hindrance(each, request.user),
                "form": form,
            }
        )
    context = {
        "supervision": found,
        "is_open": supervision.is_open(found),
        "own": found.by_id == request.user.pk,
        "rows": rows,
        "same_names": supervision.same_names(entries),
        "sign_days": signing.SIGN_DAYS,
    }
    return render(request, "certification/fair/supervision.html", context, status=status)


@never_cache
@sight.staff
@require_safe
def one(request, pk):
    """Show one supervised exam: its code, who is in, and who was signed for."""
    return _show(request, get_object_or_404(_visible(request.user), pk=pk))


@require_POST
@sight.staff
def close(request, pk):
    """End the code before its time."""
    found = get_object_or_404(sight.own(_visible(request.user), request.user), pk=pk)
    supervision.close(found)
    messages.success(request, _("Closed. Nobody can start with this code now."))
    return redirect("certification:supervision", found.pk)


@require_POST
@sight.staff
def sign(request, pk, exam):
    """Take the supervisor's signature for one exam."""
    found = get_object_or_404(sight.own(_visible(request.user), request.user), pk=pk)
    entry = get_object_or_404(
        Conditions.objects.select_related("exam__user"), pk=exam, supervision=found
    )
    form = SignForm(request.POST, auto_id=f"id_{entry.pk}_%s")
    if not form.is_valid():
        return _show(request, found, 422, (entry.pk, form))
    try:
        signed = signing.sign(entry, form.cleaned_data["how"], request.user)
    except signing.MayNotSign as error:
        messages.error(request, str(error))
    else:
        said = _("counts as supervised") if signed.confirms else _("does not count as supervised")
        messages.success(
            request, _("Saved. The exam of {user} {said}.").format(user=entry.exam.user, said=said)
        )
    return redirect("certification:supervision", found.pk)
