"""What was predicted wrongly, noted as missed, so that it comes back."""

from training.recall import memory

from . import subject
from .comparing import compare
from .models import Prediction


def asked(prediction):
    """
    Return what ``prediction`` says its person was Asked: the rules that it missed.

    One that was right is not noted: people know their own net, and that is another thing
    than knowing the rule.
    """
    compared = compare(subject.of_prediction(prediction).findings, prediction.said)
    answers = {each.finding.key: False for each in compared.missed}
    return memory.Asked(
        prediction.user_id, prediction.made, prediction.rulebook_name, answers, prediction.pk
    )


@memory.source
def predicted(pks):
    """Yield what people missed on their nets."""
    rows = Prediction.objects.filter(user__in=pks).order_by("pk")
    for prediction in rows.iterator():
        yield asked(prediction)
