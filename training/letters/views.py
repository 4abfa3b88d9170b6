"""Letters: written, looked at before they go, and what went out."""

import uuid
from datetime import timedelta

from django.conf import settings
from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count, Exists, OuterRef, Q
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.people import sight
from training.people.models import Group

from . import gaps, posting, recipients, sending, texts
from .forms import WriteForm
from .models import Letter, LetterTo

LETTERS_A_PAGE = 30
PEOPLE_A_PAGE = 50
AGAIN_DAYS = 30
"""Within which the same subject again is pointed out; common practice, no source."""

Means, State = Letter.Means, LetterTo.State


def site_address(request):
    """Return where the site is found, without a slash behind it."""
    return settings.SITE_ADDRESS or request.build_absolute_uri("/").rstrip("/")


@never_cache
@sight.staff
@require_safe
def letters(request):
    """List what went out: what staff wrote, or what the site wrote by itself."""
    by_site = request.GET.get("by") == "site"
    # A letter whose people have all deleted their accounts is no use to anybody.
    has_rows = Exists(LetterTo.objects.filter(letter=OuterRef("pk")))
    found = sight.rows(Letter.objects.filter(has_rows, by__isnull=by_site), request.user)
    found = found.select_related("by", "group", "person")
    page = Paginator(found, LETTERS_A_PAGE).get_page(request.GET.get("page"))
    shown = list(page.object_list)
    seen = sight.rows(LetterTo.objects.filter(letter__in=[each.pk for each in shown]), request.user)
    counts = {each["letter"]: each for each in _count(seen.order_by().values("letter"))}
    context = {
        "by_site": by_site,
        "page": page,
        "rows": [(each, counts.get(each.pk)) for each in shown],
        "groups": sight.rows(Group.objects.all(), request.user),
    }
    return render(request, "letters/letters.html", context)


def _count(rows):
    """Return ``rows`` with how many of them are in each State."""
    return rows.annotate(
        sent=Count("pk", filter=Q(state=State.SENT)),
        waiting=Count("pk", filter=Q(state=State.WAITING)),
        failed=Count("pk", filter=Q(state=State.FAILED)),
        left_out=Count("pk", filter=Q(state=State.LEFT_OUT)),
    )


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def write(request):
    """Write a letter to whom the address names, look at it, and send it."""
    target = recipients.target(request.GET, request.user)
    means = Means.PHONE if request.GET.get("means") == Means.PHONE else Means.EMAIL
    step = request.POST.get("step")
    form = WriteForm(
        request.POST if step else None,
        known=target.known,
        means=means,
        initial={"key": uuid.uuid4(), **_begun(request.GET.get("text"), target, means)},
    )
    split = recipients.split(target.people[: recipients.MOST + 1], means)
    too_many = len(split.get) + len(split.left_out) > recipients.MOST
    context = {"target": target, "means": means, "form": form, "split": split}
    if not step or step == "change" or too_many or not form.is_valid():
        context |= {
            "offered": texts.offered(target.known),
            "too_many": too_many,
            "most": recipients.MOST,
            "other": Means.EMAIL if means == Means.PHONE else Means.PHONE,
        }
        status = 422 if step in ("preview", "send") else 200
        return render(request, "letters/write.html", context, status=status)
    if step == "send" and split.get:
        return _send(request, form.cleaned_data, target, means)
    context |= {
        "first": _as_read(form.cleaned_data, target, split, request),
        "before": _had_before(form.cleaned_data, target, split, request),
        "days": AGAIN_DAYS,
    }
    return render(request, "letters/preview.html", context)


def _begun(slug, target, means):
    """Return what a letter begins from: the text called ``slug``, if it fits ``target``."""
    found = next((each for each in texts.offered(target.known) if each.slug == slug), None)
    if found is None:
        return {}
    body = found.brief or found.body if means == Means.PHONE else found.body
    return {"subject": found.subject, "body": body, "text": slug}


def _as_read(data, target, split, request):
    """Return (who, subject, body) of the letter as the first person reads it."""
    person = (split.get or [each.user for each in split.left_out] or [None])[0]
    if person is None:
        return None
    values = target.values(site_address(request)) | gaps.of_person(person)
    return person, gaps.fill(data.get("subject", ""), values), gaps.fill(data["body"], values)


def _had_before(data, target, split, request):
    """Return how many of those who get the letter had one with its subject lately."""
    subject = gaps.fill(data.get("subject", ""), target.values(site_address(request)))
    since = timezone.now() - timedelta(days=AGAIN_DAYS)
    had = LetterTo.objects.filter(state=State.SENT, settled__gte=since, letter__subject=subject)
    users = set(had.exclude(letter__subject="").values_list("user", flat=True))
    return sum(each.pk in users for each in split.get)


def _send(request, data, target, means):
    address = site_address(request)
    draft = sending.Draft(data["key"], means, data.get("subject", ""), data["body"])
    letter, is_new = sending.make(draft, target, request.user, target.values(address))
    if is_new and letter.by_email:
        posting.post(letter, request.user, address)
    return redirect("letters:letter", letter.pk)


def _letter(request, pk):
    found = Letter.objects.select_related("by", "group", "person", "session")
    return get_object_or_404(sight.rows(found, request.user), pk=pk)


@never_cache
@sight.staff
@require_safe
def letter(request, pk):
    """Show a letter: its words, and who got it, waits for it or was left out."""
    found = _letter(request, pk)
    seen = sight.rows(found.rows.select_related("user"), request.user)
    state = request.GET.get("state")
    only = State(state) if state in State.values else None
    rows = seen.filter(state=only) if only else seen
    if not found.by_email:
        # Who is still to be texted comes first: waiting, sent, left out.
        rows = rows.order_by("-state", "pk")
    page = Paginator(rows, PEOPLE_A_PAGE).get_page(request.GET.get("page"))
    counts = _count(seen.order_by("letter").values("letter")).first()
    context = {
        "letter": found,
        "counts": counts,
        "only": only,
        "page": page,
        "job": posting.at_work(found, request.user),
        "can_try_again": found.purpose != Letter.Purpose.INVITATION,
    }
    return render(request, "letters/letter.html", context)


@sight.staff
@require_POST
def send_now(request, pk):
    """Mail all who wait for a letter, or first have those wait again who were refused."""
    found = _letter(request, pk)
    if found.by_email and found.purpose != Letter.Purpose.INVITATION:
        if request.POST.get("again"):
            sending.try_again(sight.rows(found.rows.all(), request.user))
        job = posting.post(found, request.user, site_address(request))
        if job is not None and job.is_going:
            return redirect(job)
        if job is not None and job.result.get("sent"):
            messages.success(request, _("Sent to {sent} more.").format(sent=job.result["sent"]))
        elif job is not None:
            messages.error(request, _("Nothing was sent. Try again later."))
    return redirect("letters:letter", found.pk)


@sight.staff
@require_POST
def texted(request, pk, row):
    """Note that one person was texted, or take that back."""
    found = _letter(request, pk)
    mine = get_object_or_404(sight.rows(found.rows.all(), request.user), pk=row)
    if not found.by_email:
        sending.mark_texted(mine, request.POST.get("texted") == "yes")
    return redirect(reverse("letters:letter", args=[found.pk]) + "#people")
