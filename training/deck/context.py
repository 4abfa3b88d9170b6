"""What every page may need to know."""

from django.conf import settings


def demo(request):
    """Tell templates whether this is the demo, whose people and records are invented."""
    return {"site_is_demo": settings.SITE_DEMO}
