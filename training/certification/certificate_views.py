"""What the holder, the staff and a stranger see of a certificate."""

import uuid

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.rules import rulebook
from training.deck.codes import in_groups, tidy_code
from training.people import factors, limits, second, sight

from . import certificate_print, certificates, open_badge, reminders
from .certificate_forms import CertificateCodeForm, ChangesForm, RevokeForm, ShowNameForm
from .fair import conditions, recheck, revoking, wording
from .issued_form import IssuedFilterForm
from .models import Certificate

CERTIFICATES_A_PAGE = 50
VERIFIED = limits.Codes("verify")


def books_of(certificate):
    """Return the Rulebooks that ``certificate`` was issued by, in the versions of its day."""
    return [rulebook.load(name, version) for name, version in sorted(certificate.rulebooks.items())]


def visible(user, code):
    """Return the certificate ``code`` if ``user`` holds it or is staff; raise Http404 if not."""
    found = certificates.for_standing(Certificate.objects.all())
    return get_object_or_404(sight.rows(found, user), code=code)


def held(user, code):
    """Return the certificate ``code`` if ``user`` holds it; raise Http404 if not."""
    found = certificates.for_standing(sight.own(Certificate.objects.all(), user))
    return get_object_or_404(found, code=code)


def _entry(certificate):
    return {
        "certificate": certificate,
        "code": in_groups(certificate.code),
        "standing": certificates.standing(certificate),
        "is_demo": certificates.is_demo(certificate),
    }


def _told(request, certificate):
    """Return what a page that tells all of ``certificate`` takes."""
    return _entry(certificate) | {
        "books": books_of(certificate),
        "issuer": open_badge.office(open_badge.site_address(request)),
        "nature": certificate_print.NATURE,
        "taken": wording.taken(conditions.how_taken(certificate.exam)),
        "exam": wording.exam(certificate.exam),
        "renewed": [wording.renewed(each) for each in recheck.renewals(certificate)],
    }


@never_cache
@sight.signed_in
@require_safe
def mine(request):
    """List the certificates that the user holds."""
    found = certificates.for_standing(sight.own(Certificate.objects.all(), request.user))
    return render(
        request, "certification/certificates.html", {"entries": [_entry(each) for each in found]}
    )


@never_cache
@sight.staff
@require_safe
def issued(request):
    """List every certificate, for staff."""
    form = IssuedFilterForm(request.GET)
    found = certificates.for_standing(Certificate.objects.all())
    found = form.found(sight.rows(found, request.user))
    page = Paginator(found, CERTIFICATES_A_PAGE).get_page(request.GET.get("page"))
    entries = [_entry(each) for each in page.object_list]
    context = {"form": form, "page": page, "entries": entries}
    return render(request, "certification/certificates_issued.html", context)


def _page(request, certificate, status=200, **forms):
    is_holder = certificate.exam.user_id == request.user.pk
    context = _told(request, certificate) | {
        "is_holder": is_holder,
        "renewable": is_holder and reminders.to_renew(certificate),
        "check_hindrance": recheck.hindrance(certificate) if is_holder else "",
        "is_signed": open_badge.signing_key() is not None,
        "verify_url": _verify_url(request, certificate),
        "name_form": ShowNameForm(instance=certificate),
        "revoke_form": RevokeForm(),
    }
    if request.user.is_staff and (proposal := revoking.open_proposal(certificate)):
        hindrance = revoking.hindrance(proposal, second.Beside(request.user))
        context |= {
            "proposal": proposal,
            "may_not_decide": hindrance,
            "able": revoking.able(proposal) if hindrance else [],
        }
    return render(request, "certification/certificate.html", context | forms, status=status)


@never_cache
@sight.owner
@require_safe
def certificate(request, code):
    """Show a certificate to its holder or to staff."""
    return _page(request, visible(request.user, code))


def _verify_url(request, certificate):
    path = reverse("certificates:verify_code", args=[certificate.code])
    return open_badge.site_address(request) + path


def _checked(certificate):
    """Return the date of the check that renewed ``certificate`` last, or None."""
    renewed = recheck.renewals(certificate)
    return timezone.localdate(renewed[-1].settled) if renewed else None


def _printed(request, code, make, kind, ending):
    found = visible(request.user, code)
    if certificates.taken_back(found):
        raise Http404(_("This certificate was withdrawn."))
    data = make(
        certificate_print.Printed(
            holder=found.holder_name,
            title=found.exam.requirements.title,
            summary=found.exam.requirements.summary,
            issuer=open_badge.office(open_badge.site_address(request)),
            issued=timezone.localdate(found.issued),
            expires=timezone.localdate(found.expires),
            rules=[
                _("{title}, version {version}").format(title=book.title, version=book.version)
                for book in books_of(found)
            ],
            code=in_groups(found.code),
            address=_verify_url(request, found),
            is_demo=certificates.is_demo(found),
            taken=wording.taken(conditions.how_taken(found.exam)),
            checked=_checked(found),
        )
    )
    name = f"certificate-{found.code}.{ending}"
    return HttpResponse(
        data,
        content_type=kind,
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )


@never_cache
@sight.owner
@require_safe
def png(request, code):
    """Send the certificate as a picture."""
    return _printed(request, code, certificate_print.as_png, "image/png", "png")


@never_cache
@sight.owner
@require_safe
def pdf(request, code):
    """Send the certificate as a sheet to print."""
    return _printed(request, code, certificate_print.as_pdf, "application/pdf", "pdf")


@sight.owner
@require_POST
def show_name(request, code):
    """Let the holder say whether strangers may read the name."""
    found = held(request.user, code)
    form = ShowNameForm(request.POST, instance=found)
    if form.is_valid():
        form.save()
        messages.success(
            request,
            _("Your name is now shown to anyone who checks your certificate.")
            if found.show_name
            else _("Your name is no longer shown to people who check your certificate."),
        )
    return redirect("certificates:certificate", found.code)


@sight.staff
@factors.when_it_matters
@require_POST
def revoke(request, code):
    """Propose that a certificate be withdrawn; it is once a second person approves."""
    found = visible(request.user, code)
    form = RevokeForm(request.POST)
    if form.is_valid():
        try:
            revoking.propose(found, form.cleaned_data["reason"], request.user)
        except revoking.MayNotRevoke as error:
            form.add_error("reason", str(error))
    if not form.is_valid():
        return _page(request, found, status=422, revoke_form=form)
    messages.success(request, _("Saved. It is withdrawn once a second person approves it."))
    return redirect("certificates:certificate", found.code)


@sight.staff
@factors.when_it_matters
@require_POST
def decide_revocation(request, code):
    """Withdraw a certificate as another member of staff proposed, or leave it as it is."""
    found = visible(request.user, code)
    proposal, approved = found.revocation_proposals.last(), "approve" in request.POST
    if proposal is None:
        raise Http404(_("Nobody proposed to withdraw this certificate."))
    try:
        revoking.decide(proposal, request.user, approved)
    except revoking.MayNotRevoke as error:
        messages.error(request, str(error))
    else:
        words = (
            _("The certificate is withdrawn. The page that checks it says so.")
            if approved
            else _("The certificate stays as it is.")
        )
        messages.success(request, words)
    return redirect("certificates:certificate", found.code)


@never_cache
@sight.owner
@require_http_methods(["GET", "HEAD", "POST"])
def changes(request, code):
    """Show the holder what changed in the rules since, and keep that he knows it."""
    found = held(request.user, code)
    changed = certificates.standing(found).changed
    form = ChangesForm(request.POST if request.method == "POST" else None, changed=changed)
    if form.is_valid():
        refresher = certificates.refresh(found, answers=form.cleaned_data, key=uuid.uuid4())
        if refresher and refresher.set:
            return redirect("recall:set", refresher.set.pk)
        messages.success(request, _("Saved. You have reviewed the changes."))
        return redirect("certificates:certificate", found.code)
    context = _entry(found) | {"form": form, "going_through": certificates.going_through(found)}
    return render(
        request,
        "certification/certificate_changes.html",
        context,
        status=422 if form.errors else 200,
    )


@sight.anyone
@require_safe
def verify(request):
    """Ask for a code; lead to the page that tells about it."""
    form = CertificateCodeForm(request.GET if "code" in request.GET else None)
    if form.is_valid():
        return redirect("certificates:verify_code", form.cleaned_data["code"])
    return render(request, "certification/verify.html", {"form": form})


@never_cache
@sight.anyone
@require_safe
def verify_code(request, code):
    """Tell anybody whether a certificate counts, and no more of its holder than agreed."""
    if limit := VERIFIED.used_up(request):
        return limits.ask_to_wait(request, limit)
    found = (
        certificates.for_standing(Certificate.objects.all()).filter(code=tidy_code(code)).first()
    )
    if found is None:
        VERIFIED.was_wrong(request)
        form = CertificateCodeForm({"code": code})
        form.add_error("code", _("No certificate has this code. Compare it letter by letter."))
        return render(request, "certification/verify.html", {"form": form}, status=404)
    return render(request, "certification/verify_code.html", _told(request, found))
