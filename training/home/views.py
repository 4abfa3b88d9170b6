"""The first page: another for a visitor, a trainee, an officer and the staff."""

from django.views.decorators.http import require_safe

from training.deck import signal
from training.people import sight

from . import learner, today, visitor


@signal.opens
@sight.anyone
@require_safe
def home(request):
    """Show each kind of person what to do next; to others, what the site is for."""
    user = request.user
    if not user.is_authenticated:
        return visitor.page(request)
    return today.page(request) if user.is_staff else learner.page(request)
