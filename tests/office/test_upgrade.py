"""An upgrade begins with a backup, and says when the site has to be stopped for it."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from training.desk.models import PersonTally
from training.office.backup.file import Reader
from training.office.management.commands import upgrade
from training.office.models import Backup


class Closing:
    closes_the_site = True

    def __str__(self):
        return "people.9999_columns_gone"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


def run(folder, **options):
    out = StringIO()
    call_command("upgrade", folder, stdout=out, **options)
    return out.getvalue()


def test_it_backs_up_first_and_counts_the_sums_of_this_version(user, tmp_path):
    PersonTally.objects.filter(user=user).update(attempts=77)
    words = run(tmp_path)
    Reader(tmp_path / Backup.objects.get().name).check()
    assert "0 migrations were run." in words
    assert "counted again" in words
    assert PersonTally.objects.get(user=user).attempts == 0


def test_what_the_old_version_cannot_bear_is_asked_for(db, tmp_path, monkeypatch):
    monkeypatch.setattr(upgrade, "_waiting", lambda: [Closing()])
    with pytest.raises(CommandError, match="people.9999_columns_gone cannot run while"):
        run(tmp_path)
    assert not Backup.objects.exists()
    assert "1 migration was run." in run(tmp_path, closed=True)
    assert Backup.objects.exists()
