"""
The certificates of this site as Open Badges 3.0, and what the site publishes to check them.

``badge`` has the standard's forms; here they are filled in from a Certificate. Every
badge is called by the address of its verify page, the site by that of its issuer page.
"""

import os
from functools import lru_cache
from urllib.parse import urlsplit

from django.conf import settings
from django.urls import reverse
from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy

from .badge import (
    Achievement,
    Issuer,
    hashed_email,
    make_credential,
    plain_name,
    revocation_list,
    told,
)
from .badge_keys import (
    BadgeError,
    PublicKey,
    SigningKey,
    controller_document,
    key_set,
    method_name,
)
from .badge_proof import sign_document, sign_token
from .certificate_print import NATURE
from .certificates import all_taken_back
from .fair import conditions, recheck, wording

TOKEN_TYPE = "application/vc+jwt"
DOCUMENT_TYPE = "application/vc+ld+json"
# What anybody can read; why exactly is between the holder and the staff.
TAKEN_BACK = gettext_lazy("Taken back by the issuer.")
# A badge is in its holder's hands; a signature can still come, or be changed, after it is made.
LATEST = gettext_lazy("The page that checks this certificate has what is recorded now.")


def site_address(request):
    """Return where the site is found, without a slash at the end."""
    return settings.SITE_ADDRESS or request.build_absolute_uri("/").rstrip("/")


@lru_cache(maxsize=1)
def _from_pem(text):
    return SigningKey.from_pem(text)


def _demo_key(path):
    """Return the demo's own key as PEM text, made once and kept at ``path``."""
    path.parent.mkdir(exist_ok=True)
    try:
        # Opened so that of two processes starting at once only one makes the key.
        with open(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "w") as file:
            file.write(SigningKey.generate().pem())
    except FileExistsError:
        pass
    return path.read_text()


def signing_key():
    """
    Return the SigningKey of the site, or None if it has none.

    Raises BadgeError if what is set cannot be read as one.
    """
    text = settings.CERTIFICATE_KEY
    if not text and settings.CERTIFICATE_KEY_FILE:
        text = _demo_key(settings.CERTIFICATE_KEY_FILE)
    return _from_pem(text) if text else None


def public_keys():
    """Return the PublicKeys that check the site's badges, the one in use first."""
    key = signing_key()
    old = [PublicKey.from_multibase(text) for text in settings.CERTIFICATE_OLD_KEYS]
    return ([key.public] if key else []) + old


def office(address):
    """Return who issues the certificates of the site at ``address``: the office, or its host."""
    return settings.OFFICE_NAME or urlsplit(address).netloc


def issuer_id(address):
    """Return what the site at ``address`` is called in its badges."""
    return address + reverse("certificates:issuer")


def key_id(address, key):
    """Return the address at which the site at ``address`` publishes the PublicKey ``key``."""
    return address + reverse("certificates:key", args=[key.thumbprint])


def issuer(address):
    """Return the Issuer that the site at ``address`` is."""
    return Issuer(issuer_id(address), office(address), f"{address}/")


def issuer_page(address):
    """Return what is published at the issuer's address: who it is, and its keys."""
    return issuer(address).as_profile() | controller_document(issuer_id(address), public_keys())


def published_keys(address):
    """Return the JSON Web Key set of the site at ``address``."""
    return key_set({key_id(address, key): key for key in public_keys()})


def credential_id(address, certificate):
    """Return what ``certificate`` is called: the address of its verify page."""
    return address + reverse("certificates:verify_code", args=[certificate.code])


def revoked_badges(address):
    """Return the list of the badges that the site at ``address`` has taken back."""
    return revocation_list(
        address + reverse("certificates:revoked"),
        issuer_id(address),
        {credential_id(address, each): TAKEN_BACK for each in all_taken_back().order_by("pk")},
    )


def credential(certificate, address):
    """
    Return ``certificate`` as an unsigned credential, a dict for JSON.

    The holder is named by his e-mail address, hashed, and by name only if he agreed to
    have it shown. The same certificate gives the same credential, as long as neither his
    address nor his mind about that changes, nor what is recorded of the exam.
    """
    requirements = certificate.exam.requirements
    taken = wording.taken(conditions.how_taken(certificate.exam))
    rules = [f"{name} {version}" for name, version in sorted(certificate.rulebooks.items())]
    identifiers = [hashed_email(certificate.exam.user.email, certificate.code)]
    if certificate.show_name:
        identifiers.append(plain_name(certificate.holder_name))
    return make_credential(
        credential_id(address, certificate),
        issuer(address),
        Achievement(
            id=f"{address}{reverse('certificates:issuer')}#{requirements.slug}",
            name=requirements.title,
            description=requirements.summary or requirements.title,
            criteria=(
                _("{exam} Graded by the rule sets {rules}. {NATURE}").format(
                    exam=wording.exam(certificate.exam), rules=", ".join(rules), NATURE=NATURE
                )
            ),
            criteria_url=address + reverse("certificates:meaning", args=[requirements.slug]),
            version=", ".join(rules),
        ),
        valid_from=certificate.issued,
        valid_until=certificate.expires,
        identifiers=identifiers,
        status_url=address + reverse("certificates:revoked"),
        evidence=[
            told(_("How the exam was taken"), f"{taken} {LATEST}"),
            *(
                told(_("Short check"), f"{wording.renewed(each)} {LATEST}")
                for each in recheck.renewals(certificate)
            ),
        ],
    )


def _required_key():
    key = signing_key()
    if key is None:
        raise BadgeError(_("This site has no key to sign certificates with."))
    return key


def token(certificate, address):
    """Return ``certificate`` as a signed token; raises BadgeError without a key to sign with."""
    key = _required_key()
    return sign_token(credential(certificate, address), key, key_id(address, key.public))


def document(certificate, address):
    """Return ``certificate`` as a dict with its proof; raises BadgeError without a key."""
    key = _required_key()
    method = method_name(issuer_id(address), key.public)
    return sign_document(credential(certificate, address), key, method, certificate.issued)
