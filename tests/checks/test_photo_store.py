"""Photos in an object store, as where several web machines share no disk."""

import uuid
from io import BytesIO

import boto3
import pytest
from django.core.files.storage import default_storage
from django.urls import reverse
from moto import mock_aws
from PIL import Image

from tests.checks.conftest import make_check
from tests.checks.test_sending import picture
from training.checks.models import CheckPhoto
from training.deck import photo_store
from training.deck.environment import Environment, WrongSettings

pytestmark = pytest.mark.django_db

ASKED = {
    "PHOTO_BUCKET": "photos",
    "PHOTO_REGION": "us-east-1",
    "PHOTO_USER": "tern",
    "PHOTO_PASSWORD": "tern over the sound",
}


@pytest.fixture
def bucket(settings):
    """A bucket in a store that answers in this process alone, and the site keeping photos there."""
    with mock_aws():
        found = boto3.resource("s3", region_name="us-east-1").Bucket("photos")
        found.create()
        place = photo_store.storage(Environment(ASKED))
        settings.STORAGES = settings.STORAGES | {"default": place}
        yield found


def add(client, sheet, key):
    told = {"user": sheet.officer_id, "key": str(key), "photo": picture()}
    return client.post(reverse("checks:check_add_photo", args=[sheet.key]), told)


def test_a_photo_goes_to_the_store_and_is_seen_by_those_who_may(
    as_officer, officer, as_user, bucket
):
    key = uuid.uuid4()
    assert add(as_officer, make_check(officer, photo_keys=[str(key)]), key).status_code == 204
    (kept,) = bucket.objects.all()
    assert kept.key == CheckPhoto.objects.get().image.name
    page = reverse("checks:check_photo", args=[key])
    seen = Image.open(BytesIO(b"".join(as_officer.get(page).streaming_content)))
    assert seen.size == (60, 40)
    assert as_user.get(page).status_code in (403, 404)
    # The store itself shows it to nobody: no right is given out, and an address has a signature.
    grants = kept.Acl().grants
    assert [each["Permission"] for each in grants] == ["FULL_CONTROL"]
    assert "X-Amz-Signature=" in default_storage.url(kept.key)


def test_a_photo_that_the_store_did_not_take_is_not_said_to_be_saved(as_officer, officer, bucket):
    bucket.delete()
    key = uuid.uuid4()
    sheet = make_check(officer, photo_keys=[str(key)])
    as_officer.raise_request_exception = False
    assert add(as_officer, sheet, key).status_code == 500
    assert not CheckPhoto.objects.exists()
    assert sheet.photos_to_come == 1


def test_two_photos_of_one_name_are_two(bucket):
    names = {default_storage.save("checks/a.jpg", BytesIO(b"a")) for _ in range(2)}
    assert len(names) == len(list(bucket.objects.all())) == 2


def test_without_a_bucket_photos_are_files():
    env = Environment({})
    assert photo_store.storage(env) == photo_store.FOLDER
    env.stop_if_wrong()


def test_a_store_without_its_libraries_says_what_to_install(monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "botocore.config", None)
    env = Environment(ASKED)
    photo_store.storage(env)
    with pytest.raises(WrongSettings, match=r"training/photos\.txt"):
        env.stop_if_wrong()
