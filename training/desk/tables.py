"""The staff's tables as rows for a spreadsheet."""

import json

from rigs.words.say import gettext_lazy
from training.certification.holders import WORDS

from .records import entry

TRAINEES = (
    "name",
    "email",
    "role",
    "groups",
    "joined",
    gettext_lazy("lessons complete"),
    gettext_lazy("lessons in all"),
    "attempts",
    gettext_lazy("attempts passed"),
    "certificate",
    gettext_lazy("counts or counted until"),
    gettext_lazy("last active"),
    gettext_lazy("demo data"),
)
ATTEMPTS = (
    gettext_lazy("turned in"),
    "exercise",
    "difficulty",
    "seed",
    gettext_lazy("rule set"),
    "version",
    "points",
    gettext_lazy("out of"),
    "passed",
    gettext_lazy("rules missed"),
    "answer",
    gettext_lazy("answered without signal, by the phone's clock"),
)


def trainees(rows):
    """Yield what stands under TRAINEES for each ``training.desk.trainees.TraineeRow``."""
    for row in rows:
        yield (
            row.person.name,
            row.person.email,
            row.person.get_role_display(),
            "; ".join(group.name for group in row.groups),
            row.person.joined,
            row.tally.lessons_done,
            row.lessons,
            row.tally.attempts,
            row.tally.passed,
            WORDS[row.certificate.state],
            row.certificate.day,
            row.tally.last,
            row.is_demo,
        )


def attempts(handed_in):
    """Yield what stands under ATTEMPTS for each of the attempts ``handed_in``."""
    for attempt in handed_in:
        assignment = attempt.assignment
        told = entry(attempt)
        yield (
            attempt.handed_in,
            told.title,
            assignment.difficulty,
            assignment.seed,
            assignment.rulebook_name,
            assignment.rulebook_version,
            attempt.marks,
            attempt.out_of,
            attempt.passed,
            "; ".join(requirement.title for requirement in told.missed),
            json.dumps(attempt.answer, ensure_ascii=False),
            attempt.noted,
        )
