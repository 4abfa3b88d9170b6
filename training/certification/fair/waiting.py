"""What waits for the staff."""

from training.people import sight

from ..models import Proposal, ResultQuestion


def for_staff(user):
    """Return how many questions and proposals wait for ``user``, by what they are."""
    open_ones = {
        "questions": ResultQuestion.objects.filter(answered=None),
        "proposals": Proposal.objects.filter(decided=None).exclude(by=user),
    }
    return {
        what: sight.rows(found, user).exclude(exam__user=user).count()
        for what, found in open_ones.items()
    }
