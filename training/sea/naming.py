"""Each answer says whose it is, so that a phone keeps nobody's page for another."""

from django.contrib.messages.storage.base import BaseStorage

from . import parts

WHOSE = "Whose-Page"
FOR_LATER = "For-Later"
"""Sent by the phone with what it asks for to keep: nobody looks at the answer now."""


class _Silence(BaseStorage):
    """Messages of a page that is not looked at: none, and those that wait go on waiting."""

    def _get(self, *args, **kwargs):
        return [], True

    def _store(self, messages, response, *args, **kwargs):
        return []


def name_person(get_response):
    """
    Name the person whose page an answer is, 0 for nobody, and the version of the site.

    It stands inside the middleware of messages. What was made without looking for a person, as
    what a monitor asks, stays so and names nobody.
    """

    def respond(request):
        if FOR_LATER in request.headers:
            request._messages = _Silence(request)
        response = get_response(request)
        if hasattr(request, "_cached_user"):
            response[WHOSE] = request.user.pk or 0
            if response.get("Content-Type", "").startswith("text/html"):
                response["Site-Version"] = parts.version()
        if getattr(getattr(request, "_messages", None), "used", False) and len(request._messages):
            response["Said-Once"] = "1"
        return response

    return respond
