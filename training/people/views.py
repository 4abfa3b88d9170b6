"""Sign-up, sign-in, and what people change about themselves."""

from contextlib import suppress
from urllib.parse import urlsplit

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import authenticate, login
from django.contrib.auth import views as auth_views
from django.shortcuts import redirect, render
from django.urls import reverse, reverse_lazy
from django.utils.decorators import method_decorator
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from training.deck.afterward import RedirectFirst
from training.deck.forms import posted

from . import arriving, guessing, limits, notices, sight
from .account import parts
from .factors import devices, entering
from .forms import (
    AskResetForm,
    ChangePasswordForm,
    CodeForm,
    ContactForm,
    NameForm,
    SetPasswordForm,
    SignInForm,
    SignUpForm,
)
from .joining import EmailTaken, is_full_without_code, join, join_too, needs_code
from .limits import of_address
from .meetings.upcoming import sessions_to_come
from .models import User
from .new_email import open_change
from .onward import onward

WITHOUT_CODE = limits.Limit("sign_up.address", most=30, minutes=10)
# Whoever knows a group's code may learn by it who has an account: a few, for a class's slips.
TAKEN = limits.Limit("sign_up.taken", most=30, minutes=60)
# A code that was given to all the world.
BY_CODE = limits.Limit("join.code", most=300, minutes=60)
CODES = limits.Codes("join")
RESETS_BY_ADDRESS = limits.Limit("reset.address", most=100, minutes=10)
RESETS_BY_ACCOUNT = limits.Limit("reset.account", most=5, minutes=60)
FULL = gettext_lazy(
    "Too many people signed up without a code today. Ask for a code, or come back tomorrow."
)


@never_cache
@sensitive_post_parameters("password")
@sight.anyone
@require_http_methods(["GET", "HEAD", "POST"])
def sign_up(request):
    """Make an account in the group whose code is given, and sign in."""
    if request.method != "POST":
        if request.user.is_authenticated:
            # The picture that leads here is for those with an account as well.
            code = request.GET.get("code")
            return redirect(reverse("people:join", query={"code": code}) if code else "home")
        form = SignUpForm(initial={"code": request.GET.get("code", "")}, needs_code=needs_code())
        return _sign_up_form(request, form)
    form = SignUpForm(request.POST, needs_code=needs_code())
    limit = _hindrance(request, form)
    if limit:
        return limits.ask_to_wait(request, limit)
    if form.is_valid():
        user = _join_or_recognise(request, form)
        if user is not None:
            return _enter(request, user)
    return _sign_up_form(request, form)


def _hindrance(request, form):
    """Return the Limit that stands against joining by ``form``, None if it may go on."""
    used_up = CODES.used_up(request) or (TAKEN if TAKEN.is_used_up(of_address(request)) else None)
    if used_up:
        return used_up
    if form.is_valid():
        limit, whom = WITHOUT_CODE, of_address(request)
        if form.group:
            limit, whom = BY_CODE, limits.of_code(form.group.code)
        return limit if limit.is_passed(whom) else None
    if form.has_wrong_code:
        CODES.was_wrong(request)
    return None


def _sign_up_form(request, form):
    return render(request, "people/sign_up.html", {"form": form, "parts": parts()})


def _enter(request, user):
    """Sign ``user`` in; who has an account and a phone already is asked for its code first."""
    where = onward(request) or "home"
    asked = entering.ask_code(request, user, where)
    if asked is not None:
        return asked
    login(request, user)
    arriving.bring_along(request)
    return redirect(where)


def _join_or_recognise(request, form):
    """Return the user that a valid ``form`` signs up; None with an error on it."""
    data = form.cleaned_data
    if form.group is None and is_full_without_code():
        form.add_error("code", FULL)
        return None
    # Taken by the same form sent twice, or by a person who forgot having signed up.
    with suppress(EmailTaken):
        join(data["name"], data["email"], data["password"], form.group)
    # Asked for new accounts and old: wrong guesses at an old one are counted.
    user = authenticate(request, username=data["email"], password=data["password"])
    if user is None:
        TAKEN.is_passed(of_address(request))
        form.add_error(
            "email",
            _("This email already has an account. Sign in, or ask for a new password."),
        )
    return user


@method_decorator(sight.anyone, name="dispatch")
class SignIn(auth_views.LoginView):
    """Sign in by e-mail and password; who has a phone for it is asked for a code next."""

    form_class = SignInForm
    template_name = "people/sign_in.html"
    redirect_authenticated_user = True

    def form_valid(self, form):
        asked = entering.ask_code(self.request, form.get_user(), self.get_redirect_url())
        return asked or super().form_valid(form)

    def get_default_redirect_url(self):
        return arriving.first_stop(self.request) or super().get_default_redirect_url()


@method_decorator(sight.anyone, name="dispatch")
class SignOut(auth_views.LogoutView):
    """Sign out; by POST alone, so that no link can do it to a person."""


@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def account(request):
    """Show a person their account, and let them mend their name."""
    return _account(request, NameForm, "form", _("Your name is saved."))


@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def contact(request):
    """Let a person say how to reach them, on the page of the account."""
    return _account(request, ContactForm, "contact", _("Saved how to reach you."))


def _account(request, form_class, name, saved):
    """Show the account with its forms, the one called ``name`` as it was sent."""
    # A form that was refused has changed what it was given: each form has a person of its own.
    forms = {
        "form": NameForm(instance=User.objects.get(pk=request.user.pk)),
        "contact": ContactForm(instance=User.objects.get(pk=request.user.pk)),
    }
    if request.method == "POST":
        form = form_class(request.POST, instance=User.objects.get(pk=request.user.pk))
        if form.is_valid():
            form.save()
            messages.success(request, saved)
            return redirect("people:account")
        forms[name] = form
    context = forms | {
        "memberships": request.user.memberships.select_related("group"),
        "sessions": sessions_to_come(request.user),
        "parts": parts(),
        "phone": devices.phone_of(request.user),
        "change": open_change(request.user),
    }
    return render(request, "people/account.html", context)


@never_cache
@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def join_group(request):
    """Have a person with an account join a group too."""
    form = CodeForm(posted(request), initial={"code": request.GET.get("code", "")})
    limit = _hindrance(request, form) if request.method == "POST" else None
    if limit:
        return limits.ask_to_wait(request, limit)
    if request.method == "POST" and form.is_valid():
        join_too(request.user, form.group)
        messages.success(request, _("You are in {group}.").format(group=form.group))
        return redirect("home")
    return render(request, "people/join.html", {"form": form})


@method_decorator(sight.signed_in, name="dispatch")
class ChangePassword(auth_views.PasswordChangeView):
    """Set a new password, knowing the old one."""

    form_class = ChangePasswordForm
    template_name = "people/password.html"
    success_url = reverse_lazy("people:account")

    def get_form_kwargs(self):
        return super().get_form_kwargs() | {"request": self.request}

    def form_valid(self, form):
        messages.success(self.request, _("Your new password is set."))
        notices.tell(self.request.user, notices.PASSWORD, self.request.user)
        return super().form_valid(form)


@method_decorator(sight.anyone, name="dispatch")
class AskReset(auth_views.PasswordResetView):
    """Ask for a link by e-mail to set a new password."""

    form_class = AskResetForm
    template_name = "people/reset.html"
    email_template_name = "people/reset_email.txt"
    subject_template_name = "people/reset_subject.txt"
    success_url = reverse_lazy("people:reset_sent")

    def form_valid(self, form):
        """
        Mail the link, once the browser has the answer: so that is alike for every email.

        Who asks for too many is told so for their connection, never for an account.
        """
        if RESETS_BY_ADDRESS.is_passed(of_address(self.request)):
            return limits.ask_to_wait(self.request, RESETS_BY_ADDRESS)
        too_many = RESETS_BY_ACCOUNT.is_passed(limits.of_email(form.cleaned_data["email"]))
        deed = None if too_many else lambda: self._mail(form)
        return RedirectFirst(str(self.success_url), deed)

    def _mail(self, form):
        form.save(
            use_https=self.request.is_secure(),
            # Where the site is said to be found; else links follow the name that was asked for.
            domain_override=urlsplit(settings.SITE_ADDRESS).netloc or None,
            email_template_name=self.email_template_name,
            subject_template_name=self.subject_template_name,
            request=self.request,
        )


@method_decorator(sight.anyone, name="dispatch")
class ResetSent(auth_views.PasswordResetDoneView):
    """Say that the link is on its way, whether or not there is such an account."""

    template_name = "people/reset_sent.html"


@method_decorator(sight.anyone, name="dispatch")
class SetPassword(auth_views.PasswordResetConfirmView):
    """Set a new password by the link."""

    form_class = SetPasswordForm
    template_name = "people/reset_confirm.html"
    success_url = reverse_lazy("people:reset_done")

    def form_valid(self, form):
        guessing.let_in(self.request, self.user)
        notices.tell(self.user, notices.PASSWORD, self.user)
        return super().form_valid(form)


@method_decorator(sight.anyone, name="dispatch")
class ResetDone(auth_views.PasswordResetCompleteView):
    """Say that the new password is set."""

    template_name = "people/reset_done.html"
