"""What waits for the staff."""

from training.people import second, sight

from ..models import ResultQuestion
from . import corrections, revoking


def for_staff(user, beside=None):
    """
    Return how many questions, corrections and withdrawals wait for ``user``, by what they are.

    ``beside`` is the Beside of ``user``, where it is at hand.
    """
    beside = beside or second.Beside(user)
    questions = ResultQuestion.objects.filter(answered=None).exclude(exam__user=user)
    proposals = sight.rows(corrections.to_decide(), user)
    can = [each for each in proposals if not corrections.hindrance(each, user, beside)]
    withdrawals = sight.rows(revoking.to_decide(), user)
    return {
        "questions": sight.rows(questions, user).count(),
        "proposals": len(can),
        "withdrawals": sum(not revoking.hindrance(each, beside) for each in withdrawals),
    }
