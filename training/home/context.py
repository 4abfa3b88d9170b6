"""The navigation, for every page."""

from django.utils.functional import SimpleLazyObject

from . import ways


class Navigation:
    """The words and pages for who asks, with the open one marked."""

    def __init__(self, request):
        # A page of an error is asked for without a user, and by no view.
        user, match = getattr(request, "user", None), request.resolver_match
        view = match.view_name if match else ""
        self.words = ways.words(user, view) if user else []
        signed_in = user is not None and user.is_authenticated
        self.own = ways.own(user, view) if signed_in else []
        self.administration = ways.administration(user, view) if signed_in else []
        self.own_here = any(page.here for page in (*self.own, *self.administration))


def navigation(request):
    """Tell templates the way round the site; a page without navigation looks up nothing."""
    return {"navigation": SimpleLazyObject(lambda: Navigation(request))}
