"""Drawings as markup for pages."""

from django.utils.safestring import mark_safe

from rigs.drawing import svg


def drawn(scene, identifier):
    """Return ``scene`` as markup for a page; the renderer escapes every word in it."""
    return mark_safe(svg.render(scene, identifier))
