"""
The keys that badges are signed with, and the forms in which the public half is published.

Ed25519 (RFC 8032). The public half is published twice: in a JSON Web Key set (RFC 7517
and 8037), for the signed-token form of a badge, and in a controlled identifier
document with a Multikey (W3C Controlled Identifiers 1.0), for the embedded proof.
"""

import hashlib
from base64 import urlsafe_b64decode, urlsafe_b64encode
from binascii import Error as BadBase64
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import rfc8785
from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from django.utils.translation import gettext as _

BASE58 = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz"
# The multicodec prefix of an Ed25519 public key.
ED25519_PREFIX = b"\xed\x01"
# Reading base 58 takes time with the square of its length; a signature has 89 characters.
LONGEST_BASE58 = 128


class BadgeError(ValueError):
    """A key, badge or signature that is not accepted; the message says why in plain words."""


def to_base64url(data):
    """Return ``data`` (bytes) in base64url without padding (RFC 7515, section 2)."""
    return urlsafe_b64encode(data).rstrip(b"=").decode()


def from_base64url(text):
    """
    Return the bytes of base64url ``text`` without padding.

    Raises BadgeError for any text but the one that ``to_base64url`` makes: most readers
    overlook stray characters and the spare bits of the last one.
    """
    try:
        data = urlsafe_b64decode(text + "=" * (-len(text) % 4))
    except (BadBase64, ValueError):
        data = None
    if data is None or to_base64url(data) != text:
        raise BadgeError(_("A part of the token is not proper base64url."))
    return data


def to_base58(data):
    """Return ``data`` (bytes) in base 58, marked as such by a leading z (W3C multibase)."""
    number, digits = int.from_bytes(data), ""
    while number:
        number, digit = divmod(number, 58)
        digits = BASE58[digit] + digits
    zeros = len(data) - len(data.lstrip(b"\0"))
    return "z" + BASE58[0] * zeros + digits


def from_base58(text):
    """
    Return the bytes of multibase base-58 ``text``.

    Raises BadgeError for text without the leading z, with a character that is no digit, or
    longer than any key or signature.
    """
    if not isinstance(text, str) or not text.startswith("z") or len(text) > LONGEST_BASE58:
        raise BadgeError(_("Not a base-58 value."))
    digits = text[1:]
    number = 0
    for digit in digits:
        place = BASE58.find(digit)
        if place < 0:
            raise BadgeError(_("Not a base-58 value."))
        number = number * 58 + place
    zeros = len(digits) - len(digits.lstrip(BASE58[0]))
    return bytes(zeros) + number.to_bytes((number.bit_length() + 7) // 8)


@dataclass(frozen=True, slots=True)
class PublicKey:
    """An Ed25519 public key: ``raw`` is its 32 bytes."""

    raw: bytes

    def __post_init__(self):
        if len(self.raw) != 32:
            raise BadgeError(_("An Ed25519 public key has 32 bytes."))

    @classmethod
    def from_jwk(cls, jwk):
        """Return the key of a JSON Web Key; raises BadgeError if it is of another kind."""
        if jwk.get("kty") != "OKP" or jwk.get("crv") != "Ed25519":
            raise BadgeError(_("Not an Ed25519 key."))
        return cls(from_base64url(jwk.get("x", "")))

    @classmethod
    def from_multibase(cls, text):
        """Return the key of a Multikey's ``publicKeyMultibase``; raises BadgeError likewise."""
        data = from_base58(text)
        if not data.startswith(ED25519_PREFIX):
            raise BadgeError(_("Not an Ed25519 key."))
        return cls(data.removeprefix(ED25519_PREFIX))

    @property
    def multibase(self):
        """The key as a Multikey's ``publicKeyMultibase``, which begins z6Mk."""
        return to_base58(ED25519_PREFIX + self.raw)

    @property
    def thumbprint(self):
        """The key's own name, made of the key itself (RFC 7638)."""
        jwk = {"crv": "Ed25519", "kty": "OKP", "x": to_base64url(self.raw)}
        return to_base64url(hashlib.sha256(rfc8785.dumps(jwk)).digest())

    def jwk(self, kid):
        """Return the key as a JSON Web Key named ``kid``."""
        return {
            "kty": "OKP",
            "crv": "Ed25519",
            "x": to_base64url(self.raw),
            "kid": kid,
            "use": "sig",
            "alg": "EdDSA",
        }

    def verifies(self, signature, message):
        """Return whether ``signature`` over ``message`` (both bytes) was made by this key."""
        try:
            Ed25519PublicKey.from_public_bytes(self.raw).verify(signature, message)
        except InvalidSignature:
            return False
        return True


class SigningKey:
    """An Ed25519 private key. It never shows itself but by ``pem``."""

    def __init__(self, private):
        self._private = private
        self.public = PublicKey(private.public_key().public_bytes_raw())

    @classmethod
    def generate(cls):
        """Return a new key from the system's source of chance."""
        return cls(Ed25519PrivateKey.generate())

    @classmethod
    def from_pem(cls, text, password=None):
        """
        Return the key in PEM ``text`` (PKCS 8), unlocked by ``password`` if it has one.

        Raises BadgeError for text that is no private key, a wrong or missing password,
        and a key of another kind.
        """
        try:
            secret = password.encode() if password else None
            private = load_pem_private_key(text.encode(), secret)
        except (ValueError, TypeError, UnsupportedAlgorithm):
            # The library's own words may quote the text: they must not reach a log.
            raise BadgeError(
                _("The signing key cannot be read: no PEM, or the password.")
            ) from None
        if not isinstance(private, Ed25519PrivateKey):
            raise BadgeError(_("The signing key is not an Ed25519 key."))
        return cls(private)

    def pem(self, password=None):
        """Return the key as PEM text (PKCS 8), locked by ``password`` if given."""
        lock = BestAvailableEncryption(password.encode()) if password else NoEncryption()
        return self._private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, lock).decode()

    def sign(self, message):
        """Return the 64-byte signature over ``message`` (bytes)."""
        return self._private.sign(message)


def key_set(keys: Mapping[str, PublicKey]):
    """
    Return the JSON Web Key set of ``keys``, a mapping of name (kid) to key.

    Open Badges wants the name to be an address at which the single key is found. Keys no
    longer used for signing stay in the set as long as badges signed with them run.
    """
    return {"keys": [key.jwk(kid) for kid, key in keys.items()]}


def method_name(controller, key):
    """Return the name of ``key`` in the document of ``controller`` (an address or a DID)."""
    return f"{controller}#{key.multibase}"


def controller_document(controller, keys: Iterable[PublicKey]):
    """
    Return the document that says which ``keys`` sign for ``controller``.

    ``controller`` is the address at which the document is published, or a DID that
    leads to it (did:web).
    """
    if controller.startswith("did:"):
        contexts = ["https://www.w3.org/ns/did/v1", "https://w3id.org/security/multikey/v1"]
    else:
        contexts = ["https://www.w3.org/ns/cid/v1"]
    methods = [
        {
            "id": method_name(controller, key),
            "type": "Multikey",
            "controller": controller,
            "publicKeyMultibase": key.multibase,
        }
        for key in keys
    ]
    return {
        "@context": contexts,
        "id": controller,
        "verificationMethod": methods,
        "assertionMethod": [method["id"] for method in methods],
    }
