"""How a call went, when to call again, that it was undone; calls given to somebody."""

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

SOMEBODY = {"null": True, "on_delete": django.db.models.deletion.SET_NULL, "related_name": "+"}
ONE = models.Q(
    models.Q(("person__isnull", False), ("vessel", None)),
    models.Q(("person", None), ("vessel__isnull", False)),
    _connector="OR",
)


class Migration(migrations.Migration):
    dependencies = [
        ("desk", "0004_call_reasons"),
        ("register", "0001_initial"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.RemoveIndex(model_name="callnote", name="call_reason_made"),
        migrations.RemoveField(model_name="callnote", name="reason"),
        migrations.AddField(
            model_name="callnote",
            name="outcome",
            field=models.CharField(
                blank=True,
                choices=[("", "not said"), ("spoke", "we spoke"), ("no-answer", "no answer")],
                default="",
                max_length=10,
            ),
        ),
        migrations.AddField(
            model_name="callnote",
            name="again",
            field=models.DateField(
                blank=True, db_index=True, null=True, verbose_name="call again on"
            ),
        ),
        migrations.AddField(
            model_name="callnote",
            name="undone",
            field=models.DateTimeField(blank=True, editable=False, null=True),
        ),
        migrations.AddField(
            model_name="callnote",
            name="undone_by",
            field=models.ForeignKey(editable=False, to=settings.AUTH_USER_MODEL, **SOMEBODY),
        ),
        migrations.AlterField(
            model_name="callnote",
            name="made",
            field=models.DateTimeField(
                db_index=True, default=django.utils.timezone.now, editable=False
            ),
        ),
        migrations.CreateModel(
            name="CallGiven",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.UUIDField(editable=False, unique=True)),
                ("made", models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                (
                    "ended",
                    models.DateTimeField(blank=True, db_index=True, editable=False, null=True),
                ),
                ("by", models.ForeignKey(to=settings.AUTH_USER_MODEL, **SOMEBODY)),
                ("done", models.ForeignKey(editable=False, to="desk.callnote", **SOMEBODY)),
                (
                    "person",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="calls_given",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "to",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "vessel",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="calls_given",
                        to="register.vessel",
                    ),
                ),
            ],
            options={
                "ordering": ["-made", "-pk"],
                "constraints": [models.CheckConstraint(condition=ONE, name="call_given_of_one")],
            },
        ),
    ]
