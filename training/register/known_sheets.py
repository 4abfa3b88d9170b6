"""Of which harbor a check sheet is, by what the register knows of harbors and vessels."""

from django.db.models import Q

from training.checks.models import CheckSheet
from training.checks.near import near

from .models import HarborSpelling, Vessel
from .table.entries import plain_registration


@near
def by_spelling(harbors):
    """The sheets on which one of ``harbors`` is written in another of its spellings."""
    found = Q(pk=None)
    spellings = HarborSpelling.objects.filter(harbor__name__in=harbors).order_by()
    for text in spellings.values_list("text", flat=True):
        found |= Q(harbor__iexact=text)
    return found


@near
def by_number(harbors):
    """The sheets without a harbor that have the number of a vessel of ``harbors``: most at sea."""
    vessels = Vessel.objects.filter(harbor__in=harbors).exclude(registration="").order_by()
    numbers = {plain_registration(each) for each in vessels.values_list("registration", flat=True)}
    if not numbers:
        return Q(pk=None)
    sheets = CheckSheet.objects.filter(harbor="").order_by()
    told = sheets.values_list("pk", "vessel_name", "head__vessel_number")
    named = (pk for pk, *texts in told if numbers & {plain_registration(t or "") for t in texts})
    return Q(pk__in=list(named))
