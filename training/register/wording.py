"""The words for the stages: those they come with, or what staff call them instead."""

from django.db import transaction

from .models import StageWording
from .stages import MEANS, Stage


def stage_words():
    """Return what each stage is called, a dict of Stage to words in their order; one query."""
    renamed = dict(StageWording.objects.values_list("stage", "words"))
    return {stage: renamed.get(stage.value, stage.label) for stage in Stage}


def meanings(words):
    """Return what each stage says beside its ``words``, a dict of them by Stage."""
    return [(words[stage], MEANS[stage]) for stage in Stage]


@transaction.atomic
def rename(words):
    """Call the stages by ``words``, a dict by Stage; blank stands for the word it came with."""
    for stage, text in words.items():
        if text and text != Stage(stage).label:
            StageWording.objects.update_or_create(stage=stage, defaults={"words": text})
        else:
            StageWording.objects.filter(stage=stage).delete()
