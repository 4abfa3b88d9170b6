"""
Where photos are kept: in a folder, or in an object store that several web machines share.

Read while the settings are, so it knows nothing of Django's. The store is asked for by
``PHOTO_BUCKET`` and speaks S3, as most do; its libraries are in ``training/photos.txt``.
"""

FOLDER = {"BACKEND": "django.core.files.storage.FileSystemStorage"}
MISSING = "An object store needs libraries: pip install -r training/photos.txt"


def storage(env):
    """Return Django's description of where what people send is kept, as ``env`` says."""
    options = {
        "bucket_name": env.text("PHOTO_BUCKET"),
        "endpoint_url": env.text("PHOTO_STORE") or None,
        "region_name": env.text("PHOTO_REGION") or None,
        "access_key": env.text("PHOTO_USER"),
        "secret_key": env.secret("PHOTO_PASSWORD"),
    }
    if not options["bucket_name"]:
        return FOLDER
    return {
        "BACKEND": "storages.backends.s3.S3Storage",
        "OPTIONS": options
        | {
            "default_acl": None,
            # Two photos of one name are two photos.
            "file_overwrite": False,
            "client_config": env.read("PHOTO_BUCKET", _client, MISSING),
        },
    }


def _client():
    """Return how the store is spoken to: a page that hangs is worse than one that fails."""
    try:
        from botocore.config import Config
    except ImportError as error:
        raise ValueError from error
    return Config(
        signature_version="s3v4",
        connect_timeout=5,
        read_timeout=20,
        retries={"total_max_attempts": 3},
    )
