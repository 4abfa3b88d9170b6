"""Whether each thing that the site said was saved is there, once, and whether the sums agree."""

from collections import Counter


def differences(ledger, crowd):
    """
    Return sentences on what parts between the ``ledger`` and the database.

    ``crowd`` are the pks of those who came.
    """
    from training.certification.models import ExamTask
    from training.checks.models import CheckSheet
    from training.desk import sums
    from training.exercises.models import Attempt

    said = Counter(pk for pk, __ in ledger["attempts"])
    rows = Attempt.objects.filter(assignment__user__in=crowd)
    there = Counter(rows.values_list("assignment__user", flat=True))
    lost = {number for __, number in ledger["attempts"]} - set(rows.values_list("pk", flat=True))
    if lost:
        yield f"{len(lost)} answers that were said to be saved are not there."
    for pk, many in (there - said).items():
        yield f"Person {pk} has {many} answers more than were handed in."
    for pair in ledger["doubles"]:
        yield f"Two taps made two answers: {pair}."
    for place, revision in ledger["answers"].items():
        exam, number = place.split("/")
        found = ExamTask.objects.get(exam=exam, number=number)
        if found.revision != revision or found.answer is None:
            yield f"Exam {place} has answer {found.revision}, not {revision}."
    for key, (saves, done) in ledger["sheets"].items():
        found = CheckSheet.objects.get(key=key)
        if found.notes != f"Save {saves}" or done != (found.finished is not None):
            yield f"Sheet {key} has “{found.notes}”, and {saves} saves were taken in."
    yield from sums.differences()
