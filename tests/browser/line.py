"""
The line between a browser and the live server, which a test cuts, holds up and spoils.

Playwright's own routes do not see what a service worker asks for; everything goes through this.
A ``Line`` has an address of its own, on which it hands on whatever a browser asks for, and what
comes back, unless it was told otherwise.
"""

import contextlib
import socket
import struct
import threading
from http.client import HTTPConnection, HTTPException
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import NamedTuple

BROKEN = b"<!doctype html><title>Broken</title><p>The machine behind this name is not well."
OF_ONE_CONNECTION = {"connection", "transfer-encoding"}
RESET = struct.pack("ii", 1, 0)  # close at once, and let the other side hear of it


class Asked(NamedTuple):
    """One thing that a browser asked for, whether or not it was let through."""

    method: str
    path: str  # without what stands after a question mark
    answered: int | None  # None: no answer went back


class Line:
    """A line to the server at ``host`` and ``port``, which is well until it is told otherwise."""

    def __init__(self, host, port):
        self.server = (host, port)
        self.asked = []
        self._changed = threading.Condition()
        self._is_cut = self._hangs = False
        self._error = None
        self._losing = []
        self._holding = set()
        self._listening = _Listening(self)
        self.port = self._listening.server_port
        self.url = f"http://localhost:{self.port}"

    def __enter__(self):
        threading.Thread(target=self._listening.serve_forever, args=(0.05,), daemon=True).start()
        return self

    def __exit__(self, *_):
        self.restore()
        self.let_go()
        self._listening.shutdown()
        self._listening.server_close()

    def cut(self):
        """Have every request end without an answer, at once; none reaches the server."""
        self._set(is_cut=True)

    def hang(self):
        """Have every request wait for an answer that never comes; none reaches the server."""
        self._set(hangs=True)

    def fail(self, status=503):
        """Have every request answered with an error, as by a machine before the server."""
        self._set(error=status)

    def restore(self):
        """Be well again; what hangs ends without an answer."""
        self._set()

    def lose_reply(self, method, path, times=1):
        """Let the next requests of that sort reach the server, and lose what it answers."""
        with self._changed:
            self._losing += [(method, path)] * times

    def hold_reply(self, method, path):
        """Let requests of that sort reach the server, and hold its answers back."""
        with self._changed:
            self._holding.add((method, path))

    def let_go(self):
        """Hand on the answers that are held back, and hold none any more."""
        with self._changed:
            self._holding.clear()
            self._changed.notify_all()

    def count(self, method, path):
        """Return how many requests of that sort a browser has made."""
        return sum((each.method, each.path) == (method, path) for each in list(self.asked))

    def _set(self, is_cut=False, hangs=False, error=None):
        with self._changed:
            self._is_cut, self._hangs, self._error = is_cut, hangs, error
            self._changed.notify_all()

    def _answer(self, request):
        """Answer ``request`` as the line is now."""
        with self._changed:
            if self._hangs:
                self._changed.wait_for(lambda: not self._hangs)
                return request.drop()
            if self._is_cut:
                return request.drop()
            if self._error:
                return request.reply(self._error, [("Content-Type", "text/html")], BROKEN)
            sort = (request.command, request.plain_path)
            is_lost = sort in self._losing
            if is_lost:
                self._losing.remove(sort)
        try:
            answer = request.handed_on(self.server)
        except (OSError, HTTPException):  # the server goes down at the end of a test
            return request.drop()
        with self._changed:
            self._changed.wait_for(lambda: sort not in self._holding)
            is_lost = is_lost or self._is_cut
        return request.drop() if is_lost else request.reply(*answer)


class _Listening(ThreadingHTTPServer):
    daemon_threads = True

    def __init__(self, line):
        super().__init__(("127.0.0.1", 0), _Request)
        self.line = line

    def handle_error(self, request, client_address):
        """Say nothing: a browser that turns away in the middle is no error of ours."""


class _Request(BaseHTTPRequestHandler):
    def answer(self):
        self.server.line._answer(self)

    do_GET = do_HEAD = do_POST = do_PUT = do_DELETE = answer

    @property
    def plain_path(self):
        return self.path.partition("?")[0]

    def handed_on(self, server):
        """Return what the server at ``server`` answers: its status, headers and content."""
        body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
        headers = {name: text for name, text in self.headers.items() if name != "Connection"}
        connection = HTTPConnection(*server)
        with contextlib.closing(connection):
            connection.request(self.command, self.path, body, headers | {"Connection": "close"})
            answer = connection.getresponse()
            return answer.status, answer.getheaders(), answer.read()

    def note(self, status):
        """Note what is answered, before a browser can hear of it."""
        self.server.line.asked.append(Asked(self.command, self.plain_path, status))

    def reply(self, status, headers, content):
        """Send an answer."""
        self.note(status)
        self.send_response_only(status)
        told = [
            each for each in headers if each[0].lower() not in ("connection", "transfer-encoding")
        ]
        for name, text in told:
            self.send_header(name, text)
        if "content-length" not in {name.lower() for name, _ in told}:
            self.send_header("Content-Length", str(len(content)))
        self.send_header("Connection", "close")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def drop(self):
        """End the connection without an answer."""
        self.note(None)
        self.close_connection = True
        self.connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, RESET)
        # Both files over the socket hold it open.
        self.rfile.close()
        self.connection.close()

    def log_message(self, *_):
        """Keep the tests' output clean."""
