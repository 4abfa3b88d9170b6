"""What staff look at in a group."""

import segno
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.safestring import mark_safe


def joining_path(group):
    """Return the path of the sign-up page with the code of ``group`` filled in."""
    return f"{reverse('people:sign_up')}?{urlencode({'code': group.code})}"


def picture_of_link(link):
    """Return ``link`` as an SVG picture that a phone's camera opens."""
    # A camera needs dark on light, whatever the page's colors are.
    svg = segno.make(link, error="m", micro=False).svg_inline(
        scale=5, border=3, light="#fff", dark="#000", omitsize=True, svgclass="link-picture"
    )
    return mark_safe(svg)  # noqa: S308  (made of squares alone)
