"""The marks of a scheme's papers and its judges' opinions, as ``measure`` and ``standard`` want."""

from collections import Counter, defaultdict
from typing import NamedTuple

from training.exercises import kinds

from . import measure, schemes, standard
from .models import Judgement, Paper, PaperTask

MOST_MISSES = 3


class Template(NamedTuple):
    """
    A place that every paper of a scheme fills with a task of its own numbers.

    ``number`` tells apart those that are otherwise alike, from 1.
    """

    kind: str
    difficulty: int
    rulebook: str
    focus: tuple[str, ...]
    number: int

    @property
    def title(self):
        """What kind of task it is."""
        return f"{title_of(self.kind)}, level {self.difficulty}, no. {self.number}"

    @property
    def about(self):
        """The rule set it is drawn from, and the rules that it turns on if any."""
        book = schemes.book_of(self.rulebook).title
        rules = ", ".join(schemes.title_of(key, [self.rulebook]) for key in self.focus)
        return f"{book}: {rules}" if rules else book


def title_of(kind):
    """Return the title of the kind called ``kind``, or ``kind`` itself if it is no more."""
    found = kinds.KINDS.get(kind)
    return found.title if found else kind


def first_sittings(scheme):
    """
    Return the first paper that each candidate handed in for ``scheme``, oldest first.

    Later sittings are of people who have seen such a paper before and failed it: with
    them in, one person would count several times.
    """
    found = {}
    papers = Paper.objects.filter(scheme=scheme, handed_in__isnull=False, out_of__gt=0)
    for paper in papers.order_by("handed_in", "pk"):
        found.setdefault(paper.user_id, paper)
    return list(found.values())


def pool_of(papers):
    """
    Return the Pool of ``papers``, an item for each Template that they fill.

    A template is worth the most marks that any of its tasks could give; where a task
    could give fewer, its marks are scaled up, so that its share stays what it was.

    Raises MeasureError without papers.
    """
    shares, worth = defaultdict(dict), {}
    for task, template in _placed(papers):
        shares[task.paper_id][template] = task.marks / task.out_of
        worth[template] = max(task.out_of, worth.get(template, 0))
    marks = [
        {template: share * worth[template] for template, share in row.items()}
        for row in shares.values()
    ]
    return measure.pool(marks, worth)


def _placed(papers):
    """Yield the marked tasks of ``papers``, each with the Template that it fills."""
    alike = Counter()
    tasks = PaperTask.objects.filter(paper__in=papers, out_of__gt=0).order_by("paper_id", "number")
    for task in tasks:
        place = (task.kind, task.difficulty, task.rulebook_name, tuple(task.focus))
        alike[task.paper_id, place] += 1
        yield task, Template(*place, alike[task.paper_id, place])


class Miss(NamedTuple):
    """A rule or other line of a task, and how many ``of`` so many answers had it wrong."""

    title: str
    count: int
    of: int


def misses(papers, most=MOST_MISSES):
    """
    Return the Misses of each Template that ``papers`` fill, at most so many, worst first.

    The tasks of a template offer other choices in every paper, so that it is by rules,
    not by choices, that wrong answers can be counted together.
    """
    wrong, answers = defaultdict(Counter), Counter()
    for task, template in _placed(papers):
        answers[template] += 1
        missed = {line["title"] for line in task.findings or () if not line["right"]}
        wrong[template].update(sorted(missed))
    return {
        template: [Miss(title, count, of) for title, count in wrong[template].most_common(most)]
        for template, of in answers.items()
    }


def judgements_of(scheme):
    """Return each judge's latest expected shares: judge (User) to SchemePart to share, 0 to 1."""
    found = defaultdict(dict)
    latest = Judgement.objects.filter(part__scheme=scheme).select_related("judge", "part")
    for judgement in latest.order_by("made", "pk"):
        found[judgement.judge][judgement.part] = judgement.share
    return dict(found)


def worth_of_parts(scheme):
    """
    Return what each SchemePart of ``scheme`` weighs in a paper.

    That is its number of tasks times the marks that one has given at most so far, on
    average; by the number of tasks alone until every part has been sat.
    """
    parts = list(scheme.parts.all())
    marks = defaultdict(list)
    tasks = PaperTask.objects.filter(paper__scheme=scheme, out_of__gt=0)
    for kind, difficulty, out_of in tasks.values_list("kind", "difficulty", "out_of"):
        marks[kind, difficulty].append(out_of)
    sat = [marks[part.kind, part.difficulty] for part in parts]
    if not all(sat):
        return {part: part.count for part in parts}
    return {part: part.count * sum(each) / len(each) for part, each in zip(parts, sat, strict=True)}


def judge(scheme, judge, shares):
    """
    Keep what ``judge`` (a User) expects: ``shares`` maps SchemeParts to shares, 0 to 1.

    A share that has not changed is not kept again. Returns the new Judgements.
    """
    before = judgements_of(scheme).get(judge, {})
    return Judgement.objects.bulk_create(
        Judgement(part=part, judge=judge, share=share)
        for part, share in shares.items()
        if before.get(part) != share
    )


def panel(scheme):
    """Return the Standard that the judges of ``scheme`` set; raises StandardError without any."""
    return standard.angoff(judgements_of(scheme), worth_of_parts(scheme))
