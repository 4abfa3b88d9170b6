"""The line does to a browser what a test tells it to."""

import socket
from http.client import HTTPConnection, HTTPException

import pytest

from tests.browser.line import Line


@pytest.fixture
def line(live_server):
    with Line(live_server.thread.host, live_server.thread.port) as line:
        yield line


def asks(line, method="GET", path="/no-such-page/", timeout=30):
    """Return the status of an answer, None if there is none."""
    connection = HTTPConnection("localhost", line.port, timeout=timeout)
    try:
        connection.request(method, path, b"sent", {})
        return connection.getresponse().status
    except (ConnectionError, HTTPException):
        return None
    finally:
        connection.close()


def test_a_line_hands_on_is_cut_and_errs(line):
    assert asks(line) == 404
    line.cut()
    assert asks(line) is None
    line.fail(502)
    assert asks(line) == 502
    line.restore()
    assert asks(line, path="/no-such-page/?again") == 404
    assert line.count("GET", "/no-such-page/") == 4
    assert [each.answered for each in line.asked] == [404, None, 502, 404]


def test_a_line_that_hangs_says_nothing(line):
    line.hang()
    with pytest.raises(socket.timeout):
        asks(line, timeout=0.2)
    line.restore()
    assert asks(line) == 404


def test_a_lost_reply_was_heard_by_the_site(line, rf):
    line.lose_reply("POST", "/no-such-page/")
    assert asks(line, "POST") is None
    assert asks(line, "POST") in (403, 404)


def test_a_reply_that_is_held_back_comes_later(line):
    line.hold_reply("GET", "/no-such-page/")
    assert asks(line, path="/no-other-page/") == 404
    with pytest.raises(socket.timeout):
        asks(line, timeout=1)
    line.let_go()
    assert asks(line) == 404
