"""Ways from a rule to where it is taught."""

from django import template

from .. import passages

register = template.Library()


@register.inclusion_tag("lessons/read_about.html", takes_context=True)
def read_about(context, key):
    """A way to the passage that teaches the requirement ``key``; nothing if there is none."""
    role = getattr(context.get("user"), "role", "")
    return {"url": passages.url_for(key, role), "title": passages.title_for(key, role)}
