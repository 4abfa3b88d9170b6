"""What every page may need to know."""

from django.conf import settings
from django.utils.translation import get_language


def demo(request):
    """Tell templates whether this is the demo, whose people and records are invented."""
    return {"site_is_demo": settings.SITE_DEMO}


def needs_words():
    """Return whether the scripts need a catalog: they hold their words in English."""
    return not (get_language() or "en").startswith("en")


def language(request):
    """Tell templates the language of the page, and whether the scripts need its words."""
    return {"language": (get_language() or "en")[:2], "scripts_need_words": needs_words()}
