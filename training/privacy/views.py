"""A person's own data: who sees them, taking them away, having them erased."""

from django.contrib import messages
from django.contrib.auth import logout
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_safe

from rigs.words.say import gettext_lazy
from training.deck.forms import posted
from training.people import sight

from .erasure import certificates_of, erase
from .forms import EraseForm, SharingForm
from .takeout import archive

DELETED = gettext_lazy(
    "Your account is deleted. A certificate that is still valid stays as the page before "
    "said. The vessel register, notes by staff or officers, earlier reports and backup "
    "copies may still name you: ask staff to take your name out."
)


@never_cache
@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def data(request):
    """Show who sees a person's data, and take a change of it."""
    form = SharingForm(request.user, posted(request))
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, _("Saved. Your choices are in force from now on."))
        return redirect("privacy:data")
    return render(request, "privacy/data.html", {"form": form})


@never_cache
@sight.signed_in
@require_safe
def take_out(request):
    """Download everything that is held about the person who asks."""
    return HttpResponse(
        archive(request.user),
        content_type="application/zip",
        headers={
            "Content-Disposition": f'attachment; filename="my-data-{timezone.localdate()}.zip"'
        },
    )


@never_cache
@sensitive_post_parameters("password")
@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def erase_me(request):
    """Erase the person who asks, after his password."""
    form = EraseForm(request, posted(request))
    if request.method == "POST" and form.is_valid():
        erase(request.user)
        logout(request)
        messages.success(request, DELETED)
        return redirect("home")
    context = {"form": form, "certificates": certificates_of(request.user)}
    return render(request, "privacy/erase.html", context, status=422 if form.errors else 200)
