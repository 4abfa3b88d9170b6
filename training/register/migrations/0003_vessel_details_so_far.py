from django.db import migrations


def tell(apps, schema_editor):
    """Let what the register says today hold from the day a vessel was added: no more is known."""
    Vessel = apps.get_model('register', 'Vessel')
    VesselDetails = apps.get_model('register', 'VesselDetails')
    rows = Vessel.objects.filter(details=None).values_list('pk', 'added', 'harbor', 'length', 'is_fishing')
    names = ('vessel_id', 'since', 'harbor', 'length', 'is_fishing')
    VesselDetails.objects.bulk_create(
        (VesselDetails(**dict(zip(names, row))) for row in rows), batch_size=500
    )


class Migration(migrations.Migration):

    dependencies = [
        ('register', '0002_vessel_details'),
    ]

    operations = [
        migrations.RunPython(tell, migrations.RunPython.noop),
    ]
