"""Share right by kind and level, for each type of person."""

from tests.benchmarks.exams import tables
from tests.benchmarks.exams.trial import rng_for
from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.exercises.hands import answer, people
from training.exercises.kinds.base import EASIEST, HARDEST, BadAnswer

PRACTICED = 60  # tasks of the kind and level that a crib is made from


def run(count, on, slugs=()):
    """Print the share right in ``count`` tasks of each kind and level."""
    heads, rows = (), []
    for slug, kind in kinds.KINDS.items():
        if slugs and slug not in slugs:
            continue
        for level in range(EASIEST, HARDEST + 1):
            shares = _shares(kind, level, count, on)
            heads = tuple(shares)
            cells = [tables.percent(share, count) for share in shares.values()]
            rows.append((f"{slug} {level}", *cells))
    tables.show(f"Right answers in {count} questions, percent ± standard error", heads, rows)


def _shares(kind, level, count, on):
    rng = rng_for("by kind", kind.slug, level)
    tasks = []
    for _ in range(count):
        seed = rng.randrange(SEEDS)
        tasks.append(kind.generate(seed, kind.pick_rulebook(seed, level, on), level))
    books = {task.rulebook.name: task.rulebook for task in tasks}
    places = [people.Place(kind.slug, level, book) for book in books.values()]
    practiced = people.practice(places, level, PRACTICED)
    rules = people.rules_of(books.values())
    makers = {
        "random": people.at_random,
        "commonest": lambda number: people.commonest(number, practiced),
        "odd one": people.odd_one_out,
        "blind": people.blind,
    }
    for percent in people.SHARES:
        makers[f"{percent}%"] = lambda number, percent=percent: people.knower(
            number, percent, rules
        )
    return {
        name: sum(_right(kind, task, make(at), rng) for at, task in enumerate(tasks)) / count
        for name, make in makers.items()
    }


def _right(kind, task, mind, rng):
    try:
        return kind.grade(task, answer(kind.slug, task, mind, rng)).passed
    except BadAnswer:
        return False
