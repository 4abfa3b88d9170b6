"""Ready for sea: what a person takes along, and whether their account is still there."""

from django.core import signing
from django.http import JsonResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST, require_safe

from training.deck import along, signal
from training.people import sight
from training.people.models import User

from . import parts

_SALT = "training.sea"


@never_cache
@sight.signed_in
@signal.opens
@require_safe
def ready(request):
    """Show a person what of the site is on their phone, and let them take all of it along."""
    return render(request, "sea/ready.html")


@never_cache
@sight.signed_in
@signal.needs_signal(gettext_lazy("what a phone asks for while it takes pages along"))
@require_safe
def along_list(request):
    """Answer with all that the person can take along, for the phone to fetch."""
    taken = along.parts_for(request.user, timezone.localdate())
    told = {
        "person": request.user.pk,
        "version": parts.version(),
        "token": signing.dumps(request.user.pk, salt=_SALT),
        "parts": [{**part._asdict(), "title": str(part.title)} for part in taken],
    }
    return JsonResponse(told)


@never_cache
@csrf_exempt  # changes nothing, and is asked where nobody is signed in
@sight.anyone
@require_POST
def still(request):
    """
    Say whether the account whose token a phone was given is still there.

    The token names nobody to those who do not have it.
    """
    try:
        person = signing.loads(request.POST.get("token", ""), salt=_SALT)
    except signing.BadSignature:
        return JsonResponse({"problem": _("This is no token of this site.")}, status=422)
    # Of an account that was deleted a nameless row is left.
    is_there = User.objects.filter(pk=person, erasure=None).exists()
    return JsonResponse({"still": is_there})
