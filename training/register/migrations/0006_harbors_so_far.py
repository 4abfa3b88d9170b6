from collections import Counter

from django.db import migrations


def plain(text):
    """As harbors.plain was when this was written."""
    kept = ''.join(c if c.isalnum() else ' ' for c in text.replace("'", '').replace('’', ''))
    return ' '.join(kept.casefold().split())


def tell(apps, schema_editor):
    """Make a harbor of each name there is: of those alike, the one that most vessels have."""
    Harbor = apps.get_model('register', 'Harbor')
    HarborSpelling = apps.get_model('register', 'HarborSpelling')
    Vessel = apps.get_model('register', 'Vessel')
    names = [
        name
        for name, __ in Counter(Vessel.objects.values_list('harbor', flat=True)).most_common()
    ]
    for model in ('Group', 'Reach'):
        names += apps.get_model('people', model).objects.values_list('harbor', flat=True)
    seen = set()
    for name in names:
        if plain(name) and plain(name) not in seen:
            seen.add(plain(name))
            harbor = Harbor.objects.create(name=name)
            HarborSpelling.objects.create(harbor=harbor, text=name, plain=plain(name))


def without_removed(apps, schema_editor):
    """Before vessels could be removed no two of a name or number could be there."""
    for vessel in apps.get_model('register', 'Vessel').objects.exclude(removed=None):
        vessel.name = f'{vessel.name[:70]} (removed, {vessel.pk})'
        vessel.registration = ''
        vessel.save()


class Migration(migrations.Migration):

    dependencies = [
        ('register', '0005_removed_vessels_and_harbors'),
        ('people', '0002_contact'),
    ]

    operations = [
        migrations.RunPython(tell, without_removed),
    ]
