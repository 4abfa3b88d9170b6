"""
What a request may hold at all: said here once for every address, before any page reads it.

No page of the site sends what is refused here, so whoever does is told so in few words; nothing
of it is read or kept. What a single form asks for, and how long it may be, the form says.
"""

from django.conf import settings
from django.core.exceptions import BadRequest, RequestDataTooBig
from django.http import Http404

NUL = "\0"
LAST_ROW = 2**63 - 1
"""The highest number that a row can have."""

_FORMS = ("application/x-www-form-urlencoded", "multipart/form-data")


class Unreadable(BadRequest):
    """A request that holds what no text can: a NUL, which no database keeps."""


def _size(request):
    try:
        return int(request.META.get("CONTENT_LENGTH") or 0)
    except ValueError:
        return 0  # read as nothing by Django too


def _address_has_nul(request):
    # A cookie brings one as an octal escape between quotes, which only reading it shows.
    cookies = request.COOKIES.values() if "\\" in request.META.get("HTTP_COOKIE", "") else ()
    texts = (request.path_info, request.META.get("QUERY_STRING", ""), *cookies)
    return "%00" in texts[1] or any(NUL in text for text in texts)


class Incoming:
    """
    The middleware that refuses a body too large, before it is read, and a NUL anywhere in a form.

    It stands before whatever asks the database; of forms it hears after their tokens were checked.
    """

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        if _size(request) > settings.MOST_SENT:
            raise RequestDataTooBig
        if _address_has_nul(request):
            raise Unreadable
        return self.get_response(request)

    def process_view(self, request, view, arguments, named):
        if any(isinstance(each, int) and each > LAST_ROW for each in named.values()):
            raise Http404
        if request.method == "POST" and request.content_type in _FORMS:
            for name, texts in request.POST.lists():
                if NUL in name or any(NUL in text for text in texts):
                    raise Unreadable
