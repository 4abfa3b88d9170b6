"""Who may sign in, as what, and for which harbors; invitations, and what comes of their links."""

import uuid

from django.contrib import messages
from django.contrib.auth import views as auth_views
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse_lazy
from django.utils.decorators import method_decorator
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck.forms import posted
from training.letters.models import Letter
from training.letters.views import site_address
from training.people import factors, limits, notices, sight
from training.people.forms import SetPasswordForm
from training.people.models import User, with_groups

from . import asking, inviting, keeping
from .forms import AccountForm, AccountsForm, InviteForm
from .tokens import DAYS, tokens

ACCOUNTS_A_PAGE = 50
LOG = 30
EMAIL_ASKED = gettext_lazy(
    "The email changes once the new one has answered. The old one is asked too, and can stop it."
)
ASKED = gettext_lazy("Saved. It applies once a second person agrees. Nothing changes before that.")


@never_cache
@sight.staff
@require_safe
def accounts(request):
    """List the accounts of those whom the member of staff looks after."""
    form = AccountsForm(request.GET)
    found = form.narrowed(sight.rows(User.objects.all(), request.user))
    page = Paginator(found, ACCOUNTS_A_PAGE).get_page(request.GET.get("page"))
    page.object_list = page.object_list.prefetch_related("reaches", with_groups())
    return render(request, "accounts/accounts.html", {"form": form, "page": page})


def _person(request, pk):
    return get_object_or_404(sight.rows(User.objects.all(), request.user), pk=pk)


@never_cache
@sight.staff
@factors.when_it_matters
@require_http_methods(["GET", "HEAD", "POST"])
def account(request, pk):
    """Show an account and what was done to it, and let staff change it if they may."""
    person = _person(request, pk)
    may_change = keeping.may_change(request.user, person)
    if request.method == "POST" and not may_change:
        raise PermissionDenied
    asked = asking.waiting_for(person)
    if request.method == "POST" and asked:
        messages.error(request, _("Something is asked for this account. Decide on that first."))
        return redirect("accounts:account", person.pk)
    # A form that was refused has changed what it was given.
    form = AccountForm(posted(request), instance=User.objects.get(pk=person.pk), by=request.user)
    if request.method == "POST" and form.is_valid():
        return _save(request, person, form.cleaned_data)
    context = {
        "person": person,
        "form": form if may_change and not asked else None,
        "asked": asked,
        "is_own": person.pk == request.user.pk,
        "log": keeping.log_of(person)[:LOG],
        "groups": [each.group for each in person.memberships.select_related("group")],
        "invited": person.letters.filter(purpose=Letter.Purpose.INVITATION),
        "key": uuid.uuid4(),
        "days": DAYS,
        "has_phone": request.user.sees_whole_fleet and factors.has(person),
    }
    return render(request, "accounts/account.html", context, status=422 if form.errors else 200)


def _save(request, person, data):
    """Save what one may do alone; ask a second person for the rest."""
    if asking.needs_second(person, data):
        asking.ask(person, data, request.user)
        messages.success(request, ASKED)
        return redirect("accounts:requests")
    asks = keeping.save(person, data, request.user, site_address(request))
    messages.success(request, _("The account is saved."))
    if asks:
        messages.info(request, EMAIL_ASKED)
    return redirect("accounts:account", person.pk)


@never_cache
@sight.staff
@factors.when_it_matters
@require_http_methods(["GET", "HEAD", "POST"])
def invite(request):
    """Make an account for somebody new and mail them the link to their password."""
    form = InviteForm(posted(request), by=request.user, initial={"key": uuid.uuid4()})
    if request.method == "POST":
        if person := _invited_by(form["key"].data):
            # The same form sent twice.
            return redirect("accounts:account", person.pk)
        if form.is_valid() and not request.user.sees_whole_fleet:
            return _into_group(request, form.cleaned_data)
        if form.is_valid() and asking.needs_second(None, form.cleaned_data):
            asking.ask(None, form.cleaned_data, request.user, form.cleaned_data["key"])
            messages.success(request, ASKED)
            return redirect("accounts:requests")
        if form.is_valid():
            person = keeping.make(form.cleaned_data, request.user)
            mail_invitation(request, person, form.cleaned_data["key"])
            return redirect("accounts:account", person.pk)
    context = {"form": form, "days": DAYS}
    return render(request, "accounts/invite.html", context, status=422 if form.errors else 200)


def _into_group(request, data):
    """Mail the way into a group, and answer alike whether or not there is an account."""
    if inviting.BY_STAFF.is_passed(f"account/{request.user.pk}"):
        return limits.ask_to_wait(request, inviting.BY_STAFF)
    told = {"email": data["email"], "group": data["group"]}
    try:
        inviting.into_group(data, request.user, site_address(request))
    except OSError:
        said = _("The email to {email} could not be sent. Try again.")
        messages.error(request, said.format(**told))
        return redirect("accounts:invite")
    said = _("A link to join {group} is on its way to {email}. They are listed once they joined.")
    messages.success(request, said.format(**told))
    return redirect("accounts:accounts")


def _invited_by(key):
    """Return whom the form of ``key`` invited, None if nobody yet."""
    try:
        letter = Letter.objects.filter(key=uuid.UUID(key), person__isnull=False).first()
    except (TypeError, ValueError, AttributeError):
        return None
    return letter and letter.person


def mail_invitation(request, person, key):
    """Mail the invitation and say on the next page whether it went out."""
    try:
        sent = keeping.invite(person, request.user, key, site_address(request))
    except OSError:
        sent = False
    if sent:
        said = _("An invitation is on its way to {email}.").format(email=person.email)
        messages.success(request, said)
    elif not person.letters_received.filter(letter__key=key, state="sent").exists():
        said = _("The account is there, but the email to {email} could not be sent. Try again.")
        messages.error(request, said.format(email=person.email))


@sight.staff
@factors.when_it_matters
@require_POST
def invite_again(request, pk):
    """Mail another link to somebody who has no password yet."""
    person = _person(request, pk)
    if not keeping.may_change(request.user, person):
        raise PermissionDenied
    if person.is_active and not person.has_usable_password():
        try:
            key = uuid.UUID(request.POST.get("key"))
        except (TypeError, ValueError):
            key = uuid.uuid4()
        mail_invitation(request, person, key)
    return redirect("accounts:account", person.pk)


@method_decorator(sight.anyone, name="dispatch")
class Welcome(auth_views.PasswordResetConfirmView):
    """Set a first password by the link of an invitation, and be signed in."""

    form_class = SetPasswordForm
    template_name = "accounts/welcome.html"
    token_generator = tokens
    post_reset_login_backend = "django.contrib.auth.backends.ModelBackend"
    success_url = reverse_lazy("home")

    @property
    def post_reset_login(self):
        # Somebody with a phone signs in, where its code is asked for.
        return not factors.has(self.user)

    def form_valid(self, form):
        # Of nobody known: whoever had the link.
        notices.tell(self.user, notices.FIRST_PASSWORD)
        return super().form_valid(form)

    def get_user(self, uidb64):
        user = super().get_user(uidb64)
        return user if user is not None and user.is_active else None
