"""What became of each line of a draft, once its import is over or was stopped."""

from django.utils.translation import gettext as _

from ..models import ImportWrite
from .comparing import ADD, ASK, CHANGE, REFUSE, WAIT
from .outlook import kept, outcomes_of

State = ImportWrite.State


def settle(draft):
    """
    Put into the outcomes of ``draft`` what became of its lines; it is not saved.

    Of its rows those are left that somebody may still mend or have imported.
    """
    states = {line: (state, is_new) for line, state, is_new in _written(draft)}
    found = [_settled(each, *states.get(each.line, (None, None))) for each in outcomes_of(draft)]
    draft.outcomes = kept(found)
    left = {each.line for each in found if each.does in (REFUSE, ASK, WAIT)}
    draft.rows = [[line, cells] for line, cells in draft.rows if line in left]
    draft.sheets = []


def _written(draft):
    return draft.writes.values_list("line", "state", "is_new")


def _settled(outcome, state, is_new):
    if state == State.WRITTEN:
        return outcome._replace(does=ADD if is_new else CHANGE)
    if state == State.WAITING:
        return outcome._replace(does=WAIT)
    if state == State.LEFT:
        why = _("The vessel was changed, or its name or number was taken, since you looked.")
        return outcome._replace(does=REFUSE, changes=[], reasons=[why])
    return outcome
