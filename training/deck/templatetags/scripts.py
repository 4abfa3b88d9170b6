"""A page's scripts, with what they import asked for in the same go."""

from django import template
from django.templatetags.static import static
from django.utils.html import format_html, format_html_join
from django.utils.safestring import mark_safe

from training.deck.scripts import imported

register = template.Library()


def _modules(names, look):
    others = [each for each in imported(*names) if each not in names]
    return format_html(
        "{}{}",
        format_html_join(
            "", '<link rel="modulepreload" href="{}"{}>', ((static(n), look) for n in others)
        ),
        format_html_join(
            "", '<script type="module" src="{}"{}></script>', ((static(n), look) for n in names)
        ),
    )


@register.simple_tag
def scripts(*names):
    """Load the scripts ``names``, such as js/live.js, in that order, and at once their imports."""
    return _modules(names, "")


@register.simple_tag
def scripts_after(*names):
    """
    Load the scripts ``names`` behind what the page shows, and hold up no other script.

    They may run before or after others and must not mind.
    """
    return _modules(names, mark_safe(' async fetchpriority="low"'))
