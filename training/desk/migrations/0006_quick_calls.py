"""Indexes by which whom to call is found among many."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("desk", "0005_calls")]

    operations = [
        migrations.AddIndex(
            model_name="persontally",
            index=models.Index(fields=["lessons_done"], name="tally_lessons_done"),
        ),
        migrations.AddIndex(
            model_name="personruletally",
            index=models.Index(fields=["user", "-missed", "rule"], name="tally_most_missed"),
        ),
    ]
