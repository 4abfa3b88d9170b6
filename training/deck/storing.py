"""No browser and no proxy stores a page that was made for one person."""

from django.utils.cache import add_never_cache_headers


def no_store(get_response):
    """
    Mark each answer that a session had a part in as not to be stored.

    It stands right inside the middleware of sessions. A page that says itself how long it may be
    kept holds nothing of a person. What a phone keeps to open without signal is put by its worker,
    and is no matter of this.
    """

    def respond(request):
        response = get_response(request)
        session = request.session
        if "Cache-Control" not in response and session.accessed and not session.is_empty():
            add_never_cache_headers(response)
        return response

    return respond
