"""Grants, questions about results, and corrections by two people."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck.forms import posted
from training.people import factors, sight

from .. import open_badge
from ..models import Exam, Grant, Proposal, ResultQuestion
from ..motion import Motion
from ..views import show_exam
from . import corrections, questions, revoking
from .forms import AskForm, GrantForm, ProposalForm, RefusalForm, ReplyForm

A_PAGE = 25


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def grants(request):
    """List what was granted, the latest first, and grant more."""
    form = GrantForm(posted(request), user=request.user)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(
            request, _("Saved for {user}. It counts from the next exam on.").format(user=saved.user)
        )
        return redirect("certification:grants")
    found = Grant.objects.select_related("user", "requirements", "by").order_by("-made", "-pk")
    found = sight.rows(found, request.user)
    page = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    context = {"form": form, "page": page}
    return render(
        request, "certification/fair/grants.html", context, status=422 if form.errors else 200
    )


@require_POST
@sight.owner
def ask(request, pk):
    """Take a question about one's own result."""
    mine = Exam.objects.select_related("requirements", "user", "certificate")
    exam = get_object_or_404(sight.own(mine, request.user), pk=pk, handed_in__isnull=False)
    form = AskForm(request.POST)
    if not form.is_valid():
        return show_exam(request, exam, status=422, ask_form=form)
    try:
        questions.ask(exam, **form.cleaned_data)
    except questions.MayNotAsk as error:
        form.add_error("text", str(error))
        return show_exam(request, exam, status=422, ask_form=form)
    messages.success(request, _("Your question is saved. The answer comes on this page."))
    return redirect("certification:exam", pk)


def _questions_for(user):
    found = ResultQuestion.objects.select_related("exam__user", "exam__requirements", "answered_by")
    return sight.rows(found, user)


@never_cache
@sight.staff
@require_safe
def all_questions(request):
    """List the questions about results: open ones, the oldest first, then those answered."""
    found = _questions_for(request.user)
    answered = found.exclude(answered=None).order_by("-answered", "-pk")
    page = Paginator(answered, A_PAGE).get_page(request.GET.get("page"))
    context = {"open": found.filter(answered=None), "page": page}
    return render(request, "certification/fair/questions.html", context)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def answer(request, pk):
    """Show one question; answer it."""
    found = get_object_or_404(_questions_for(request.user), pk=pk)
    form = ReplyForm(posted(request))
    if request.method == "POST" and form.is_valid():
        try:
            address = open_badge.site_address(request)
            questions.answer(found, form.cleaned_data["text"], request.user, address)
        except questions.MayNotAnswer as error:
            form.add_error("text", str(error))
        else:
            messages.success(request, _("The answer is saved. The person gets a mail about it."))
            return redirect("certification:questions")
    context = {"question": found, "form": form, "own": found.exam.user == request.user}
    return render(
        request, "certification/fair/question.html", context, status=422 if form.errors else 200
    )


@require_POST
@sight.staff
@factors.when_it_matters
def correct(request, pk):
    """Propose another outcome for an exam; it counts once a second person approves."""
    found = get_object_or_404(
        sight.rows(
            Exam.objects.select_related("requirements", "user", "certificate"), request.user
        ),
        pk=pk,
        handed_in__isnull=False,
    )
    form = ProposalForm(request.POST, exam=found)
    if form.is_valid():
        try:
            told = form.cleaned_data
            motion = Motion(request.user, told["reason"], told["key"])
            corrections.propose(found, told["passed"], motion, told.get("question"))
        except corrections.MayNotCorrect as error:
            form.add_error("reason", str(error))
        else:
            messages.success(
                request, _("Saved. The correction counts once a second person approves it.")
            )
            return redirect("certification:exam", pk)
    return show_exam(request, found, status=422, proposal_form=form)


@never_cache
@sight.staff
@require_safe
def proposals(request):
    """List the corrections that wait for a second person, the oldest first, then the decided."""
    found = Proposal.objects.select_related("exam__user", "exam__requirements", "by", "decided_by")
    found = sight.rows(found, request.user)
    decided = found.exclude(decided=None).order_by("-decided", "-pk")
    page = Paginator(decided, A_PAGE).get_page(request.GET.get("page"))
    context = {
        "open": found.filter(decided=None),
        "withdrawals": sight.rows(revoking.to_decide(), request.user),
        "page": page,
    }
    return render(request, "certification/fair/proposals.html", context)


@require_POST
@sight.staff
@factors.when_it_matters
def decide(request, pk):
    """Approve a proposed correction, or turn it down."""
    found = Proposal.objects.select_related("exam__user", "exam__requirements", "by")
    found = get_object_or_404(sight.rows(found, request.user), pk=pk)
    try:
        if "approve" in request.POST:
            corrections.approve(found, request.user)
            messages.success(
                request, _("Approved. The correction counts from now. The points stay.")
            )
        else:
            form = RefusalForm(request.POST)
            if not form.is_valid():
                return show_exam(request, found.exam, status=422, refusal_form=form)
            corrections.turn_down(found, form.cleaned_data["reason"], request.user)
            messages.success(request, _("Turned down. The outcome stays as it was."))
    except corrections.MayNotCorrect as error:
        messages.error(request, str(error))
    return redirect("certification:exam", found.exam_id)
