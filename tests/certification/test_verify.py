"""What the holder, the staff and strangers see of a certificate, and what they do not."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from rigs.rules import rulebook
from rigs.rules.changes import NO_RULE
from tests.certification.certificate_factory import make_exam, make_requirements, move_on
from training.certification import certificates
from training.certification.models import Certificate, Refresher, Revocation, RevocationProposal
from training.deck.codes import in_groups
from training.people.models import Group, Membership, User
from training.recall.models import ReadingSet

INVENTED = "This certificate and its holder are invented."


@pytest.fixture
def certificate(user):
    return certificates.issue(make_exam(user, handed_in=timezone.now()))


def address(name, certificate):
    return reverse(f"certificates:{name}", args=[certificate.code])


class TestVerifying:
    def test_a_stranger_sees_that_it_counts_and_not_who_holds_it(self, client, certificate):
        page = client.get(address("verify_code", certificate)).content.decode()
        assert "This certificate is valid until" in page
        assert certificate.exam.requirements.title in page
        assert rulebook.load("no-sweep", "1").title in page
        assert certificate.holder_name not in page
        assert certificate.exam.user.email not in page

    def test_it_says_who_issued_it_and_that_it_is_no_license(
        self, client, as_user, certificate, settings
    ):
        settings.OFFICE_NAME = "Tern Sound Fisheries Extension"
        for name in ("verify_code", "certificate"):
            page = as_user.get(address(name, certificate)).content.decode()
            assert "Tern Sound Fisheries Extension" in page
            assert "a training certificate, not a license" in page
        assert "not a license" in client.get(address("verify_code", certificate)).content.decode()

    def test_the_name_shows_once_the_holder_agrees(self, client, as_user, certificate):
        as_user.post(address("show_name", certificate), {"show_name": "on"})
        assert (
            certificate.holder_name
            in client.get(address("verify_code", certificate)).content.decode()
        )
        as_user.post(address("show_name", certificate), {})
        assert (
            certificate.holder_name
            not in client.get(address("verify_code", certificate)).content.decode()
        )

    def test_the_code_may_be_typed_in_groups_and_small_letters(self, client, certificate):
        typed = in_groups(certificate.code).lower().replace("-", " - ")
        page = client.get(reverse("certificates:verify"), {"code": typed}, follow=True)
        assert page.redirect_chain[-1][0] == address("verify_code", certificate)
        assert page.status_code == 200

    def test_an_unknown_code(self, client, certificate):
        page = client.get(reverse("certificates:verify_code", args=["ABCDEFGHJKLM"]))
        assert page.status_code == 404
        assert "No certificate has this code" in page.content.decode()
        assert 'value="ABCDEFGHJKLM"' in page.content.decode()

    @pytest.mark.parametrize(("code", "said"), [("", "Type the code"), ("ÄÖÜ", "letters")])
    def test_no_code(self, client, db, code, said):
        page = client.get(reverse("certificates:verify"), {"code": code}).content.decode()
        assert said in page

    def test_an_expired_one(self, client, certificate):
        certificate.expires = timezone.now() - timedelta(days=1)
        certificate.save()
        page = client.get(address("verify_code", certificate)).content.decode()
        assert "This certificate expired on" in page

    def test_one_taken_back_does_not_tell_why(self, client, certificate, staff):
        certificates.revoke(certificate, "Two hands on one phone.", staff)
        page = client.get(address("verify_code", certificate)).content.decode()
        assert "It is not valid." in page
        assert "Two hands" not in page

    def test_moved_rules_are_named(self, client, certificate, monkeypatch):
        move_on(monkeypatch, timezone.localdate(), drop=("legs_equal",))
        page = client.get(address("verify_code", certificate)).content.decode()
        assert "some rules changed since" in page
        assert rulebook.load("no-sweep", "1").requirement("legs_equal").title in page

    def test_demo_data_are_marked(self, client, user):
        requirements = make_requirements(slug="made-up", is_demo=True)
        certificate = certificates.issue(make_exam(user, requirements))
        assert INVENTED in client.get(address("verify_code", certificate)).content.decode()

    def test_an_invented_holder_is_marked(self, client, certificate):
        page = client.get(address("verify_code", certificate)).content.decode()
        assert INVENTED not in page
        group = Group.objects.create(name="Made up", code="MADE22UP", is_demo=True)
        Membership.objects.create(group=group, user=certificate.exam.user)
        assert INVENTED in client.get(address("verify_code", certificate)).content.decode()


class TestHolding:
    def test_the_list(self, as_user, as_officer, certificate):
        assert certificate.exam.requirements.title in as_user.get("/certificates/").content.decode()
        assert "None yet. Pass an exam" in as_officer.get("/certificates/").content.decode()

    def test_the_page(self, as_user, certificate):
        page = as_user.get(address("certificate", certificate)).content.decode()
        assert in_groups(certificate.code) in page
        assert address("verify_code", certificate) in page
        assert "Take it back" not in page

    @pytest.mark.parametrize(
        ("name", "kind", "start"),
        [("png", "image/png", b"\x89PNG"), ("pdf", "application/pdf", b"%PDF-")],
    )
    def test_the_downloads(self, as_user, certificate, name, kind, start):
        response = as_user.get(address(name, certificate))
        assert response["Content-Type"] == kind
        assert response.content.startswith(start)
        assert certificate.code in response["Content-Disposition"]

    @pytest.mark.parametrize("name", ["certificate", "png", "pdf", "changes", "badge_token"])
    def test_it_is_nobody_elses(self, as_officer, client, certificate, name):
        assert as_officer.get(address(name, certificate)).status_code == 404
        response = client.get(address(name, certificate))
        assert response.status_code == 302
        assert reverse("people:sign_in") in response["Location"]

    def test_nobody_else_may_show_the_name(self, as_officer, as_staff, certificate):
        for other in (as_officer, as_staff):
            response = other.post(address("show_name", certificate), {"show_name": "on"})
            assert response.status_code == 404
        assert not Certificate.objects.get().show_name

    def test_one_taken_back_tells_its_holder_why_and_is_not_printed(
        self, as_user, certificate, staff
    ):
        certificates.revoke(certificate, "Two hands on one phone.", staff)
        assert "Two hands" in as_user.get(address("certificate", certificate)).content.decode()
        for name in ("png", "pdf", "badge_token", "badge_document"):
            assert as_user.get(address(name, certificate)).status_code == 404


class TestGoingThroughChanges:
    def test_only_what_changed_is_shown_old_and_new(self, as_user, certificate, monkeypatch):
        old = rulebook.load("no-sweep", "1").requirement("dropper_spacing")
        book = move_on(monkeypatch, timezone.localdate(), limits={old.key: old.limit / 2})
        page = as_user.get(address("changes", certificate)).content.decode()
        assert old.title in page
        assert f"Before: {old.allowed_text}" in page
        assert f"Now: {book.requirement(old.key).allowed_text}" in page
        assert book.requirement("legs_equal").title not in page

    def test_it_is_kept_once_known(self, as_user, certificate, monkeypatch):
        old = rulebook.load("no-sweep", "1").requirement("dropper_spacing")
        book = move_on(
            monkeypatch,
            timezone.localdate(),
            drop=("legs_equal",),
            limits={old.key: old.limit / 2},
        )
        known = {
            "no-sweep_dropper_spacing": book.requirement(old.key).allowed_text,
            "no-sweep_legs_equal": NO_RULE,
        }
        for answer, said in (
            ({}, "Choose the rule as it is now."),
            (known | {"no-sweep_dropper_spacing": old.allowed_text}, "That was the old rule."),
        ):
            page = as_user.post(address("changes", certificate), answer)
            assert page.status_code == 422
            assert said in page.content.decode()
        assert not Refresher.objects.exists()
        for _ in range(2):
            page = as_user.post(address("changes", certificate), known)
        refresher = Refresher.objects.get()
        assert refresher.rulebooks == {"no-sweep": "2"}
        assert refresher.answers == known
        readings = reverse("recall:set", args=[refresher.set_id])
        assert page["Location"] == readings
        assert readings in as_user.get(address("changes", certificate)).text
        # How they are answered is tried elsewhere; lessons that name the dropped rule are not.
        ReadingSet.objects.update(finished=timezone.now())
        assert certificates.standing(Certificate.objects.get()).state == certificates.VALID

    def test_nothing_to_go_through(self, as_user, certificate):
        assert "Nothing." in as_user.get(address("changes", certificate)).content.decode()


class TestStaff:
    def test_the_list_of_all(self, as_staff, as_user, certificate):
        assert certificate.holder_name in as_staff.get("/certificates/issued/").content.decode()
        assert as_user.get("/certificates/issued/").status_code == 403

    def test_taking_back_waits_for_a_second_person(self, as_staff, staff, certificate):
        as_staff.post(address("revoke", certificate), {"reason": "The key was wrong."})
        proposal = RevocationProposal.objects.get()
        assert (proposal.by, proposal.reason) == (staff, "The key was wrong.")
        assert certificates.taken_back(Certificate.objects.get()) is None

    def test_taking_back_needs_a_reason(self, as_staff, certificate):
        page = as_staff.post(address("revoke", certificate), {"reason": " "})
        assert page.status_code == 422
        assert "Enter the reason." in page.content.decode()
        assert not Revocation.objects.exists()

    def test_others_may_not_take_back(self, as_user, as_officer, certificate):
        for other in (as_user, as_officer):
            response = other.post(address("revoke", certificate), {"reason": "Spite."})
            assert response.status_code == 403
        assert User.objects.count() == 2
        assert not Revocation.objects.exists()
