"""The phones that make codes for people, and their spare codes; a person has one phone or none."""

import hashlib
import time
from base64 import b32encode
from enum import Enum

from django.db import transaction
from django_otp.oath import TOTP
from django_otp.plugins.otp_static.models import StaticDevice, StaticToken
from django_otp.plugins.otp_totp.models import TOTPDevice

from training.deck.codes import new_long_code, tidy_code

from .. import notices

SPARE = 10
"""How many spare codes are made at once."""

DIGITS = 6
LONGEST_WAIT = 11
"""Wrong codes in a row, after which the wait doubles no more: 2 ** 10 s, about 17 minutes."""

MANY = 5
"""Wrong codes in a row, of which the person is told: whoever typed them knows the password."""

_ROUNDS = 20_000


class Tried(Enum):
    """What came of a code."""

    RIGHT = "right"
    WRONG = "wrong"
    WAIT = "too soon after a wrong one"


def has(user):
    """Return whether ``user`` has a phone that makes codes."""
    return phone_of(user) is not None


def phone_of(user):
    """Return the TOTPDevice of ``user``, None without one."""
    return TOTPDevice.objects.filter(user_id=user.pk, confirmed=True).first()


def spare_left(user):
    """Return how many spare codes of ``user`` were not used yet."""
    return StaticToken.objects.filter(device__user_id=user.pk).count()


def is_spare(typed):
    """Return whether ``typed`` can be a spare code alone: the phone's are shorter."""
    return len(tidy_code(typed)) != DIGITS


@transaction.atomic
def check(user, typed):
    """
    Return a Tried: whether ``typed`` is the code of the moment or a spare code of ``user``.

    A code counts once. After each wrong one in a row it takes twice as long until another is
    looked at.
    """
    code, spare = tidy_code(typed), is_spare(typed)
    model = StaticDevice if spare else TOTPDevice
    # Held, so that one code sent twice at the same moment counts once.
    device = model.objects.select_for_update().filter(user_id=user.pk, confirmed=True).first()
    if device is None:
        return Tried.WRONG
    if not device.verify_is_allowed()[0]:
        return Tried.WAIT
    if device.verify_token(_kept(user, code) if spare else code):
        return Tried.RIGHT
    if device.throttling_failure_count == MANY:
        notices.tell(user, notices.FACTOR_GUESSED)
    if device.throttling_failure_count > LONGEST_WAIT:
        device.throttling_failure_count = LONGEST_WAIT
        device.save(update_fields=["throttling_failure_count"])
    return Tried.WRONG


def new_key():
    """Return the secret of a new phone, as hexadecimal text of 20 bytes (RFC 4226, from memory)."""
    return TOTPDevice._meta.get_field("key").get_default()


def address_of(user, key):
    """Return what a phone reads from the picture: the address of ``key`` of ``user``."""
    return TOTPDevice(user=user, key=key).config_url


def typed_key(key):
    """Return ``key`` as it is typed into a phone, in groups of four."""
    text = b32encode(bytes.fromhex(key)).decode()
    return " ".join(text[start : start + 4] for start in range(0, len(text), 4))


def set_up(user, key, typed):
    """
    Make the phone that holds ``key`` that of ``user``, in place of another, if ``typed`` is right.

    Return the new spare codes; None if the code is wrong. All of the user's sign-ins end.
    """
    device = TOTPDevice(user=user, key=key, name="phone")
    totp = TOTP(device.bin_key, device.step, device.t0, device.digits)
    totp.time = time.time()
    code = tidy_code(typed)
    if not code.isdecimal() or not totp.verify(int(code), device.tolerance):
        return None
    device.last_t, device.drift = totp.t(), totp.drift
    with transaction.atomic():
        take_off(user)
        device.save()
        return new_spare(user)


@transaction.atomic
def new_spare(user):
    """Return new spare codes of ``user``; those of before are void, and none is kept in plain."""
    StaticDevice.objects.filter(user_id=user.pk).delete()
    device = StaticDevice.objects.create(user=user, name="spare codes")
    codes = [new_long_code() for _ in range(SPARE)]
    StaticToken.objects.bulk_create(
        StaticToken(device=device, token=_kept(user, code)) for code in codes
    )
    return codes


@transaction.atomic
def take_off(user):
    """Take the phone and the spare codes off ``user``, and end all sign-ins."""
    TOTPDevice.objects.filter(user_id=user.pk).delete()
    StaticDevice.objects.filter(user_id=user.pk).delete()
    user.end_sign_ins()


def _kept(user, code):
    """Return how a spare code is kept: 16 letters from which nobody finds the code."""
    salt = f"people.factors/{user.pk}".encode()
    made = hashlib.pbkdf2_hmac("sha256", code.encode(), salt, _ROUNDS, dklen=10)
    return b32encode(made).decode()
