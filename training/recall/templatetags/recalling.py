"""What short practice puts on pages of other parts of the site."""

import uuid

from django import template

from .. import mails, showing

register = template.Library()


@register.inclusion_tag("recall/comes_back.html", takes_context=True)
def comes_back(context):
    """Show what comes back to the person who is signed in, or offer to see what is known."""
    request = context["request"]
    return {"request": request, "offer": showing.offer(request.user), "key": uuid.uuid4()}


@register.inclusion_tag("recall/mail_choice.html", takes_context=True)
def mail_choice(context):
    """Show whether the person who is signed in gets mails when rules come back."""
    request = context["request"]
    return {"request": request, "wanted": mails.wants(request.user)}
