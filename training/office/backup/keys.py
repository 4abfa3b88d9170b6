"""The keys and names that signatures and links rest on, and the file a site reads them from."""

import os

from django.conf import settings

from training.certification.open_badge import signing_key

NAMES = ("SECRET_KEY", "CERTIFICATE_KEY", "CERTIFICATE_OLD_KEYS", "SITE_ADDRESS", "OFFICE_NAME")
# What a shell and systemd would read as something else between double quotes.
_SPECIAL = '\\"$`'


def of_site():
    """Return the keys of this site as {name of the setting: text}."""
    key = signing_key()
    return {
        "SECRET_KEY": settings.SECRET_KEY,
        "CERTIFICATE_KEY": key.pem() if key else "",
        "CERTIFICATE_OLD_KEYS": ",".join(settings.CERTIFICATE_OLD_KEYS),
        "SITE_ADDRESS": settings.SITE_ADDRESS,
        "OFFICE_NAME": settings.OFFICE_NAME,
    }


def _quoted(text):
    return '"' + "".join("\\" + each if each in _SPECIAL else each for each in text) + '"'


def write(keys, path):
    """
    Write ``keys`` to the new file ``path`` for its owner's eyes alone; FileExistsError if it is
    there.

    A shell reads it by ``.``, systemd by ``EnvironmentFile``.
    """
    with open(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "w") as file:
        for name in NAMES:
            if keys.get(name):
                file.write(f"{name}={_quoted(keys[name])}\n")
