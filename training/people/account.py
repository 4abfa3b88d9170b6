"""The parts of the account page that rooms above put there."""

from enum import StrEnum

from django.utils.translation import gettext as _


class Spot(StrEnum):
    """Where on the account page there is room for one part."""

    ABOVE_NAME = "above_name"
    BELOW_NAME = "below_name"
    ABOVE_PASSWORD = "above_password"


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
