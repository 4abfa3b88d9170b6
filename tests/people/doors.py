"""Every address of the site and the view behind it, read off the URL configuration."""

from django.urls import URLPattern, get_resolver

# Django's admin keeps its own doors: see ``training.people.backends``.
NOT_OURS = {"admin"}


def views(resolver=None, spaces=()):
    """Yield (``namespace:name`` of an address, its view), of the whole site."""
    for each in (resolver or get_resolver()).url_patterns:
        if isinstance(each, URLPattern):
            yield ":".join([*spaces, each.name or str(each.pattern)]), each.callback
        elif each.namespace not in NOT_OURS:
            yield from views(each, [*spaces, each.namespace] if each.namespace else spaces)
