"""Talking to a record store over HTTP, as the xAPI standard (IEEE 9274.1.1) has it."""

import base64
import json
import urllib.error
import urllib.request
from http.client import HTTPException
from urllib.parse import urlsplit

from django.utils.translation import gettext as _

from .statements import VERSION

SECONDS = 20  # to wait for an answer


class Refusal(Exception):
    """The store will not take these statements, however often they are sent."""


class NotNow(Exception):
    """The store could not be reached or had trouble of its own; ``wait`` in seconds or None."""

    def __init__(self, why, wait=None):
        super().__init__(why)
        self.wait = wait


class Shut(Exception):
    """The store does not let this site in: the settings are wrong."""


class _NoRedirects(urllib.request.HTTPRedirectHandler):
    """A redirect would take the password elsewhere."""

    def redirect_request(self, *args):
        return None


class Store:
    """A record store at ``endpoint``, which a ``user`` with a ``password`` may write to."""

    def __init__(self, endpoint, user, password):
        if urlsplit(endpoint).scheme not in {"http", "https"}:
            raise ValueError(_("The address of a record store begins with https://."))
        self.address = endpoint.rstrip("/") + "/statements"
        token = base64.b64encode(f"{user}:{password}".encode()).decode()
        self.headers = {
            "Authorization": _("Basic {token}").format(token=token),
            "Content-Type": "application/json",
            "X-Experience-API-Version": VERSION,
        }
        self.opener = urllib.request.build_opener(_NoRedirects)

    def send(self, statements):
        """
        Send a list of ``statements``; all of them are stored, or none.

        Raises NotNow when it is worth trying again later, Refusal when it is not, and
        Shut when the store does not know this site.
        """
        request = urllib.request.Request(
            self.address, json.dumps(statements).encode(), self.headers, method="POST"
        )
        try:
            with self.opener.open(request, timeout=SECONDS) as answer:
                answer.read()
        except urllib.error.HTTPError as error:
            raise self._trouble(error) from error
        except (OSError, HTTPException) as error:
            raise NotNow(str(error) or type(error).__name__) from error

    @staticmethod
    def _trouble(error):
        text = error.read(2000).decode(errors="replace").strip()
        told = f"{error.code} {error.reason}: {text}"
        if error.code in {401, 403}:
            return Shut(told)
        if error.code in {408, 425, 429} or error.code >= 500:
            wait = error.headers.get("Retry-After", "")
            return NotNow(told, float(wait) if wait.isdigit() else None)
        return Refusal(told)
