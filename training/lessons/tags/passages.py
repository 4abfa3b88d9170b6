"""The tag that marks where a rule is taught, so that other pages can lead to the very place."""

from django.utils.html import format_html_join
from django.utils.translation import gettext as _

from ..errors import TagError
from .grammar import inline


@inline("passage")
def passage(page, *keys):
    """The place where the lesson teaches the rules ``keys``; nothing of it is seen."""
    if not keys:
        raise TagError(_("say which rules the passage teaches"))
    for key in keys:
        if key not in page.teaches:
            raise TagError(
                _("“{key}” is not among the “rules” of the front matter").format(key=key)
            )
        if key in page.passages:
            raise TagError(_("there is a passage on “{key}” already").format(key=key))
        page.passages.append(key)
    return format_html_join(
        "", '<span class="passage" id="rule-{}"></span>', ((key,) for key in keys)
    )
