"""What a visitor did here, for the templates of rooms below."""

from django import template

from ..kept import Kept

register = template.Library()


@register.simple_tag(takes_context=True)
def kept_here(context):
    """Return what the session of the request keeps, a Kept."""
    return Kept(context["request"].session)
