"""What an exam turned in says of what its person remembers by rule."""

from collections import defaultdict

from rigs.rules import rulebook
from training.recall import memory

from .models import Exam


def _asked(exam):
    """Yield what the person of ``exam`` was Asked, each rule once however often it came."""
    by_book = defaultdict(dict)
    for task in exam.tasks.all():
        book = rulebook.load(task.rulebook_name, task.rulebook_version)
        answers = by_book[book.name]
        for key, right in memory.answers_in(task.findings or (), book).items():
            answers[key] = answers.get(key, True) and right
    for name, answers in sorted(by_book.items()):
        yield memory.Asked(exam.user_id, exam.handed_in, name, answers, exam.pk)


def note(exam):
    """Note the answers of ``exam``, turned in and graded, in the transaction that saves them."""
    for asked in _asked(exam):
        memory.take(asked)


@memory.source
def turned_in(pks):
    """Yield what people were Asked in exams."""
    exams = Exam.objects.filter(user__in=pks, handed_in__isnull=False)
    for exam in exams.prefetch_related("tasks").order_by("pk").iterator(chunk_size=50):
        yield from _asked(exam)
