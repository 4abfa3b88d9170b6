"""A page's scripts, with what they import asked for in the same go."""

from django import template
from django.templatetags.static import static
from django.utils.html import format_html, format_html_join

from training.deck.scripts import imported

register = template.Library()


# What asks for a script that others import, and what runs one.
_NOW = (
    '<link rel="modulepreload" href="{}">',
    '<script type="module" src="{}"></script>',
)
_AFTER = (
    '<link rel="modulepreload" href="{}" fetchpriority="low">',
    '<script type="module" src="{}" async fetchpriority="low"></script>',
)


def _modules(names, elements):
    others = (each for each in imported(*names) if each not in names)
    parts = (
        format_html_join("", element, ((static(name),) for name in each))
        for element, each in zip(elements, (others, names), strict=True)
    )
    return format_html("{}{}", *parts)


@register.simple_tag
def scripts(*names):
    """Load the scripts ``names``, such as js/live.js, in that order, and at once their imports."""
    return _modules(names, _NOW)


@register.simple_tag
def scripts_after(*names):
    """
    Load the scripts ``names`` behind what the page shows, and hold up no other script.

    They may run before or after others and must not mind.
    """
    return _modules(names, _AFTER)
