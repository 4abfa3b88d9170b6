"""The phone that makes codes for a person, its spare codes, and giving a code."""

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck.codes import in_groups
from training.deck.forms import posted

from .. import arriving, notices, sight
from ..joining_links import picture_of_link
from ..onward import onward
from . import devices, entering, proof
from .forms import CodeProofForm, SetUpForm, proof_form
from .matters import when_it_matters

_KEY = "phone_key"


@never_cache
@sensitive_post_parameters("proof")
@sight.anyone
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in_code(request):
    """Ask whoever just gave their password for the code, and sign them in."""
    half = entering.half(request)
    if half is None:
        return redirect("people:sign_in")
    form = CodeProofForm(request, half.user, posted(request))
    if form.is_bound and form.is_valid():
        entering.finish(request, half.user)
        _say_spare(request, form)
        return redirect(half.onward or arriving.first_stop(request) or "home")
    status = 422 if form.errors else 200
    return render(request, "people/factors/sign_in_code.html", {"form": form}, status=status)


def _say_spare(request, form):
    """Say how many spare codes are left, to whoever just used one."""
    if not form.used_spare:
        return
    left = devices.spare_left(form.user)
    if not left:
        said = _("That was your last spare code. Make new ones in your account.")
        messages.warning(request, said)
        return
    words = ngettext(
        "That was a spare code. You have {count} left. Make new ones in your account soon.",
        "That was a spare code. You have {count} left.",
        left,
    )
    messages.info(request, words.format(count=left))


@never_cache
@sensitive_post_parameters("proof")
@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def prove(request):
    """Ask who is there, and lead on to what was asked for."""
    form = proof_form(request, posted(request))
    if form.is_bound and form.is_valid():
        proof.note(request, form.by_code)
        _say_spare(request, form)
        return redirect(onward(request) or "home")
    context = {"form": form, "action": request.get_full_path()}
    status = 422 if form.errors else 200
    return render(request, "people/factors/prove.html", context, status=status)


@never_cache
@sight.signed_in
@require_safe
def phone(request):
    """Show whether there is a phone that makes codes, and what can be done about it."""
    context = {
        "phone": devices.phone_of(request.user),
        "spare": devices.spare_left(request.user),
        "must_have": _must_have(request.user),
    }
    return render(request, "people/factors/phone.html", context)


def _must_have(user):
    return settings.STAFF_FACTOR and user.is_staff


@sight.signed_in
@require_POST
def sign_out_elsewhere(request):
    """Sign the person out on all devices but this one."""
    request.user.end_sign_ins()
    update_session_auth_hash(request, request.user)
    messages.success(request, _("You are signed out on all other devices."))
    return redirect("people:account")


@never_cache
@sight.signed_in
@when_it_matters(to_look=True)
@require_http_methods(["GET", "HEAD", "POST"])
def phone_set_up(request):
    """Show the picture that a phone reads, and take the code it makes of it."""
    # Kept until the code is right: before that the phone of before holds.
    key = request.session.setdefault(_KEY, devices.new_key())
    form = SetUpForm(request.user, key, posted(request))
    if form.is_bound and form.is_valid():
        del request.session[_KEY]
        notices.tell(request.user, notices.FACTOR_SET, request.user)
        return _done(request, form.spare)
    address = devices.address_of(request.user, key)
    context = {
        "form": form,
        "picture": picture_of_link(address),
        "address": address,
        "typed_key": devices.typed_key(key),
        "has_phone": devices.has(request.user),
        "must_have": _must_have(request.user),
    }
    return render(
        request, "people/factors/set_up.html", context, status=422 if form.errors else 200
    )


def _done(request, spare):
    """Stay signed in on this device, and show the spare codes this one time."""
    update_session_auth_hash(request, request.user)
    proof.note(request, by_code=True)
    return _show(request, spare)


def _show(request, spare):
    return render(request, "people/factors/spare.html", {"codes": map(in_groups, spare)})


@never_cache
@sight.signed_in
@when_it_matters
@require_POST
def new_spare(request):
    """Make new spare codes, and show them this one time."""
    if not devices.has(request.user):
        return redirect("people:phone")
    spare = devices.new_spare(request.user)
    notices.tell(request.user, notices.FACTOR_CODES, request.user)
    return _show(request, spare)


@never_cache
@sight.signed_in
@when_it_matters
@require_POST
def phone_off(request):
    """Take the phone off, unless the person must have one."""
    if not _must_have(request.user) and devices.has(request.user):
        devices.take_off(request.user)
        update_session_auth_hash(request, request.user)
        notices.tell(request.user, notices.FACTOR_OFF, request.user)
        messages.success(request, _("Sign-in codes are off. Your password alone signs you in."))
    return redirect("people:phone")
