"""The admin: people come to it by the site's own sign-in, and show who they are for each change."""

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied

from training.deck.admin import RecordsSite

from .factors import when_it_matters


class OwnAdmin(RecordsSite):
    """Django's admin, behind the site's own ways to show who one is."""

    def login(self, request, extra_context=None):
        """Lead to the site's own page, which asks for a code as well; refuse who is signed in."""
        if request.user.is_authenticated:
            raise PermissionDenied
        return redirect_to_login(request.GET.get("next") or request.path)

    def admin_view(self, view, cacheable=False):
        # Signing out is no deed to be asked about.
        return super().admin_view(view if view == self.logout else when_it_matters(view), cacheable)
