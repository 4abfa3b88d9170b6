"""Until when a person is certified, asked of the day; earning a certificate is the step kept."""

from django.db import migrations, models


def _outcomes(apps):
    """Return {exam: what its latest correction says}."""
    corrections = apps.get_model("certification", "Correction").objects.order_by("made", "pk")
    return dict(corrections.values_list("exam", "passed"))


def fill(apps, schema_editor):
    tallies = apps.get_model("desk", "PersonTally").objects
    certificates = apps.get_model("certification", "Certificate").objects
    exams = apps.get_model("certification", "Exam").objects
    outcomes = _outcomes(apps)
    earned, until = set(), {}
    rows = certificates.values_list("exam__user", "exam", "exam__passed", "expires", "revocation")
    for person, exam, passed, expires, revocation in rows.iterator():
        if outcomes.get(exam, passed):
            earned.add(person)
        if revocation is None and outcomes.get(exam) is not False:
            until[person] = max(expires, until.get(person, expires))
    passes = {
        person
        for person, exam, passed in exams.values_list("user", "pk", "passed").iterator()
        if outcomes.get(exam, passed)
    }
    for person in tallies.filter(step="certified").values_list("pk", flat=True).iterator():
        step = "earned" if person in earned else "exam-passed" if person in passes else "exam-begun"
        tallies.filter(pk=person).update(step=step, certified_until=until.get(person))


def empty(apps, schema_editor):
    apps.get_model("desk", "PersonTally").objects.filter(step="earned").update(step="certified")


class Migration(migrations.Migration):
    dependencies = [("desk", "0002_initial"), ("certification", "0002_initial")]

    operations = [
        migrations.AddField(
            model_name="persontally",
            name="certified_until",
            field=models.DateTimeField(blank=True, db_index=True, null=True),
        ),
        migrations.RunPython(fill, empty),
    ]
