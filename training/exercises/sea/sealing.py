"""
What is told of an answer at sea: rendered beforehand, and sealed until the answer is in.

It is sealed so that nobody sees it by opening the page's source. Who wants to can open it before
they answered, for all that is needed lies on their own phone. It is practice: it earns no
certificate.
"""

import base64
import gzip
import json
import secrets

from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from django.template.loader import render_to_string
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext as _

from rigs.words import units
from training.exercises import handing
from training.exercises.kinds.base import BadAnswer

_SALT = "training.exercises.sea"
_NONCE = 12  # bytes, as AES-GCM takes them
_KEY = 32
INFO = b"feedback on a task"


def secret(assignment):
    """Return the secret of one task, the same each time: the seal's key is made from it."""
    made = salted_hmac(_SALT, str(assignment.pk), algorithm="sha256").digest()
    return base64.b64encode(made).decode()


def told(assignment):
    """
    Return what the script of a task's page needs: how an answer is read, and the sealed feedback.

    None if the kind tells nothing beforehand. What is ``sealed`` is JSON, packed by gzip, under
    AES-GCM with a key by HKDF from ``secret``.
    """
    kind, task = handing.kind_of(assignment), handing.task_of(assignment)
    foretold = kind.foretold(task)
    if foretold is None:
        return None
    return {
        "entered": foretold.entered,
        "unread": _unread(kind, task) | foretold.unread,
        "lengths": lengths(),
        "sealed": seal(plain(foretold), secret(assignment)),
    }


def lengths():
    """Return what a script needs to read lengths as the site does."""
    return {
        "units": units.exact_lengths(),
        "unit_names": units.length_names(),
        **units.reading_rules(),
    }


def seal(values, secret):
    """Return plain ``values`` sealed, as text."""
    # The time of day would make another text of the same.
    packed = gzip.compress(json.dumps(values, separators=(",", ":")).encode(), mtime=0)
    nonce = secrets.token_bytes(_NONCE)
    key = HKDF(SHA256(), _KEY, None, INFO).derive(base64.b64decode(secret))
    return base64.b64encode(nonce + AESGCM(key).encrypt(nonce, packed, None)).decode()


def plain(foretold):
    """Return a Foretold as plain values for a script, its pieces rendered as the site does."""
    return {
        "parts": [
            {"read": part.read, "pieces": {key: _piece(each) for key, each in part.pieces.items()}}
            for part in foretold.parts
        ],
        "pictures": [
            render_to_string("exercises/picture.html", {"picture": each})
            for each in foretold.draw()
        ],
        "more": foretold.more,
    }


def _piece(piece):
    return {
        "lines": [
            {
                "key": line.key,
                "right": line.right,
                "marks": line.marks,
                "out_of": line.out_of,
                "html": render_to_string("exercises/line.html", {"line": line.as_record()}),
            }
            for line in piece.lines
        ],
        "remarks": list(piece.remarks),
        "passed": piece.passed,
        "counts": list(piece.counts),
        "table": render_to_string(piece.table_by, {"rows": piece.table}) if piece.table else "",
    }


def _unread(kind, task):
    """Return what is to be entered in each field that may not stay empty, as the site says it."""
    found = {"": _("This could not be read. Write it like 3 ft 6 in.")}
    try:
        kind.read(task, {})
    except BadAnswer as error:
        found |= {name: str(words[0]) for name, words in error.args[0].items()}
    return found
