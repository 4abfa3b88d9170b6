"""Check sheets that name a vessel which the register does not know."""

from django.core.paginator import Paginator
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from training.checks.models import CheckSheet
from training.people import sight

from ..deriving.sources import unmatched

SHEETS_A_PAGE = 50


def unmatched_for(user):
    """Return the finished check sheets near ``user`` that count for no vessel, a queryset."""
    return sight.rows(CheckSheet.objects.filter(pk__in=unmatched()), user)


@never_cache
@sight.staff
@require_safe
def unmatched_sheets(request):
    """List the finished check sheets that count for no vessel."""
    page = Paginator(unmatched_for(request.user), SHEETS_A_PAGE).get_page(request.GET.get("page"))
    return render(request, "register/unmatched.html", {"page": page})
