"""Signed certificates for their holders, and what anybody needs to check them."""

from django.http import Http404, HttpResponse, JsonResponse
from django.utils.translation import gettext as _
from django.views.decorators.cache import cache_control, never_cache
from django.views.decorators.http import require_safe

from training.people import sight

from . import certificates, open_badge
from .certificate_views import held

# Checkers may keep the keys for an hour; a revocation must be seen sooner.
_keepable = cache_control(public=True, max_age=3600)
_keepable_briefly = cache_control(public=True, max_age=60)


def _to_sign(request, code):
    found = held(request.user, code)
    if certificates.taken_back(found):
        raise Http404(_("This certificate was withdrawn."))
    if open_badge.signing_key() is None:
        raise Http404(_("This site has no key to sign certificates with."))
    return found


def _download(response, certificate, ending):
    response["Content-Disposition"] = f'attachment; filename="badge-{certificate.code}.{ending}"'
    return response


@never_cache
@sight.owner
@require_safe
def token(request, code):
    """Send the holder the certificate as a signed token."""
    found = _to_sign(request, code)
    signed = open_badge.token(found, open_badge.site_address(request))
    return _download(HttpResponse(signed, content_type=open_badge.TOKEN_TYPE), found, "jwt")


@never_cache
@sight.owner
@require_safe
def document(request, code):
    """Send the holder the certificate as JSON with its proof."""
    found = _to_sign(request, code)
    signed = open_badge.document(found, open_badge.site_address(request))
    return _download(JsonResponse(signed, content_type=open_badge.DOCUMENT_TYPE), found, "json")


def _public(content, kind="application/json"):
    # Checkers may run in a browser, on a page of somebody else's.
    return JsonResponse(content, content_type=kind, headers={"Access-Control-Allow-Origin": "*"})


@_keepable
@sight.anyone
@require_safe
def issuer(request):
    """Publish who certifies and with which keys."""
    return _public(open_badge.issuer_page(open_badge.site_address(request)))


@_keepable
@sight.anyone
@require_safe
def keys(request):
    """Publish the key set."""
    found = open_badge.published_keys(open_badge.site_address(request))
    return _public(found, "application/jwk-set+json")


@_keepable
@sight.anyone
@require_safe
def key(request, thumbprint):
    """Publish one key, at the address by which badges call it."""
    for each in open_badge.public_keys():
        if each.thumbprint == thumbprint:
            kid = open_badge.key_id(open_badge.site_address(request), each)
            return _public(each.jwk(kid), "application/jwk+json")
    raise Http404(_("This site does not publish such a key."))


@_keepable_briefly
@sight.anyone
@require_safe
def revoked(request):
    """Publish which badges were taken back."""
    return _public(open_badge.revoked_badges(open_badge.site_address(request)))
