"""What waits for the staff."""

from training.people.reach import those_of_people_within

from ..models import Proposal, ResultQuestion


def for_staff(user):
    """Return how many questions and proposals wait for ``user``, by what they are."""
    open_ones = {
        "questions": ResultQuestion.objects.filter(answered=None),
        "proposals": Proposal.objects.filter(decided=None).exclude(by=user),
    }
    return {
        what: those_of_people_within(found, user, "exam__user").exclude(exam__user=user).count()
        for what, found in open_ones.items()
    }
