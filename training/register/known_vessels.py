"""The register's vessels, for those who fill in a check sheet."""

from training.checks import known

from .models import Vessel


@known.vessels
def on_register(user):
    """
    Yield every vessel that still fishes, whatever harbors ``user`` looks after.

    Of each no more than what can be read on its hull and transom.
    """
    rows = Vessel.objects.filter(is_fishing=True).values_list("name", "harbor", "registration")
    return (known.KnownVessel(*row) for row in rows)
