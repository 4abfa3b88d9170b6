"""Where a request comes from, and a setting of proxies that does not fit it."""

import logging

import pytest
from django.core.cache import cache

from training.deck.readiness import Well
from training.people import addresses
from training.people.addresses import client_address

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def nothing_in_memory():
    cache.clear()


def asked(rf, header=None, caller="127.0.0.1"):
    extra = {} if header is None else {"HTTP_X_FORWARDED_FOR": header}
    return client_address(rf.get("/", REMOTE_ADDR=caller, **extra))


# Addresses for documents (RFC 5737) are global to nobody, so these are of real nets.
@pytest.mark.parametrize(
    ("header", "address"),
    [
        ("8.8.4.4", "8.8.4.4"),
        ("8.8.4.4:51234", "8.8.4.4"),
        ("2600:1f00:1:2:3:4:5:6", "2600:1f00:1:2::"),
        ("[2600:1f00:1:2::9]:443", "2600:1f00:1:2::"),
        ("::ffff:8.8.4.4", "8.8.4.4"),
        ("unknown", "127.0.0.1"),
        ("' OR 1=1 --", "127.0.0.1"),
        ("\x00", "127.0.0.1"),
        ("9" * 5000, "127.0.0.1"),
        ("", "127.0.0.1"),
    ],
)
def test_whatever_stands_in_the_header_gives_an_address(rf, settings, header, address):
    settings.SITE_PROXIES = 1
    assert asked(rf, header) == address


def test_a_request_without_any_address_has_none(rf):
    assert asked(rf, caller="") == ""


@pytest.mark.parametrize(
    ("told", "header", "caller", "doubt"),
    [
        (0, None, "8.8.4.4", None),
        (0, "1.2.3.4", "8.8.4.4", None),  # anybody may send it
        (0, "8.8.4.4", "127.0.0.1", addresses.UNTOLD),
        (0, "8.8.4.4", "10.0.0.5", addresses.UNTOLD),
        (1, "8.8.4.4", "127.0.0.1", None),
        (1, "1.2.3.4, 8.8.4.4", "127.0.0.1", None),  # one is the caller's own claim
        (1, "10.0.0.9", "127.0.0.1", None),  # somebody in the office's own net
        (1, None, "127.0.0.1", addresses.MISSING),
        (1, None, "8.8.4.4", addresses.MISSING),
        (2, "8.8.4.4", "127.0.0.1", addresses.MISSING),
        (1, "8.8.4.4, 10.0.0.5", "127.0.0.1", addresses.MORE),
        (2, "8.8.4.4, 10.0.0.5", "127.0.0.1", None),
    ],
)
def test_a_setting_that_does_not_fit_is_told_once(
    rf, settings, caplog, told, header, caller, doubt
):
    settings.SITE_PROXIES = told
    with caplog.at_level(logging.WARNING, "training.people"):
        for _ in range(3):
            asked(rf, header, caller)
    assert [record.doubt for record in caplog.records] == ([doubt] if doubt else [])
    assert len(addresses.doubts()) == (1 if doubt else 0)
    assert all("SITE_PROXIES" in words for words in addresses.doubts())
    assert "8.8.4.4" not in caplog.text


def test_a_setting_that_was_mended_is_no_doubt(rf, settings):
    settings.SITE_PROXIES = 0
    asked(rf, "8.8.4.4")
    assert "SITE_PROXIES" in addresses.proxies_fit()
    settings.SITE_PROXIES = 1
    assert addresses.doubts() == []
    assert isinstance(addresses.proxies_fit(), Well)
