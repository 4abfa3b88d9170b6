"""Another email for one's account: asked for, and answered from both addresses."""

from django import forms
from django.conf import settings
from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from training.deck.forms import posted

from . import factors, sight
from . import new_email as changing
from .forms import email_input


class NewEmailForm(forms.Form):
    """The address that the account is to get."""

    email = forms.EmailField(
        label=gettext_lazy("New email"),
        max_length=254,
        widget=email_input(),
        error_messages={"required": gettext_lazy("Enter the new email, such as wren@example.com.")},
    )

    def __init__(self, person, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.person = person

    def clean_email(self):
        email = self.cleaned_data["email"].lower()
        if email == self.person.email:
            raise forms.ValidationError(_("This is your email already. Enter the new one."))
        return email


@never_cache
@sight.signed_in
@factors.when_it_matters
@require_http_methods(["GET", "HEAD", "POST"])
def new_email(request):
    """Ask for another email; both addresses are mailed."""
    form = NewEmailForm(request.user, posted(request))
    if form.is_valid():
        address = settings.SITE_ADDRESS or request.build_absolute_uri("/").rstrip("/")
        changing.ask(request.user, form.cleaned_data["email"], address, by=request.user)
        said = _("The links are on their way. Open the one that we mailed to the new email.")
        messages.success(request, said)
        return redirect("people:email")
    context = {
        "form": form,
        "change": changing.latest(request.user),
        "wait_days": changing.WAIT_DAYS,
    }
    return render(request, "people/email.html", context, status=422 if form.errors else 200)


@never_cache
@sight.anyone
@require_http_methods(["GET", "HEAD", "POST"])
def email_link(request, token):
    """Show what the link of the old or the new address is for; do it by POST alone."""
    change, side = changing.read(token)
    if change is None:
        return render(request, "people/email_link.html", {}, status=404)
    said = ""
    if request.method == "POST":
        try:
            if "stop" in request.POST and side == changing.OLD:
                changing.stop(change)
            else:
                changing.answer(change, side)
        except changing.Ended as error:
            said = str(error)
        change, side = changing.read(token)
    context = {
        "change": change,
        "is_old": side == changing.OLD,
        "can_put_back": changing.can_put_back(change),
        "wait_days": changing.WAIT_DAYS,
        "problem": said,
    }
    return render(request, "people/email_link.html", context)
