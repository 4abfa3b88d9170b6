"""A call is about several reasons: each reason so far becomes the one row of its call."""

import django.db.models.deletion
from django.db import migrations, models


def fill(apps, schema_editor):
    notes = apps.get_model("desk", "CallNote").objects.order_by("pk")
    reasons = apps.get_model("desk", "CallReason")
    rows = notes.exclude(reason="").values_list("pk", "reason").iterator()
    reasons.objects.bulk_create(
        (reasons(call_id=pk, reason=reason) for pk, reason in rows), batch_size=500
    )


def empty(apps, schema_editor):
    """Give each call back the first of its reasons, blank if it had none."""
    notes = apps.get_model("desk", "CallNote").objects
    rows = apps.get_model("desk", "CallReason").objects.order_by("-pk")
    for pk, reason in rows.values_list("call", "reason").iterator():
        notes.filter(pk=pk).update(reason=reason)


class Migration(migrations.Migration):
    dependencies = [("desk", "0003_certified_until")]

    operations = [
        migrations.CreateModel(
            name="CallReason",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("reason", models.SlugField(max_length=20)),
                (
                    "call",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="about",
                        to="desk.callnote",
                    ),
                ),
            ],
            options={
                "indexes": [models.Index(fields=["reason", "call"], name="call_reason")],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("call", "reason"), name="one_reason_of_a_call"
                    )
                ],
            },
        ),
        # Taken back, the field is blank until its rows are filled in.
        migrations.AlterField(
            model_name="callnote",
            name="reason",
            field=models.SlugField(blank=True, default="", max_length=20),
        ),
        migrations.RunPython(fill, empty),
    ]
