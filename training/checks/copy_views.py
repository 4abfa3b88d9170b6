"""The skipper's copy: a sheet that was turned in, for whoever has its code."""

from datetime import timedelta

from django import forms
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from training.deck.codes import in_groups, tidy_code
from training.people import sight
from training.people.addresses import client_address

from . import prints, shown
from .models import CheckSheet, CopyTry

MOST_TRIES = 20
"""Wrong codes from one address in an hour, after which it has to wait."""

AN_HOUR = timedelta(hours=1)


class CopyCodeForm(forms.Form):
    """The code of a skipper's copy, as printed on it."""

    code = forms.CharField(
        label=gettext_lazy("Code on the copy"),
        max_length=40,
        help_text=gettext_lazy("12 letters and digits, like ABCD-EFGH-JKMN."),
        widget=forms.TextInput({"autocapitalize": "characters", "autocomplete": "off"}),
    )

    def clean_code(self):
        code = tidy_code(self.cleaned_data["code"])
        if not code:
            raise forms.ValidationError(_("Enter the code as it is printed, like ABCD-EFGH-JKMN."))
        return code


def _unlisted(response):
    """Return ``response`` marked so that no search engine lists it and no site hears of it."""
    response["X-Robots-Tag"] = "noindex"
    response["Referrer-Policy"] = "no-referrer"
    return response


def _page(request, form, status=200):
    return _unlisted(render(request, "checks/copy.html", {"form": form}, status=status))


def _refused(request, words, status):
    form = CopyCodeForm({"code": "-"})
    form.is_valid()
    form.add_error("code", words)
    return _page(request, form, status)


def _found(request, code):
    """Return (sheet, None), or (None, the page that says why not)."""
    address = salted_hmac("skipper's copy", client_address(request)).hexdigest()
    CopyTry.objects.filter(at__lt=timezone.now() - AN_HOUR).delete()
    if CopyTry.objects.filter(address=address).count() >= MOST_TRIES:
        words = _("Too many wrong codes. Wait an hour, then try again.")
        return None, _refused(request, words, 429)
    code = tidy_code(code)
    sheet = CheckSheet.objects.finished().filter(code=code).exclude(code="").first()
    if sheet is None:
        CopyTry.objects.create(address=address)
        words = _(
            "No sheet that was turned in has this code. Compare it letter by letter. If it is "
            "right, the officer may not have had signal yet: try again later."
        )
        return None, _refused(request, words, 404)
    return sheet, None


@never_cache
@sight.anyone
@require_safe
def copy(request):
    """Ask for the code; lead to the copy."""
    form = CopyCodeForm(request.GET if "code" in request.GET else None)
    if form.is_valid():
        return _unlisted(redirect("checks:copy_code", form.cleaned_data["code"]))
    return _page(request, form)


@never_cache
@sight.anyone
@require_safe
def copy_code(request, code):
    """Show the sheet of a code, to read and to print."""
    sheet, refused = _found(request, code)
    if refused:
        return refused
    context = shown.context(sheet) | {"code": in_groups(sheet.code), "is_copy": True}
    return _unlisted(render(request, "checks/copy_sheet.html", context))


@never_cache
@sight.anyone
@require_safe
def copy_pdf(request, code):
    """Print the sheet of a code."""
    sheet, refused = _found(request, code)
    return refused or _unlisted(prints.response(request, sheet))
