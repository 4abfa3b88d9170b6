"""The middleware that numbers requests, and notes how each came out and how long it took."""

import logging
import time

from django.conf import settings

from .line import route_of
from .number import numbered

HEADER = "Request-Number"
log = logging.getLogger("training.requests")


def _note(request, response, ms):
    """Log the request; a page slower than the setting says is named as such."""
    slow = ms >= settings.SLOW_PAGE_MS
    if not slow and not settings.LOG_REQUESTS:
        return
    told = {
        "route": route_of(request),
        "method": request.method,
        "status": response.status_code,
        "ms": round(ms),
    }
    if slow:
        log.warning("slow page", extra=told)
    else:
        log.info("request", extra=told)


def number_requests(get_response):
    """
    Give each request a number, on ``request.number``, in all its log lines and in its answer.

    It stands first, so that what fails in another middleware has a number as well. A number
    that the caller sends along is not taken over: it could name somebody else's lines.
    """

    def respond(request):
        began = time.perf_counter()
        with numbered() as request.number:
            response = get_response(request)
            response[HEADER] = request.number
            _note(request, response, (time.perf_counter() - began) * 1000)
        return response

    return respond
