"""
Judges of a passing score: what each expects, given alone, and what they say after the others.

Nobody sees what others expect of a part before having judged every part. What others said is
shown from then on; that it was is kept (Seen), so that an answer given or changed later
is told apart. The panel's passing score is of the answers given alone: to hear the others
first pulls judges together, and makes them look surer than they are.
"""

from collections import defaultdict

from django.db import transaction

from rigs.statistics import standard

from .models import ExamTask, Judgement, Seen


def judgements_of(requirements, alone=True):
    """
    Return the expected shares that stand: judge (User) to RequirementsPart to share, 0 to 1.

    Of each the last one given ``alone``, before seeing the others; else the last of all.
    """
    found = defaultdict(dict)
    kept = Judgement.objects.filter(part__requirements=requirements)
    if alone:
        kept = kept.filter(after_seeing=False)
    for judgement in kept.select_related("judge", "part").order_by("made", "pk"):
        found[judgement.judge][judgement.part] = judgement.share
    return dict(found)


@transaction.atomic
def judge(requirements, judge, shares):
    """
    Keep what ``judge`` (a User) expects: ``shares`` maps RequirementsParts to shares, 0 to 1.

    A share that has not changed is not kept again. Returns the new Judgements.
    """
    before = judgements_of(requirements, alone=False).get(judge, {})
    seen = set(Seen.objects.filter(judge=judge, part__in=shares).values_list("part", flat=True))
    return Judgement.objects.bulk_create(
        Judgement(part=part, judge=judge, share=share, after_seeing=part.pk in seen)
        for part, share in shares.items()
        if before.get(part) != share
    )


def may_see(requirements, judge):
    """Return whether ``judge`` has judged every part, and so may see the others' answers."""
    mine = judgements_of(requirements).get(judge, {})
    parts = requirements.parts.all()
    return bool(parts) and all(part in mine for part in parts)


def show(requirements, judge):
    """Keep that ``judge`` is shown the others' answers, if there are any, and return whether."""
    others = judgements_of(requirements).keys() - {judge}
    if others:
        Seen.objects.bulk_create(
            (Seen(part=part, judge=judge) for part in requirements.parts.all()),
            ignore_conflicts=True,
        )
    return bool(others)


def panel(requirements, alone=True):
    """
    Return the Standard that the judges of ``requirements`` set; StandardError without any.

    ``alone`` as in ``judgements_of``.
    """
    return standard.angoff(judgements_of(requirements, alone), worth_of_parts(requirements))


def worth_of_parts(requirements):
    """
    Return what each RequirementsPart of ``requirements`` weighs in an exam.

    That is its number of tasks times the marks that one has given at most so far, on
    average; by the number of tasks alone until every part has been sat.
    """
    parts = list(requirements.parts.all())
    marks = defaultdict(list)
    tasks = ExamTask.objects.filter(exam__requirements=requirements, out_of__gt=0)
    for kind, difficulty, out_of in tasks.values_list("kind", "difficulty", "out_of"):
        marks[kind, difficulty].append(out_of)
    sat = [marks[part.kind, part.difficulty] for part in parts]
    if not all(sat):
        return {part: part.count for part in parts}
    return {part: part.count * sum(each) / len(each) for part, each in zip(parts, sat, strict=True)}
