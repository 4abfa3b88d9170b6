"""Withdrawing a certificate takes two people, neither of them its holder."""

import pytest
from django.urls import reverse

from tests.certification.certificate_factory import make_exam
from tests.moments import BEFORE
from training.certification import certificates
from training.certification.fair import revoking
from training.certification.models import Certificate, Revocation, RevocationProposal
from training.home import waiting
from training.people import second as people
from training.people.models import AccountDeed, Reach, Role, User

pytestmark = pytest.mark.django_db
REASON = "Two hands were on one phone."


@pytest.fixture
def certificate(user):
    return certificates.issue(make_exam(user))


def act(client, certificate, name="revoke", **data):
    path = reverse(f"certificates:{name}", args=[certificate.code])
    return client.post(path, data, follow=True).content.decode()


def standing(certificate):
    return certificates.standing(Certificate.objects.get(pk=certificate.pk)).state


def test_it_counts_until_a_second_person_approves(as_staff, as_second, as_user, certificate):
    """As it was found: one person of the staff withdrew it alone, for good."""
    before = standing(certificate)
    for _ in range(2):
        act(as_staff, certificate, reason=REASON)
    proposal = RevocationProposal.objects.get()
    page = act(as_staff, certificate, "decide_revocation", approve="yes")
    assert "yourself" in page
    assert "These people can agree: " in page
    assert standing(certificate) == before
    assert REASON not in as_user.get(f"/certificates/{certificate.code}/").content.decode()
    assert REASON in as_second.get(reverse("certification:proposals")).content.decode()
    for _ in range(2):
        act(as_second, certificate, "decide_revocation", approve="yes")
    assert standing(certificate) == certificates.REVOKED
    assert Revocation.objects.get().by == proposal.by


def test_turned_down_it_stays_and_can_be_proposed_again(as_staff, as_second, certificate):
    act(as_staff, certificate, reason=REASON)
    assert "stays as it is" in act(as_second, certificate, "decide_revocation")
    assert not Revocation.objects.exists()
    act(as_staff, certificate, reason=REASON)
    assert RevocationProposal.objects.count() == 2


def test_who_proposed_it_can_take_it_back_and_nothing_more(as_staff, as_second, certificate):
    page = act(as_staff, certificate, reason=REASON)
    assert "Take the proposal back" in page
    page = as_second.get(f"/certificates/{certificate.code}/").content.decode()
    assert "Take the proposal back" not in page
    assert "stays as it is" in act(as_staff, certificate, "decide_revocation")
    assert RevocationProposal.objects.get().approved is False
    # Taken back is decided: nobody approves it any more.
    assert "decided before" in act(as_second, certificate, "decide_revocation", approve="yes")
    assert not Revocation.objects.exists()


def test_no_second_account_of_the_first_or_of_the_holder(staff, second, certificate, user):
    proposal = revoking.propose(certificate, REASON, staff)
    people.note(second, AccountDeed.What.MADE, staff)
    with pytest.raises(revoking.MayNotRevoke, match=staff.name):
        revoking.decide(proposal, second, True)
    third = User.objects.create_user(
        user.email.replace("@", "+b@"), name="T", role=Role.STAFF, whole_fleet=True, joined=BEFORE
    )
    with pytest.raises(revoking.MayNotRevoke, match="one mailbox"):
        revoking.decide(proposal, third, True)
    assert not Revocation.objects.exists()


@pytest.mark.parametrize("reason", ["", "n/a"])
def test_a_reason_says_something(as_staff, certificate, reason):
    act(as_staff, certificate, reason=reason)
    assert not RevocationProposal.objects.exists()


def test_it_waits_for_those_who_can_decide_alone(staff, second, certificate):
    revoking.propose(certificate, REASON, staff)
    (line,) = waiting.for_staff(second)
    assert line.words == "1 certificate is to be withdrawn. It waits for a second person."
    assert not waiting.for_staff(staff)


def test_not_out_of_reach(as_staff, as_second, staff, second, certificate):
    act(as_staff, certificate, reason=REASON)
    Reach.objects.create(user=second, harbor="Gannet Cove")
    path = reverse("certificates:decide_revocation", args=[certificate.code])
    assert as_second.post(path, {"approve": "yes"}).status_code == 404
    assert not Revocation.objects.exists()
