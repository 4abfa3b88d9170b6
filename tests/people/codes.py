"""A phone that makes codes, worked out here by the standard and not by the site's library."""

import hashlib
import hmac
import time
from unittest import mock

from training.people.factors import devices


def code_of(key, moment=None):
    """
    Return the 6 digits for ``key``, hexadecimal, at ``moment`` or now.

    RFC 6238 and RFC 4226, section 5.3, from memory; ``test_factors`` has their own examples.
    """
    count = int((time.time() if moment is None else moment) // 30)
    made = hmac.digest(bytes.fromhex(key), count.to_bytes(8, "big"), hashlib.sha1)
    start = made[-1] & 15
    number = int.from_bytes(made[start : start + 4], "big") & 0x7FFFFFFF
    return f"{number % 1_000_000:06}"


def code_before(key):
    """
    Return the code of the half minute before, which counts too.

    It waits for a new half minute if this one is nearly over, for then it would count no more.
    """
    left = 30 - time.time() % 30
    if left < 15:
        time.sleep(left)
    return code_of(key, time.time() - 30)


def give_phone(user):
    """Give ``user`` a phone; return its key and the spare codes. The code of now was not used."""
    key, moment = devices.new_key(), time.time()
    # Time stands still, so that the half minute cannot end between making a code and reading it.
    with mock.patch("time.time", return_value=moment):
        spare = devices.set_up(user, key, code_of(key, moment - 30))
    return key, spare
