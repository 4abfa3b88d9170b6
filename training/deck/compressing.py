"""What the site sends, made smaller on its way: on a boat a page comes over a thin link."""

from django.middleware.gzip import GZipMiddleware

TEXTS = (
    "text/html",
    "application/json",
    "application/manifest+json",
    "text/javascript",
    "text/plain",
)


class Compressed(GZipMiddleware):
    """
    Compress pages and data for who can read them so; what is small by itself goes as it is.

    A page shows what was typed beside what is its reader's own, so its length could be used to
    guess at the latter. Tokens of forms are other ones in each answer, and each answer is longer
    by a length drawn by chance: Django's own way.
    """

    def process_response(self, request, response):
        sort = response.get("Content-Type", "").partition(";")[0]
        if response.streaming or sort not in TEXTS:
            return response
        return super().process_response(request, response)
