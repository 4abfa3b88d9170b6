import django.db.models.deletion
import django.utils.timezone
import training.deck.codes
from django.conf import settings
from django.db import migrations, models


def give_codes(apps, schema_editor):
    """Give each session that was planned before a code of its own."""
    Session = apps.get_model('people', 'Session')
    for pk in Session.objects.values_list('pk', flat=True):
        Session.objects.filter(pk=pk).update(code=training.deck.codes.new_code())


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0002_contact'),
    ]

    operations = [
        migrations.AddField(
            model_name='session',
            name='others',
            field=models.PositiveSmallIntegerField(blank=True, editable=False, null=True),
        ),
        migrations.AddField(
            model_name='session',
            name='code',
            field=models.CharField(editable=False, max_length=40, null=True),
        ),
        migrations.RunPython(give_codes, migrations.RunPython.noop),
        migrations.AlterField(
            model_name='session',
            name='code',
            field=models.CharField(default=training.deck.codes.new_code, editable=False, max_length=40, unique=True),
        ),
        migrations.CreateModel(
            name='Attendance',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('said_by', models.CharField(choices=[('self', 'on their own phone'), ('staff', 'by the staff')], max_length=10)),
                ('noted', models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                ('noted_by', models.ForeignKey(editable=False, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('session', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='attendances', to='people.session')),
                ('user', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='attendances', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-noted', '-pk'],
                'constraints': [models.UniqueConstraint(fields=('session', 'user'), name='one_attendance_each')],
            },
        ),
    ]
