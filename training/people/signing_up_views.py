"""How people come by an account: the office's choice."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from . import sight
from .joining import MOST_WITHOUT_CODE
from .models import SignUpChoice


@sight.whole_fleet
@require_safe
def signing_up(request):
    """Show whether people may sign up without a code, and who decided so when."""
    context = {
        "allowed": SignUpChoice.objects.without_code(),
        "choices": sight.rows(SignUpChoice.objects.select_related("by"), request.user)[:10],
        "most": MOST_WITHOUT_CODE,
    }
    return render(request, "people/signing_up.html", context)


@require_POST
@sight.whole_fleet
def choose_signing_up(request):
    """Allow signing up without a code, or end it; the same choice twice is one."""
    allowed = request.POST.get("without_code") == "yes"
    if SignUpChoice.objects.without_code() != allowed:
        SignUpChoice.objects.create(without_code=allowed, by=request.user)
    words = (
        _("Saved: people may sign up without a code.")
        if allowed
        else _("Saved: people need a group code to sign up.")
    )
    messages.success(request, words)
    return redirect("people:signing_up")
