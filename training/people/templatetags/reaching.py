"""What staff who are held to harbors are told of how far a page reaches."""

from django import template

from training.deck.plain import listed

from .. import sight

register = template.Library()


@register.filter
def named_harbors(user):
    """Return the harbors that ``user``, who is held to some, looks after; "" for none."""
    harbors = sight.harbors_of(user)
    return listed(sorted(harbors)) if harbors else ""


@register.inclusion_tag("people/held_to.html", takes_context=True)
def held_to(context, own=False):
    """
    Say to staff held to harbors that the page has those alone; nothing to all others.

    With ``own`` the page has what is their own as well. Who has no harbor left is told why
    they see nothing, and whom to ask.
    """
    user = context["request"].user
    return {"held": user if user.is_held else None, "own": own}


@register.inclusion_tag("people/held_to.html", takes_context=True)
def no_harbor(context):
    """Tell staff who have no harbor left why nothing can be done here; nothing to all others."""
    user = context["request"].user
    return {"held": user if user.is_held and not named_harbors(user) else None}
