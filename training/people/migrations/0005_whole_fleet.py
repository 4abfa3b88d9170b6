from django.db import migrations, models
from django.db.models import Q


def say_yes(apps, schema_editor):
    """Whoever was held to no harbor until now saw the whole fleet, and goes on doing so."""
    people = apps.get_model("people", "User").objects
    staff = people.filter(Q(role="staff") | Q(is_superuser=True))
    staff.filter(reaches=None).update(whole_fleet=True)


class Migration(migrations.Migration):

    dependencies = [
        ("people", "0004_sign_up_choice"),
    ]

    operations = [
        migrations.AddField(
            model_name="user",
            name="whole_fleet",
            field=models.BooleanField(
                db_default=False, default=False, verbose_name="looks after the whole fleet"
            ),
        ),
        migrations.RunPython(say_yes, migrations.RunPython.noop),
    ]
