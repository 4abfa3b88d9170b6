"""
The second thing by which a person shows who they are: a code from their phone.

``when_it_matters`` stands below the door of a view for which having signed in is not enough.
``devices`` keeps the phones and spare codes, ``entering`` signs people in, ``proof`` remembers
in the session when somebody last showed who they are.
"""

from .devices import has
from .matters import when_it_matters

__all__ = ["has", "when_it_matters"]
