"""What a certificate means and how it is made, for anybody."""

from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from training.people import sight

from .. import blueprints, certificate_print, changes, expected, open_badge
from ..models import Change, Requirements
from . import questions, recheck, signing


@never_cache
@sight.anyone
@require_safe
def meanings(request):
    """List the certificates of the site, each with the way to what it means."""
    found = [each for each in Requirements.objects.all() if changes.is_in_force(each)]
    return render(request, "certification/fair/meanings.html", {"requirements_list": found})


@never_cache
@sight.anyone
@require_safe
def meaning(request, slug):
    """Tell anybody what a certificate means: every figure is the requirements's as it is today."""
    found = get_object_or_404(Requirements, slug=slug)
    context = {
        "requirements": found,
        "in_force": changes.is_in_force(found),
        "books": [blueprints.book_of(name) for name in found.rulebooks],
        "must": [blueprints.title_of(key, found.rulebooks) for key in found.must_pass],
        "total": sum(part.count for part in found.parts.all()),
        "changed": found.changes.filter(outcome=Change.Outcome.APPROVED).exclude(was={}),
        "issuer": open_badge.office(open_badge.site_address(request)),
        "nature": certificate_print.NATURE,
        "caution": certificate_print.CAUTION,
        "sign_days": signing.SIGN_DAYS,
        "ask_days": questions.ASK_DAYS,
        "check": recheck,
    }
    try:
        slots = blueprints.of_requirements(found)
    except blueprints.RequirementsError:
        context["rows"] = []
    else:
        context["rows"] = blueprints.rows(slots, found.rulebooks, found.must_pass)
        context["figures"] = expected.told(found, slots, timezone.localdate())
    return render(request, "certification/fair/meaning.html", context)
