"""
The site's signed certificates, checked from outside.

PyJWT knows nothing of this project: it takes the token and the published key set and
says whether the signature holds. Embedded proofs are checked by ``badge_proof``, whose
own tests hold it to the suite's published vectors.
"""

import json
from datetime import timedelta

import jwt
import pytest
from django.core.management import call_command
from django.core.management.base import SystemCheckError
from django.urls import reverse
from django.utils import timezone

from tests.certification.certificate_factory import make_exam
from training.certification import certificates, open_badge
from training.certification.badge import is_held_by
from training.certification.badge_keys import BadgeError, PublicKey, SigningKey
from training.certification.badge_proof import read_document, read_token
from training.certification.checks import certificates_can_be_signed
from training.certification.models import Certificate, Correction

ADDRESS = "http://testserver"


@pytest.fixture(autouse=True)
def key(settings):
    """A signing key of the test's own."""
    made = SigningKey.generate()
    settings.CERTIFICATE_KEY = made.pem()
    settings.CERTIFICATE_KEY_FILE = None
    return made


@pytest.fixture
def certificate(user):
    return certificates.issue(make_exam(user, handed_in=timezone.now().replace(microsecond=0)))


def download(client, name, certificate):
    return client.get(reverse(f"certificates:{name}", args=[certificate.code]))


@pytest.fixture
def token(as_user, certificate):
    return download(as_user, "badge_token", certificate).content.decode()


@pytest.fixture
def key_set(client):
    return jwt.PyJWKSet.from_dict(client.get("/issuer/keys.json").json())


def checked(token, key_set):
    """Return the claims of ``token`` as a generic verifier of signed tokens reads them."""
    kid = jwt.get_unverified_header(token)["kid"]
    return jwt.decode(token, key_set[kid], algorithms=["EdDSA"])


class TestToken:
    def test_a_generic_verifier_accepts_it(self, token, key_set, certificate):
        claims = checked(token, key_set)
        assert claims["iss"] == f"{ADDRESS}/issuer/"
        assert claims["jti"] == f"{ADDRESS}/verify/{certificate.code}/"
        assert claims["nbf"] == int(certificate.issued.timestamp())
        assert claims["exp"] == int(certificate.expires.timestamp())
        achievement = claims["credentialSubject"]["achievement"]
        assert achievement["name"] == certificate.exam.requirements.title
        assert "70 percent" in achievement["criteria"]["narrative"]
        assert achievement["version"] == "no-sweep 1"

    def test_any_changed_letter_is_refused(self, token, key_set, key):
        kid = jwt.get_unverified_header(token)["kid"]
        for place, letter in enumerate(token):
            changed = token[:place] + ("B" if letter == "A" else "A") + token[place + 1 :]
            with pytest.raises(BadgeError):
                read_token(changed, {kid: key.public})
            # Generic readers overlook the spare bits of the very last letter, which
            # belong to no byte.
            if place < len(token) - 1:
                with pytest.raises((jwt.PyJWTError, KeyError)):
                    checked(changed, key_set)

    def test_another_issuers_key_is_refused(self, token):
        stranger = SigningKey.generate().public
        kid = jwt.get_unverified_header(token)["kid"]
        with pytest.raises(jwt.InvalidSignatureError):
            checked(token, jwt.PyJWKSet.from_dict({"keys": [stranger.jwk(kid)]}))

    def test_an_expired_one_is_refused(self, as_user, certificate, key_set):
        certificate.issued -= timedelta(days=900)
        certificate.expires -= timedelta(days=900)
        certificate.save()
        token = download(as_user, "badge_token", certificate).content.decode()
        with pytest.raises(jwt.ExpiredSignatureError):
            checked(token, key_set)

    def test_the_key_is_found_where_its_name_leads(self, client, token, key):
        kid = jwt.get_unverified_header(token)["kid"]
        assert kid.startswith(ADDRESS)
        found = client.get(kid.removeprefix(ADDRESS)).json()
        assert found["kid"] == kid
        assert PublicKey.from_jwk(found) == key.public
        assert client.get("/issuer/keys/nobody.json").status_code == 404

    def test_it_says_of_its_holder_only_what_was_agreed(self, as_user, user, token, certificate):
        credential = jwt.decode(token, options={"verify_signature": False})
        assert is_held_by(credential, user.email)
        assert not is_held_by(credential, "somebody@example.com")
        for secret in (user.email, user.name):
            assert secret not in json.dumps(credential)
        Certificate.objects.update(show_name=True)
        again = download(as_user, "badge_token", certificate).content.decode()
        assert user.name in json.dumps(jwt.decode(again, options={"verify_signature": False}))


class TestDocument:
    def test_its_proof_holds(self, as_user, client, certificate):
        response = download(as_user, "badge_document", certificate)
        assert response["Content-Type"] == open_badge.DOCUMENT_TYPE
        page = client.get("/issuer/").json()
        keys = {
            method["id"]: PublicKey.from_multibase(method["publicKeyMultibase"])
            for method in page["verificationMethod"]
        }
        credential = read_document(response.content, keys)
        assert credential == open_badge.credential(certificate, ADDRESS)
        changed = response.content.replace(b"Rigging", b"Digging")
        assert changed != response.content
        with pytest.raises(BadgeError):
            read_document(changed, keys)


class TestPublished:
    def test_the_office_is_the_issuer(self, client, db, settings):
        settings.OFFICE_NAME = "An Office"
        assert client.get("/issuer/").json()["name"] == "An Office"
        settings.OFFICE_NAME = ""
        assert client.get("/issuer/").json()["name"] == "testserver"

    def test_anybody_may_read_it_from_anywhere(self, client, db):
        for name in ("issuer", "keys", "revoked"):
            response = client.get(reverse(f"certificates:{name}"))
            assert response.status_code == 200
            assert response["Access-Control-Allow-Origin"] == "*"

    def test_the_private_half_is_not(self, client, db):
        assert set(client.get("/issuer/keys.json").json()["keys"][0]) == {
            "kty",
            "crv",
            "x",
            "kid",
            "use",
            "alg",
        }

    def test_taken_back_badges_are_listed_without_the_reason(
        self, client, certificate, user, staff, token
    ):
        corrected = certificates.issue(make_exam(user))
        sound = certificates.issue(make_exam(user))
        certificates.revoke(certificate, "Two hands on one phone.", staff)
        Correction.objects.create(exam=corrected.exam, passed=False, reason="Wrong key.", by=staff)
        response = client.get("/issuer/revoked.json")
        listed = [each["id"] for each in response.json()["revokedCredential"]]
        assert listed == [
            open_badge.credential_id(ADDRESS, each) for each in (certificate, corrected)
        ]
        assert sound.code not in response.content.decode()
        assert "hands" not in response.content.decode()
        claims = jwt.decode(token, options={"verify_signature": False})
        assert claims["credentialStatus"]["id"] == f"{ADDRESS}/issuer/revoked.json"

    def test_the_address_of_the_site_can_be_set(self, client, db, settings):
        settings.SITE_ADDRESS = "https://training.example"
        assert client.get("/issuer/").json()["id"] == "https://training.example/issuer/"


class TestKeys:
    def test_old_badges_hold_after_a_new_key(self, client, token, key, settings):
        settings.CERTIFICATE_KEY = SigningKey.generate().pem()
        settings.CERTIFICATE_OLD_KEYS = [key.public.multibase]
        keys = client.get("/issuer/keys.json").json()
        assert len(keys["keys"]) == 2
        assert checked(token, jwt.PyJWKSet.from_dict(keys))
        read_token(token, {each["kid"]: PublicKey.from_jwk(each) for each in keys["keys"]})

    def test_without_a_key_nothing_is_signed(self, as_user, client, certificate, settings):
        settings.CERTIFICATE_KEY = ""
        for name in ("badge_token", "badge_document"):
            assert download(as_user, name, certificate).status_code == 404
        page = download(as_user, "certificate", certificate).content.decode()
        assert "Signed token" not in page
        assert client.get("/issuer/keys.json").json() == {"keys": []}
        with pytest.raises(BadgeError, match="no key"):
            open_badge.token(certificate, ADDRESS)

    def test_the_demo_makes_one_and_keeps_it(self, settings, tmp_path):
        settings.CERTIFICATE_KEY = ""
        settings.CERTIFICATE_KEY_FILE = tmp_path / "demo" / "key.pem"
        made = open_badge.signing_key().public
        assert settings.CERTIFICATE_KEY_FILE.stat().st_mode & 0o077 == 0
        assert open_badge.signing_key().public == made

    def test_a_key_that_cannot_be_read_is_said(self, settings):
        settings.CERTIFICATE_KEY = "not a key"
        with pytest.raises(BadgeError, match="cannot be read"):
            open_badge.signing_key()

    @pytest.mark.parametrize(
        ("name", "value"), [("CERTIFICATE_KEY", "not a key"), ("CERTIFICATE_OLD_KEYS", ["z6Mk"])]
    )
    def test_the_site_does_not_start_with_a_bad_key(self, settings, name, value):
        assert certificates_can_be_signed(None) == []
        setattr(settings, name, value)
        (error,) = certificates_can_be_signed(None)
        assert name in error.hint
        with pytest.raises(SystemCheckError):
            call_command("check")
