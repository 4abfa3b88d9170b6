"""What the page of a result says of how the exam was taken, asked about and corrected."""

from . import conditions, corrections, questions, wording
from .forms import AskForm, ProposalForm, RefusalForm


def about(request, exam, ask_form=None, proposal_form=None, refusal_form=None):
    """
    Return what the page of the result of ``exam`` takes, for its owner or for staff.

    The forms are those that were refused, to be shown again.
    """
    own, staff = exam.user == request.user, request.user.is_staff
    waiting = corrections.open_proposal(exam)
    noted = conditions.of(exam)
    hindrance = corrections.hindrance(waiting, request.user) if waiting else ""
    return {
        "conditions": noted,
        "taken": wording.taken(conditions.how_taken(exam)),
        "corrections": exam.corrections.select_related("by", "proposal__decided_by"),
        "questions": exam.questions.prefetch_related("proposals"),
        "may_not_ask": questions.hindrance(exam),
        "ask_until": questions.until(exam),
        "ask_form": (ask_form or AskForm()) if own else None,
        # Before a second person has decided, it is between the staff.
        "waiting": waiting if staff and not own else None,
        "may_not_decide": hindrance,
        "able": corrections.able(waiting) if hindrance and staff and not own else [],
        "refusal_form": refusal_form or RefusalForm(),
        "proposal_form": (proposal_form or ProposalForm(exam=exam))
        if staff and not own and not waiting
        else None,
    }
