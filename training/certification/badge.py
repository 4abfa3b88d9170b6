"""
A certificate as an Open Badges 3.0 credential (1EdTech), a W3C Verifiable Credential 2.0.

This file makes the unsigned credential; ``badge_proof`` signs and checks it, and
``badge_keys`` publishes the keys. Names and required parts are the standard's, from
memory.
"""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from hmac import compare_digest

from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy

from .badge_proof import moment, timestamp

CONTEXTS = (
    "https://www.w3.org/ns/credentials/v2",
    "https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json",
)
STATUS_TYPE = "1EdTechRevocationList"

VALID = "valid"
EXPIRED = "expired"
NOT_YET = gettext_lazy("not yet valid")


@dataclass(frozen=True, slots=True)
class Issuer:
    """Who certifies. ``id`` is the address (or DID) that leads to its public keys."""

    id: str
    name: str
    url: str
    email: str = ""

    def as_profile(self):
        """Return the standard's Profile."""
        profile = {"id": self.id, "type": [_("Profile")], "name": self.name, "url": self.url}
        return profile | ({"email": self.email} if self.email else {})


@dataclass(frozen=True, slots=True)
class Achievement:
    """
    What a certificate says its holder can do.

    ``criteria`` is the plain text of what had to be shown, ``criteria_url`` a page that
    tells more; ``version`` names the edition of the requirements and its rule set.
    """

    id: str
    name: str
    description: str
    criteria: str
    criteria_url: str = ""
    version: str = ""
    tags: Sequence[str] = ()

    def as_achievement(self):
        """Return the standard's Achievement."""
        found = {
            "id": self.id,
            "type": [_("Achievement")],
            "achievementType": _("Certification"),
            "name": self.name,
            "description": self.description,
            "criteria": {"narrative": self.criteria},
        }
        if self.criteria_url:
            found["criteria"]["id"] = self.criteria_url
        if self.version:
            found["version"] = self.version
        if self.tags:
            found["tag"] = list(self.tags)
        return found


def hashed_email(address, salt):
    """
    Return an identifier that shows to those who know ``address`` that it is meant.

    ``salt`` should be new for each badge, so that two badges of one holder cannot be
    told to be his. Anybody can still try addresses that he guesses.
    """
    return {
        "type": "IdentityObject",
        "hashed": True,
        "identityHash": _identity_hash(address, salt),
        "identityType": "emailAddress",
        "salt": salt,
    }


def plain_name(name):
    """Return an identifier that shows the holder's ``name`` openly: only if he agreed."""
    return {
        "type": "IdentityObject",
        "hashed": False,
        "identityHash": name,
        "identityType": "name",
    }


def told(name, narrative):
    """Return the standard's Evidence of what happened, in words under the heading ``name``."""
    return {"type": [_("Evidence")], "name": name, "narrative": narrative}


def _identity_hash(text, salt):
    return "sha256$" + hashlib.sha256((text.strip() + salt).encode()).hexdigest()


def is_held_by(credential, address):
    """Return whether ``credential`` names the e-mail ``address``, hashed, as its holder's."""
    return any(
        compare_digest(identifier["identityHash"], _identity_hash(address, identifier["salt"]))
        for identifier in credential["credentialSubject"].get("identifier", ())
        if identifier.get("identityType") == "emailAddress" and identifier.get("hashed")
    )


def make_credential(
    id,
    issuer: Issuer,
    achievement: Achievement,
    valid_from,
    valid_until=None,
    subject_id=None,
    identifiers: Iterable[Mapping] = (),
    status_url=None,
    evidence: Iterable[Mapping] = (),
):
    """
    Return the unsigned credential ``id`` (an address or urn:uuid) as a dict for JSON.

    The holder is named by ``subject_id`` (an address, DID or urn:uuid that says nothing
    of him), by ``identifiers`` (see ``hashed_email`` and ``plain_name``), or both.
    ``valid_from`` and ``valid_until`` are aware datetimes. ``status_url`` is where the
    list of revoked badges is published; ``evidence`` as ``told`` makes it.

    Raises ValueError without any name for the holder, for a time without a zone, and
    for an end that is not after the beginning.
    """
    subject = {"type": ["AchievementSubject"], "achievement": achievement.as_achievement()}
    if subject_id:
        subject["id"] = subject_id
    if identifiers := [dict(identifier) for identifier in identifiers]:
        subject["identifier"] = identifiers
    if len(subject) == 2:
        raise ValueError(_("A badge must name its holder in some way."))
    credential = {
        "@context": list(CONTEXTS),
        "id": id,
        "type": ["VerifiableCredential", "AchievementCredential"],
        "name": achievement.name,
        "issuer": issuer.as_profile(),
        "validFrom": timestamp(valid_from),
        "credentialSubject": subject,
    }
    if valid_until is not None:
        if valid_until <= valid_from:
            raise ValueError(_("A badge must end after it begins."))
        credential["validUntil"] = timestamp(valid_until)
    if status_url:
        credential["credentialStatus"] = {"id": status_url, "type": STATUS_TYPE}
    if evidence := [dict(each) for each in evidence]:
        credential["evidence"] = evidence
    return credential


def standing(credential, now):
    """Return VALID, EXPIRED or NOT_YET for ``credential`` at ``now`` (an aware datetime)."""
    if now < moment(credential["validFrom"]):
        return NOT_YET
    if "validUntil" in credential and now >= moment(credential["validUntil"]):
        return EXPIRED
    return VALID


def revocation_list(id, issuer_id, revoked: Mapping[str, str]):
    """
    Return the list published at ``id`` of badges that no longer count.

    ``revoked`` maps a credential's id to the reason, which anybody can read. The form is
    1EdTech's revocation list (from memory).
    """
    return {
        "id": id,
        "issuer": issuer_id,
        "revokedCredential": [
            {"id": credential, "revoked": True, "revocationReason": reason}
            for credential, reason in revoked.items()
        ],
    }
