"""What an exam turned in says of what its person remembers by rule."""

from collections import defaultdict

from rigs.rules import rulebook
from training.recall import memory

from .models import Paper


def _asked(paper):
    """Yield what the person of ``paper`` was Asked, each rule once however often it came."""
    by_book = defaultdict(dict)
    for task in paper.tasks.all():
        book = rulebook.load(task.rulebook_name, task.rulebook_version)
        answers = by_book[book.name]
        for key, right in memory.answers_in(task.findings or (), book).items():
            answers[key] = answers.get(key, True) and right
    for name, answers in sorted(by_book.items()):
        yield memory.Asked(paper.user_id, paper.handed_in, name, answers, paper.pk)


def note(paper):
    """Note the answers of ``paper``, turned in and graded, in the transaction that saves them."""
    for asked in _asked(paper):
        memory.take(asked)


@memory.source
def turned_in(pks):
    """Yield what people were Asked in exams."""
    papers = Paper.objects.filter(user__in=pks, handed_in__isnull=False)
    for paper in papers.prefetch_related("tasks").order_by("pk").iterator(chunk_size=50):
        yield from _asked(paper)
