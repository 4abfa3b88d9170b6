"""The texts that letters begin from, as staff change them."""

import uuid

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck.forms import posted
from training.people import sight

from . import texts
from .forms import TextForm
from .models import LetterText

VERSIONS = 20


@never_cache
@sight.staff
@require_safe
def all_texts(request):
    """List the texts, those that the site sends by itself apart."""
    found = list(texts.all_texts().values())
    context = {
        "own": [text for text in found if not text.is_automatic],
        "automatic": [text for text in found if text.is_automatic],
        "gone": list(texts.all_texts(gone=True).values()),
    }
    return render(request, "letters/texts.html", context)


def _text(slug):
    found = texts.current(slug)
    if found is None:
        raise Http404(_("There is no such text."))
    return found


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def new_text(request):
    """Make a text."""
    return _edit(request, texts.Text("", "", "", ""))


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def change_text(request, slug):
    """Change a text; what the site sends by itself is changed by staff of the whole fleet."""
    found = _text(slug)
    if found.is_automatic and not request.user.sees_whole_fleet:
        raise PermissionDenied
    return _edit(request, found)


def _edit(request, text):
    versions = LetterText.objects.filter(slug=text.slug, is_gone=False).select_related("by")
    versions = list(versions.order_by("-made", "-pk")[:VERSIONS]) if text.slug else []
    form = TextForm(
        posted(request),
        known=text.known,
        needs=text.needs,
        initial={"key": uuid.uuid4(), **_words(request.GET.get("as"), text, versions)},
    )
    if request.method == "POST" and form.is_valid():
        _keep(form.cleaned_data, text.slug, request.user)
        messages.success(request, _("The text is saved."))
        return redirect("letters:texts")
    context = {
        "form": form,
        "text": text,
        "versions": versions,
        "came": texts.standard().get(text.slug),
    }
    return render(request, "letters/text_form.html", context, status=422 if form.errors else 200)


def _words(version, text, versions):
    """Return what the form begins with: the text as it is, as it came, or as it once was."""
    found = next((each for each in versions if str(each.pk) == version), text)
    if version == "came":
        found = texts.standard().get(text.slug, text)
    return {name: getattr(found, name) for name in ("title", "subject", "body", "brief")}


def _keep(data, slug, user):
    key = data.pop("key")
    LetterText.objects.get_or_create(
        key=key, defaults={**data, "slug": slug or key.hex, "by": user}
    )


@sight.staff
@require_POST
def remove_text(request, slug):
    """Take a text off the list, or put it back."""
    found = _text(slug)
    gone = request.POST.get("gone") == "yes"
    if found.is_automatic:
        raise PermissionDenied
    latest = LetterText.objects.filter(slug=slug).order_by("-made", "-pk").first()
    if gone != bool(latest and latest.is_gone):
        words = {name: getattr(found, name) for name in ("title", "subject", "body", "brief")}
        LetterText.objects.create(
            key=uuid.uuid4(), slug=slug, is_gone=gone, by=request.user, **words
        )
    said = _("“{title}” is off the list.") if gone else _("“{title}” is on the list again.")
    messages.success(request, said.format(title=found.title))
    return redirect("letters:texts")
