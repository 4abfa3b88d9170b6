"""Where pages of other parts of the site lead on to in the course."""

from django import template

from ..progress import progress_for

register = template.Library()


@register.simple_tag(takes_context=True)
def step_from(context, lesson):
    """Return the NextStep of the person who is signed in, at ``lesson`` or at None."""
    progress = progress_for(context["request"].user)
    return progress.step_from(lesson.slug) if lesson else progress.next_step
