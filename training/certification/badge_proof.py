"""
Signing a badge and checking the signature, in the two forms in which it is handed out.

The primary form is the signed token, the "JSON Web Token proof format" of Open Badges
3.0: the credential as the claims of a compact JSON Web Signature (RFC 7515), with the
registered claims that the standard asks for beside it. It signs the very bytes that
are handed out, so any generic verifier of such tokens can check it. The standard lets
an issuer use other algorithms than its RS256; this one is EdDSA (RFC 8037). (From
memory.)

The second form is the plain JSON with an embedded proof, W3C Data Integrity with the
suite eddsa-jcs-2022. The suite that Open Badges names itself, eddsa-rdfc-2022, would
need an RDF canonicaliser and the contexts' text to check a signature; this one needs
neither, at the price that not every wallet knows it. For those there is the token.
"""

import hashlib
from collections.abc import Mapping
from datetime import UTC, datetime

import rfc8785
from django.utils.translation import gettext as _

from .badge_keys import (
    BadgeError,
    PublicKey,
    from_base58,
    from_base64url,
    to_base58,
    to_base64url,
)
from .strict_json import read_strictly

ALGORITHM = "EdDSA"
SUITE = "eddsa-jcs-2022"
REGISTERED = ("exp", "iss", "jti", "nbf", "sub")


def timestamp(moment):
    """
    Return an aware datetime as text, in whole seconds of UTC: "2026-03-01T00:00:00Z".

    Raises ValueError for one without a time zone.
    """
    if moment.tzinfo is None:
        raise ValueError(_("A time on a badge needs its time zone."))
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def moment(text):
    """Return the aware datetime of a ``timestamp``; raises BadgeError for other text."""
    try:
        found = datetime.fromisoformat(text)
    except (TypeError, ValueError):
        found = None
    if found is None or found.tzinfo is None:
        raise BadgeError(_("A date on the badge cannot be read."))
    return found


def registered_claims(credential):
    """Return the token claims that Open Badges 3.0 derives from ``credential``."""
    issuer = credential["issuer"]
    claims = {
        "iss": issuer["id"] if isinstance(issuer, dict) else issuer,
        "jti": credential["id"],
        "nbf": int(moment(credential["validFrom"]).timestamp()),
    }
    if "validUntil" in credential:
        claims["exp"] = int(moment(credential["validUntil"]).timestamp())
    if "id" in credential["credentialSubject"]:
        claims["sub"] = credential["credentialSubject"]["id"]
    return claims


def sign_token(credential, key, kid):
    """Return ``credential`` as a token signed by ``key``, which is published as ``kid``."""
    header = {"alg": ALGORITHM, "kid": kid, "typ": "JWT"}
    claims = credential | registered_claims(credential)
    signed = ".".join(to_base64url(rfc8785.dumps(part)) for part in (header, claims))
    return f"{signed}.{to_base64url(key.sign(signed.encode()))}"


def read_token(token, keys: Mapping[str, PublicKey]):
    """
    Return the credential in ``token`` if it was signed by one of the issuer's ``keys``.

    ``keys`` maps names (kid) to keys; a key that a token brings along is never trusted.
    Dates are not judged here: an expired badge is still a true one.

    Raises BadgeError for anything but an untouched token.
    """
    parts = token.split(".")
    if len(parts) != 3:
        raise BadgeError(_("The token does not have three parts."))
    try:
        header, claims = (read_strictly(from_base64url(part)) for part in parts[:2])
    except (ValueError, RecursionError) as error:
        raise BadgeError(_("The token cannot be read.")) from error
    if not isinstance(header, dict) or not isinstance(claims, dict):
        raise BadgeError(_("The token cannot be read."))
    if header.get("alg") != ALGORITHM or "crit" in header:
        raise BadgeError(_("The token is signed in a way not known here."))
    key = _known(keys, header.get("kid"))
    if not key.verifies(from_base64url(parts[2]), f"{parts[0]}.{parts[1]}".encode()):
        raise BadgeError(_("The signature does not belong to this badge."))
    credential = {name: value for name, value in claims.items() if name not in REGISTERED}
    stated = {name: value for name, value in claims.items() if name in REGISTERED}
    try:
        expected = registered_claims(credential)
    except (KeyError, TypeError) as error:
        raise BadgeError(_("The token holds no badge.")) from error
    if stated != expected:
        raise BadgeError(_("The token's claims do not match the badge in it."))
    return credential


def sign_document(credential, key, method, created):
    """
    Return a copy of ``credential`` with an embedded proof by ``key``.

    ``method`` is the name of the key in its controller's document, ``created`` an aware
    datetime.
    """
    options = {
        "type": "DataIntegrityProof",
        "cryptosuite": SUITE,
        "created": timestamp(created),
        "verificationMethod": method,
        "proofPurpose": "assertionMethod",
        "@context": credential["@context"],
    }
    proof = options | {"proofValue": to_base58(key.sign(_digest(credential, options)))}
    return credential | {"proof": [proof]}


def read_document(text, keys: Mapping[str, PublicKey]):
    """
    Return the credential in the JSON ``text`` if its proof is by one of the issuer's ``keys``.

    ``keys`` maps names in the controller's document to keys. The proof is taken off.

    Raises BadgeError for anything but an untouched document with one proof of this suite.
    """
    try:
        document = read_strictly(text)
    except (ValueError, RecursionError) as error:
        raise BadgeError(_("The badge cannot be read.")) from error
    if not isinstance(document, dict):
        raise BadgeError(_("The badge cannot be read."))
    credential = {name: value for name, value in document.items() if name != "proof"}
    proofs = document.get("proof")
    proofs = proofs if isinstance(proofs, list) else [proofs]
    if len(proofs) != 1 or not isinstance(proofs[0], dict):
        raise BadgeError(_("The badge does not carry one proof."))
    options = {name: value for name, value in proofs[0].items() if name != "proofValue"}
    if (options.get("type"), options.get("cryptosuite")) != ("DataIntegrityProof", SUITE):
        raise BadgeError(_("The badge is signed in a way not known here."))
    if options.get("proofPurpose") != "assertionMethod":
        raise BadgeError(_("The badge's proof was made for another purpose."))
    if options.get("@context", credential.get("@context")) != credential.get("@context"):
        raise BadgeError(_("The proof's context is not the badge's."))
    key = _known(keys, options.get("verificationMethod"))
    signature = from_base58(proofs[0].get("proofValue"))
    try:
        digest = _digest(credential, options)
    except (ValueError, RecursionError) as error:
        raise BadgeError(_("The badge cannot be read.")) from error
    if len(signature) != 64 or not key.verifies(signature, digest):
        raise BadgeError(_("The signature does not belong to this badge."))
    return credential


def _digest(credential, options):
    # The suite signs the options' digest followed by the document's.
    return b"".join(hashlib.sha256(rfc8785.dumps(part)).digest() for part in (options, credential))


def _known(keys, name):
    key = keys.get(name) if isinstance(name, str) else None
    if key is None:
        raise BadgeError(_("The badge is signed with a key that this issuer does not publish."))
    return key
