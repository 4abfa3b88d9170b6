"""Badges: their form, verification by others, and that no byte of one can change."""

import hashlib
import json
from datetime import UTC, datetime, timedelta, timezone

import jwt
import pytest
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from hypothesis import given, settings
from hypothesis import strategies as st

from training.certification.badge import (
    EXPIRED,
    NOT_YET,
    VALID,
    Achievement,
    Issuer,
    hashed_email,
    is_held_by,
    make_credential,
    plain_name,
    revocation_list,
    standing,
)
from training.certification.badge_keys import (
    BadgeError,
    PublicKey,
    SigningKey,
    from_base58,
    key_set,
    method_name,
    to_base64url,
)
from training.certification.badge_proof import (
    read_document,
    read_token,
    sign_document,
    sign_token,
    timestamp,
)

SITE = "https://badges.example"
ISSUER = Issuer(f"{SITE}/issuer", "Tern Sound Fisheries Extension", SITE, "desk@badges.example")
ACHIEVEMENT = Achievement(
    f"{SITE}/requirements/fisherman",
    "Raised-footrope rigger",
    "Can rig a net whose footrope flies clear of the bottom.",
    "Sat an exam of twelve tasks and reached the pass mark — “every rule” included.",
    version="3",
    tags=("trawl", "selectivity"),
)
ISSUED = datetime(2026, 3, 1, 12, tzinfo=UTC)
EXPIRES = datetime(2099, 3, 1, 12, tzinfo=UTC)
KEY = SigningKey.generate()
KID = f"{SITE}/keys/{KEY.public.thumbprint}"
METHOD = method_name(ISSUER.id, KEY.public)
CREDENTIAL = make_credential(
    "urn:uuid:6f1c3f0e-6a3b-4b7e-9a43-0d2b1c5a7e11",
    ISSUER,
    ACHIEVEMENT,
    ISSUED,
    EXPIRES,
    subject_id="urn:uuid:0b9a0c52-7e52-4a0c-8f7e-5d1c9a3b2f10",
    identifiers=[hashed_email("ann@example.com", "salt and pepper")],
    status_url=f"{SITE}/revoked",
)
TOKEN = sign_token(CREDENTIAL, KEY, KID)
DOCUMENT = json.dumps(
    sign_document(CREDENTIAL, KEY, METHOD, ISSUED), ensure_ascii=False, separators=(",", ":")
).encode()
TOKEN_KEYS = {KID: KEY.public}
DOCUMENT_KEYS = {METHOD: KEY.public}


def test_credential_has_what_the_standard_requires():
    assert CREDENTIAL["@context"][0] == "https://www.w3.org/ns/credentials/v2"
    assert CREDENTIAL["@context"][1].endswith("/ob/v3p0/context-3.0.3.json")
    assert CREDENTIAL["type"] == ["VerifiableCredential", "AchievementCredential"]
    assert CREDENTIAL["issuer"]["type"] == ["Profile"]
    assert CREDENTIAL["validFrom"] == "2026-03-01T12:00:00Z"
    assert CREDENTIAL["validUntil"] == "2099-03-01T12:00:00Z"
    subject = CREDENTIAL["credentialSubject"]
    assert subject["type"] == ["AchievementSubject"]
    achievement = subject["achievement"]
    assert achievement["type"] == ["Achievement"]
    assert achievement["achievementType"] == "Certification"
    assert achievement["criteria"]["narrative"] == ACHIEVEMENT.criteria
    assert {"id", "name", "description"} <= achievement.keys()
    assert CREDENTIAL["credentialStatus"] == {
        "id": f"{SITE}/revoked",
        "type": "1EdTechRevocationList",
    }


def test_optional_parts_are_left_out():
    credential = make_credential(
        "urn:uuid:1", Issuer(SITE, "Extension", SITE), ACHIEVEMENT, ISSUED, subject_id="urn:uuid:2"
    )
    assert not {"validUntil", "credentialStatus", "proof"} & credential.keys()
    assert "identifier" not in credential["credentialSubject"]
    assert "email" not in credential["issuer"]


def test_times_are_written_in_utc():
    eastern = timezone(timedelta(hours=-5))
    assert timestamp(datetime(2026, 1, 31, 22, 30, tzinfo=eastern)) == "2026-02-01T03:30:00Z"


@pytest.mark.parametrize(
    ("options", "reason"),
    [
        ({}, "name its holder"),
        ({"subject_id": "urn:uuid:2", "valid_from": datetime(2026, 1, 1)}, "time zone"),
        ({"subject_id": "urn:uuid:2", "valid_until": ISSUED}, "end after"),
    ],
)
def test_impossible_credentials_are_refused(options, reason):
    options = {"valid_from": ISSUED} | options
    with pytest.raises(ValueError, match=reason):
        make_credential("urn:uuid:1", ISSUER, ACHIEVEMENT, **options)


def test_a_hashed_address_is_found_by_who_knows_it_and_shown_to_nobody():
    assert is_held_by(CREDENTIAL, "ann@example.com")
    assert is_held_by(CREDENTIAL, " ann@example.com ")
    assert not is_held_by(CREDENTIAL, "bo@example.com")
    assert b"ann@example.com" not in DOCUMENT
    expected = hashlib.sha256(b"ann@example.comsalt and pepper").hexdigest()
    (identifier,) = CREDENTIAL["credentialSubject"]["identifier"]
    assert identifier["identityHash"] == f"sha256${expected}"


def test_an_open_name_is_no_address():
    credential = make_credential(
        "urn:uuid:1", ISSUER, ACHIEVEMENT, ISSUED, identifiers=[plain_name("Ann Tern")]
    )
    (identifier,) = credential["credentialSubject"]["identifier"]
    assert (identifier["identityHash"], identifier["hashed"]) == ("Ann Tern", False)
    assert not is_held_by(credential, "Ann Tern")


def test_standing_changes_at_the_very_second():
    second = timedelta(seconds=1)
    assert standing(CREDENTIAL, ISSUED - second) == NOT_YET
    assert standing(CREDENTIAL, ISSUED) == VALID
    assert standing(CREDENTIAL, EXPIRES - second) == VALID
    assert standing(CREDENTIAL, EXPIRES) == EXPIRED


def test_revocation_list_names_badge_and_reason():
    listed = revocation_list(f"{SITE}/revoked", ISSUER.id, {CREDENTIAL["id"]: "Issued in error"})
    assert listed["issuer"] == ISSUER.id
    assert listed["revokedCredential"] == [
        {"id": CREDENTIAL["id"], "revoked": True, "revocationReason": "Issued in error"}
    ]


def test_both_forms_give_the_credential_back():
    assert read_token(TOKEN, TOKEN_KEYS) == CREDENTIAL
    assert read_document(DOCUMENT, DOCUMENT_KEYS) == CREDENTIAL
    assert read_document(DOCUMENT.decode(), DOCUMENT_KEYS) == CREDENTIAL


def test_another_library_accepts_the_token_from_the_published_keys():
    keys = jwt.PyJWKSet.from_dict(json.loads(json.dumps(key_set(TOKEN_KEYS))))
    header = jwt.get_unverified_header(TOKEN)
    assert header == {"alg": "EdDSA", "kid": KID, "typ": "JWT"}
    claims = jwt.decode(
        TOKEN,
        keys[header["kid"]],
        algorithms=["EdDSA"],
        issuer=ISSUER.id,
        options={"require": ["exp", "iss", "jti", "nbf", "sub"]},
    )
    assert claims["jti"] == CREDENTIAL["id"]
    assert claims["sub"] == CREDENTIAL["credentialSubject"]["id"]
    assert datetime.fromtimestamp(claims["nbf"], UTC) == ISSUED
    assert datetime.fromtimestamp(claims["exp"], UTC) == EXPIRES
    assert claims["credentialSubject"] == CREDENTIAL["credentialSubject"]


def test_another_library_refuses_the_token_under_another_key():
    other = jwt.PyJWK.from_dict(SigningKey.generate().public.jwk(KID))
    with pytest.raises(jwt.InvalidSignatureError):
        jwt.decode(TOKEN, other, algorithms=["EdDSA"])


def test_another_library_refuses_a_token_any_byte_of_whose_content_changed():
    key = jwt.PyJWK.from_dict(KEY.public.jwk(KID))
    parts = [jwt.utils.base64url_decode(part) for part in TOKEN.split(".")]
    tried = 0
    for number, part in enumerate(parts):
        for place in range(len(part)):
            changed = bytearray(part)
            changed[place] ^= 1
            others = [*parts[:number], bytes(changed), *parts[number + 1 :]]
            token = ".".join(map(to_base64url, others))
            with pytest.raises(jwt.PyJWTError):
                jwt.decode(token, key, algorithms=["EdDSA"])
            tried += 1
    assert tried == sum(map(len, parts))


def test_another_library_reads_the_dates_as_we_do():
    credential = make_credential(
        "urn:uuid:1",
        ISSUER,
        ACHIEVEMENT,
        ISSUED - 2 * timedelta(365),
        ISSUED - timedelta(365),
        subject_id="urn:uuid:2",
    )
    token = sign_token(credential, KEY, KID)
    key = jwt.PyJWK.from_dict(KEY.public.jwk(KID))
    with pytest.raises(jwt.ExpiredSignatureError):
        jwt.decode(token, key, algorithms=["EdDSA"])
    assert standing(read_token(token, TOKEN_KEYS), ISSUED) == EXPIRED


def test_embedded_proof_checked_without_our_code():
    # Every key here is plain ASCII, so sorted JSON is canonical JSON.
    def digest(value):
        text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        return hashlib.sha256(text.encode()).digest()

    document = json.loads(DOCUMENT)
    (proof,) = document.pop("proof")
    signature = from_base58(proof.pop("proofValue"))
    signed = digest(proof) + digest(document)
    public = Ed25519PublicKey.from_public_bytes(KEY.public.raw)
    public.verify(signature, signed)
    document["name"] += "!"
    with pytest.raises(InvalidSignature):
        public.verify(signature, digest(proof) + digest(document))


# W3C, Data Integrity EdDSA Cryptosuites 1.0, the worked example of eddsa-jcs-2022 (from
# memory; that the published signature verifies shows that none of it is misremembered).
W3C_METHOD = (
    "did:key:z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ2"
    "#z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ2"
)
W3C_DOCUMENT = {
    "@context": [
        "https://www.w3.org/ns/credentials/v2",
        "https://www.w3.org/ns/credentials/examples/v2",
    ],
    "id": "urn:uuid:58172aac-d8ba-11ed-83dd-0b3aef56cc33",
    "type": ["VerifiableCredential", "AlumniCredential"],
    "name": "Alumni Credential",
    "description": "A minimum viable example of an Alumni Credential.",
    "issuer": "https://vc.example/issuers/5678",
    "validFrom": "2023-01-01T00:00:00Z",
    "credentialSubject": {"id": "did:example:abcdefgh", "alumniOf": "The School of Examples"},
    "proof": {
        "type": "DataIntegrityProof",
        "cryptosuite": "eddsa-jcs-2022",
        "created": "2023-02-24T23:36:38Z",
        "verificationMethod": W3C_METHOD,
        "proofPurpose": "assertionMethod",
        "@context": [
            "https://www.w3.org/ns/credentials/v2",
            "https://www.w3.org/ns/credentials/examples/v2",
        ],
        "proofValue": "z2HnFSSPPBzR36zdDgK8PbEHeXbR56YF24jwMpt3R1eHXQzJDMWS93FCzpvJpwTWd3GAVFuUfjo"
        "JdcnTMuVor51aX",
    },
}


def test_w3c_example_is_accepted():
    keys = {W3C_METHOD: PublicKey.from_multibase(W3C_METHOD.partition("#")[2])}
    credential = read_document(json.dumps(W3C_DOCUMENT), keys)
    assert credential["credentialSubject"]["alumniOf"] == "The School of Examples"
    changed = W3C_DOCUMENT | {"name": "Alumna Credential"}
    with pytest.raises(BadgeError, match="signature does not belong"):
        read_document(json.dumps(changed), keys)


def changed_at_each_byte(data):
    """Yield ``data`` with, at each place in turn, one bit turned over and then another."""
    for place in range(len(data)):
        for bit in (place % 8, (place + 5) % 8):
            changed = bytearray(data)
            changed[place] ^= 1 << bit
            yield bytes(changed)


def test_no_byte_of_a_token_can_change():
    tried = 0
    for changed in changed_at_each_byte(TOKEN.encode()):
        with pytest.raises(BadgeError):
            read_token(changed.decode("latin-1"), TOKEN_KEYS)
        tried += 1
    assert tried == 2 * len(TOKEN)


def test_no_bit_of_the_end_of_a_token_can_change():
    # The last character of 86 has four bits to spare, which most readers overlook.
    for bit in range(8):
        with pytest.raises(BadgeError):
            read_token(TOKEN[:-1] + chr(ord(TOKEN[-1]) ^ 1 << bit), TOKEN_KEYS)


def test_no_byte_of_a_document_can_change():
    tried = 0
    for changed in changed_at_each_byte(DOCUMENT):
        with pytest.raises(BadgeError):
            read_document(changed, DOCUMENT_KEYS)
        tried += 1
    assert tried == 2 * len(DOCUMENT)


@settings(max_examples=300)
@given(st.integers(0, len(TOKEN) - 1), st.characters(codec="utf-8"))
def test_no_character_of_a_token_can_change(place, character):
    changed = TOKEN[:place] + character + TOKEN[place + 1 :]
    if changed != TOKEN:
        with pytest.raises(BadgeError):
            read_token(changed, TOKEN_KEYS)


@settings(max_examples=300)
@given(st.integers(0, len(DOCUMENT) - 1), st.integers(0, 255), st.booleans())
def test_no_byte_of_a_document_can_become_another_or_go(place, byte, drop):
    changed = DOCUMENT[:place] + (b"" if drop else bytes([byte])) + DOCUMENT[place + 1 :]
    if changed != DOCUMENT:
        with pytest.raises(BadgeError):
            read_document(changed, DOCUMENT_KEYS)


def signed(header, claims, key=KEY):
    """Return a token of any ``header`` and ``claims`` (JSON texts or values), truly signed."""
    texts = [part if isinstance(part, str) else json.dumps(part) for part in (header, claims)]
    content = ".".join(to_base64url(text.encode()) for text in texts)
    return f"{content}.{to_base64url(key.sign(content.encode()))}"


HEADER = {"alg": "EdDSA", "kid": KID, "typ": "JWT"}
CLAIMS = jwt.decode(TOKEN, options={"verify_signature": False})


def test_the_signing_helper_makes_tokens_that_are_accepted():
    # Otherwise the refusals below might be for another reason than the one named.
    assert read_token(signed(HEADER, CLAIMS), TOKEN_KEYS) == CREDENTIAL


@pytest.mark.parametrize(
    ("token", "reason"),
    [
        ("", "three parts"),
        (TOKEN + ".", "three parts"),
        (TOKEN.rpartition(".")[0] + ".", "does not belong"),
        (signed(HEADER | {"alg": "none"}, CLAIMS), "not known here"),
        (signed(HEADER | {"alg": "HS256"}, CLAIMS), "not known here"),
        (signed(HEADER | {"crit": ["b64"]}, CLAIMS), "not known here"),
        (signed(HEADER | {"kid": f"{SITE}/keys/other"}, CLAIMS), "does not publish"),
        (signed(HEADER | {"kid": ["a"]}, CLAIMS), "does not publish"),
        (
            signed({"alg": "EdDSA", "typ": "JWT", "jwk": KEY.public.jwk("own")}, CLAIMS),
            "does not publish",
        ),
        (signed(HEADER, CLAIMS, key=SigningKey.generate()), "does not belong"),
        (signed(HEADER, CLAIMS | {"iss": "https://other.example"}), "do not match"),
        (signed(HEADER, CLAIMS | {"exp": CLAIMS["exp"] + 1}), "do not match"),
        (signed(HEADER, CLAIMS | {"jti": "urn:uuid:other"}), "do not match"),
        (signed(HEADER, {k: v for k, v in CLAIMS.items() if k != "sub"}), "do not match"),
        (signed(HEADER, CLAIMS | {"validFrom": "soon"}), "date"),
        (signed(HEADER, {"iss": ISSUER.id}), "holds no badge"),
        (signed(HEADER, "[]"), "cannot be read"),
        (signed("[]", CLAIMS), "cannot be read"),
        (signed(HEADER, '{"id":"a","id":"b"}'), "cannot be read"),
        (signed(HEADER, "[" * 100_000), "cannot be read"),
    ],
)
def test_tokens_that_are_refused(token, reason):
    with pytest.raises(BadgeError, match=reason):
        read_token(token, TOKEN_KEYS)


def with_proof(**changes):
    document = json.loads(DOCUMENT)
    document["proof"][0] |= changes
    return document


@pytest.mark.parametrize(
    ("document", "reason"),
    [
        (CREDENTIAL, "one proof"),
        (CREDENTIAL | {"proof": []}, "one proof"),
        (CREDENTIAL | {"proof": with_proof()["proof"] * 2}, "one proof"),
        ([CREDENTIAL], "cannot be read"),
        (with_proof(cryptosuite="eddsa-rdfc-2022"), "not known here"),
        (with_proof(proofPurpose="authentication"), "another purpose"),
        (with_proof(verificationMethod="did:key:z6Mk"), "does not publish"),
        (with_proof(proofValue=None), "base-58"),
        (with_proof(proofValue="z1"), "does not belong"),
        (with_proof(created="2026-03-01T12:00:01Z"), "does not belong"),
        (with_proof(**{"@context": ["https://www.w3.org/ns/credentials/v2"]}), "context"),
        (with_proof() | {"score": 0.5}, "cannot be read"),
        (with_proof() | {"score": 5}, "does not belong"),
    ],
)
def test_documents_that_are_refused(document, reason):
    with pytest.raises(BadgeError, match=reason):
        read_document(json.dumps(document), DOCUMENT_KEYS)


def test_a_document_nested_without_end_is_refused():
    with pytest.raises(BadgeError, match="cannot be read"):
        read_document("[" * 100_000, DOCUMENT_KEYS)
