"""The parts of the account page, and of the sign-up page, that rooms above put there."""

from enum import StrEnum

from django.utils.translation import gettext as _


class Spot(StrEnum):
    """Where there is room for one part: on the account page, or above the sign-up form."""

    ABOVE_NAME = "above_name"
    BELOW_NAME = "below_name"
    ABOVE_PASSWORD = "above_password"
    ABOVE_SIGN_UP = "above_sign_up"


_parts = {}


def add_part(spot, template):
    """Show ``template``, which decides itself for whom it is, at ``spot``."""
    if _parts.setdefault(spot, template) != template:
        raise ValueError(
            _("{parts} is {value} already.").format(parts=_parts[spot], value=spot.value)
        )


def parts():
    """Return the templates by Spot."""
    return dict(_parts)
